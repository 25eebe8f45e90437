"""Lots: the stock as a table, what each oil lot cost and turned out to cost, acidity against yield."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from generator.compute.results import Results
from generator.language import say
from generator.pages.parts import (
    Row,
    Show,
    acid_value_show,
    batch_link,
    figures,
    lot_link,
    materials,
    plain,
    prices,
    sizes,
    table_view,
    trace_link,
    unit_costs,
    worded,
)
from generator.pages.view import Chart, TableView
from generator.pages.words import Shown, count
from generator.tables import BATCHES, LOTS

CHARTED = 60


def price_chart(lots: Sequence[Row], view: Shown) -> Chart | None:
    """What was paid for each oil lot, and what a litre of fuel with it cost."""
    rows = [
        row
        for row in lots
        if row["kind"] == "oil" and not row["vat"] and row["unit"] == "L" and row["unit_cost"] is not None
    ][-CHARTED:]
    if not rows:
        return None
    values = tuple(
        {
            "lot": row["lot"],
            "date": row["received"],
            "paid_per_l": view.per_volume_number(row["unit_cost"]),
            "fuel_cost_per_l": view.per_volume_number(row["fuel_cost_per_l"]),
        }
        for row in rows
    )
    sentence = say(
        "{lot}: what a usable {volume_word} of the oil cost with freight, and what a {volume_word} of the fuel it went into cost with media.",
        lot=count(len(rows), "oil lot", "oil lots"),
        volume_word=view.volume_word,
    )
    return Chart(
        "oil-price",
        say("Oil lots: paid, and what became of it"),
        sentence,
        "oil_price",
        values,
        lots_table(rows, view, None, "oil-price-table"),
        {"currency": view.per_unit},
    )


def acid_chart(results: Results, view: Shown) -> Chart | None:
    """Acidity of the oil against the yield by mass."""
    rows = [
        row
        for row in results.rows("batches")
        if row["acid_value_mg_koh_per_g"] is not None and row["yield_mass_pct"] is not None
    ][-2 * CHARTED :]
    if len(rows) < 3:
        return None
    values: list[dict[str, Any]] = [
        {
            "batch": row["batch"],
            "acid_value": row["acid_value_mg_koh_per_g"],
            "yield_mass_pct": row["yield_mass_pct"],
            "wet": row["emulsion"] == "yes",
        }
        for row in rows
    ]
    wet = sum(bool(value["wet"]) for value in values)
    sentence = say(
        "{batch} with a titration and a yield; {wet} had an emulsion. Fuel before the columns by mass of oil, so fresh beds do not blur it.",
        batch=count(len(rows), "batch", "batches"),
        wet=wet or say("none"),
    )
    chart_table = table_view(
        BATCHES,
        "acid-yield-table",
        say("Acidity and yield"),
        rows,
        [
            Show("batch", say("Batch"), plain("batch"), href=lambda row: batch_link(row["batch"])),
            Show(
                "acid_value_mg_koh_per_g",
                say("Acid value"),
                figures("acid_value_mg_koh_per_g", 2),
                "mg KOH/g",
            ),
            Show("yield_mass_pct", say("Yield by mass"), figures("yield_mass_pct", 1), "%"),
            Show("emulsion", say("Emulsion"), worded("emulsion")),
        ],
    )
    return Chart("acid-yield", say("Acidity and yield"), sentence, "acid_yield", tuple(values), chart_table)


def lots_table(
    lots: Sequence[Row], view: Shown, results: Results | None, id_: str = "lots-table"
) -> TableView:
    """All lots, the newest first; what was drawn of an oil leads to the lots of tanks that hold it."""
    traced = {row["oil_lot"] for row in results.rows("traces")} if results is not None else set()
    anchored = id_ == "lots-table"
    rated = any(row["rate_days"] is not None for row in lots)
    return table_view(
        LOTS,
        id_,
        say("Lots"),
        list(lots)[::-1],
        [
            Show(
                "lot",
                say("Lot"),
                plain("lot"),
                href=lambda row: lot_link(row["lot"]),
                anchor=(lambda row: f"lot-{row['lot']}") if anchored else None,
            ),
            Show("material", say("Material"), materials(view, "material")),
            Show("received", say("Received"), plain("received")),
            Show("quantity", say("Came in"), sizes(view, "quantity")),
            Show("lost", say("Lost"), sizes(view, "lost")),
            Show(
                "drawn",
                say("Drawn"),
                sizes(view, "drawn"),
                href=lambda row: trace_link(row["lot"]) if row["lot"] in traced else "",
            ),
            Show("left", say("Left"), sizes(view, "left")),
            Show("unit_cost", say("Cost with freight"), unit_costs(view, "unit_cost")),
            *([Show("rate_days", say("Age of rate"), figures("rate_days"), "d")] if rated else []),
            acid_value_show(),
            Show("yield_volume_pct", say("Yield"), figures("yield_volume_pct", 1), say("% by volume")),
            Show(
                "fuel_cost_per_l",
                say("Fuel with media"),
                prices(view, "fuel_cost_per_l", 2),
                view.per_unit,
            ),
        ],
        filterable=anchored,
    )


def ways_table(lots: Sequence[Row], view: Shown) -> list[TableView]:
    """The lots that were fetched, were poured into a vat or went back in part; nothing where there are none."""
    rows = [
        row for row in lots if any(row[name] for name in ("fetched_km", "fetched_h", "poured", "returned"))
    ]
    if not rows:
        return []
    shows = [
        Show("lot", say("Lot"), plain("lot"), href=lambda row: lot_link(row["lot"])),
        Show("received", say("Received"), plain("received")),
        Show("fetched_km", say("Fetched"), figures("fetched_km"), "km"),
        Show("driving", say("Driving"), figures("driving", view.money_digits()), view.currency),
        Show("fetched_h", say("Hours"), figures("fetched_h", 1), "h"),
        Show("poured", say("Poured"), sizes(view, "poured")),
        Show("returned", say("Went back"), sizes(view, "returned")),
        Show("refunded", say("Paid back"), figures("refunded", view.money_digits()), view.currency),
    ]
    caption = say(
        "Lots that were fetched, poured into a vat or went back in part: kilometres are in the cost of the lot, hours in the cost with labour of its batches"
    )
    return [table_view(LOTS, "ways-table", caption, rows[::-1], shows)]
