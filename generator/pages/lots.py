"""Lots: the stock as a table, and the ways and returns of lots."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace

from generator.compute.results import Results
from generator.language import say
from generator.pages.parts import (
    Row,
    Show,
    acid_value_show,
    figures,
    lot_link,
    materials,
    plain,
    sizes,
    table_view,
    trace_link,
    unit_costs,
)
from generator.pages.view import TableView
from generator.pages.words import Shown, shown_change
from generator.tables import LOTS

MORE, LESS = "+", "\N{MINUS SIGN}"


def lots_table(lots: Sequence[Row], view: Shown, results: Results) -> TableView:
    """All lots, the newest first: all that came of one is lost, drawn, poured, went back, is missing or is left.

    What was drawn of an oil leads to the lots of tanks that hold it. What no lot has is no column.
    """
    traced = {row["oil_lot"] for row in results.passing("traces")}

    def seldom(column: str, label: str, text: Callable[[Row], str], unit: str = "") -> list[Show]:
        return [Show(column, label, text, unit)] if any(row[column] for row in lots) else []

    return table_view(
        LOTS,
        "lots-table",
        say("Lots"),
        list(lots)[::-1],
        [
            Show(
                "lot",
                say("Lot"),
                plain("lot"),
                href=lambda row: lot_link(row["lot"]),
                anchor=lambda row: f"lot-{row['lot']}",
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
            *seldom("poured", say("Poured"), sizes(view, "poured")),
            *seldom("returned", say("Went back"), sizes(view, "returned")),
            *seldom("counted_difference", say("By counts"), _counted(view)),
            Show("left", say("Left"), sizes(view, "left")),
            Show("unit_cost", say("Cost with freight"), unit_costs(view, "unit_cost")),
            *seldom("rate_days", say("Age of rate"), figures("rate_days"), "d"),
            acid_value_show(),
        ],
        filterable=True,
    )


def _counted(view: Shown) -> Callable[[Row], str]:
    """What counts found more, or less, than the book; nothing where none did."""

    def text(row: Row) -> str:
        found = row["counted_difference"]
        if not found:
            return "–"
        size = view.volume(abs(found)) if row["unit"] == "L" else view.mass(abs(found))
        return f"{MORE if found > 0 else LESS}{size}"

    return text


def ways_table(lots: Sequence[Row], view: Shown) -> list[TableView]:
    """The lots that were fetched or went back in part; nothing where there are none."""
    rows = [row for row in lots if any(row[name] for name in ("fetched_km", "fetched_h", "returned"))]
    if not rows:
        return []
    shows = [
        Show("lot", say("Lot"), plain("lot"), href=lambda row: lot_link(row["lot"])),
        Show("received", say("Received"), plain("received")),
        Show("fetched_km", say("Fetched"), figures("fetched_km"), "km"),
        Show("driving", say("Driving"), figures("driving", view.money_digits()), view.currency),
        Show("fetched_h", say("Hours"), figures("fetched_h", 1), "h"),
        Show("returned", say("Went back"), sizes(view, "returned")),
        Show("returned_cost", say("Its cost"), figures("returned_cost", view.money_digits()), view.currency),
        Show("refunded", say("Paid back"), figures("refunded", view.money_digits()), view.currency),
        Show(
            "returned_gain",
            say("Gained by it"),
            lambda row: shown_change(row["returned_gain"], view.money_digits()),
            view.currency,
        ),
    ]
    told = say(
        "Kilometres are in the cost of the lot, hours in the cost with labour of its batches. What went back leaves at what its lot cost; what was paid back less that is gained, below zero lost, and in no batch's cost."
    )
    caption = say("Lots that were fetched or went back in part")
    return [replace(table_view(LOTS, "ways-table", caption, rows[::-1], shows), told=told)]
