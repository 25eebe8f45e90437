"""Oil lots compared: what was paid for each, and what became of it, the cheapest first.

They are ranked by what an oil, its acid and its yield decide. What a single batch had to pay, as a laboratory's bill, falls on the lot
that it meets, and media and overheads are charged by litres whatever the oil: both are shown, and rank none.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from functools import partial

from generator.language import say
from generator.pages.parts import (
    Row,
    Show,
    acid_value_show,
    figures,
    lot_link,
    plain,
    prices,
    table_view,
)
from generator.pages.view import Chart, TableView
from generator.pages.words import Shown, count, shown_change
from generator.tables import LOTS

CHARTED = 60  # the newest lots


def compared_chart(lots: Sequence[Row], view: Shown) -> Chart | None:
    """What was paid for each oil lot, and by what it is compared, the cheapest first; nothing where none can be."""
    rows = _ranked(lots)
    if not rows:
        return None
    values = tuple(
        {
            "lot": row["lot"],
            "date": row["received"],
            "paid_per_l": view.per_volume_number(row["unit_cost"]) if row["unit"] == "L" else None,
            "compared_per_l": view.per_volume_number(row["compared_per_l"]),
            "fuel_cost_per_l": view.per_volume_number(row["fuel_cost_per_l"]),
        }
        for row in rows
    )
    sentence = say(
        "{lot}, the cheapest first, by what oil, methanol, catalyst and energy of a {volume_word} of their fuel cost: that is what an oil, its acid and its yield decide. Single bills, as a laboratory's, and media and overheads fall on a batch whatever the oil, so they rank no lot; the table of ranks below has both costs.",
        lot=count(len(rows), "oil lot", "oil lots"),
        volume_word=view.volume_word,
    )
    return Chart(
        "oil-compared",
        say("Oil lots compared"),
        sentence,
        "oil_compared",
        values,
        table_view(LOTS, "oil-compared-table", say("Oil lots compared"), rows, _drawn(view)),
        {"currency": view.per_unit},
    )


def _drawn(view: Shown) -> list[Show]:
    """What the chart shows of a lot."""
    return [
        Show("rank", say("Rank"), figures("rank")),
        Show("lot", say("Lot"), plain("lot"), href=lambda row: lot_link(row["lot"])),
        Show(
            "unit_cost",
            say("Paid for the oil"),
            lambda row: prices(view, "unit_cost", 2)(row) if row["unit"] == "L" else "–",
            view.per_unit,
        ),
        Show("compared_per_l", say("Compared cost"), prices(view, "compared_per_l", 2), view.per_unit),
    ]


def compared_tables(lots: Sequence[Row], view: Shown) -> list[TableView]:
    """The same lots with both costs; nothing where none can be compared."""
    rows = _ranked(lots)
    if not rows:
        return []
    *drawn, compared = _drawn(view)
    single = any(row["single_per_l"] for row in rows)
    found = table_view(
        LOTS,
        "lots-compared",
        say("Oil lots, ranked"),
        rows,
        [
            *drawn,
            acid_value_show(),
            Show("yield_volume_pct", say("Yield"), figures("yield_volume_pct", 1), say("% by volume")),
            Show("batches", say("Batches"), figures("batches")),
            compared,
            *(
                [Show("single_per_l", say("Single bills"), partial(_single, view), view.per_unit)]
                if single
                else []
            ),
            Show(
                "fuel_cost_per_l", say("Fuel with media"), prices(view, "fuel_cost_per_l", 2), view.per_unit
            ),
        ],
    )
    told = say(
        "The compared cost ranks: oil, methanol, catalyst and energy of the batches with the lot, by its share of their oil. A single bill, as a laboratory's, makes no oil dear, and media are charged by litres; both are in the cost with media, with overheads. What other oil was in these batches is in both."
    )
    return [replace(found, told=told)]


def _single(view: Shown, row: Row) -> str:
    return shown_change(view.per_volume_number(row["single_per_l"]), 2) if row["single_per_l"] else "–"


def _ranked(lots: Sequence[Row]) -> list[Row]:
    """The newest lots that have a rank, by it."""
    found = [row for row in lots if row["kind"] == "oil" and row["rank"] is not None][-CHARTED:]
    return sorted(found, key=lambda row: (row["rank"], row["lot"]))
