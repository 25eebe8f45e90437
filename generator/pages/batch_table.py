"""Batches as a table: what went in, what came out, what it cost where that may be seen, whether it was changed later."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Any

from generator.compute.results import Results
from generator.language import say
from generator.pages.history import history_link, late_days
from generator.pages.parts import Row, Show, acid_value_show, batch_link, figures, plain, table_view, volumes
from generator.pages.view import Cell, Head, TableView
from generator.pages.words import Shown, count, number, sort_key
from generator.tables import BATCHES


def table(
    rows: Sequence[Row],
    view: Shown,
    results: Results,
    *,
    newest_first: bool,
    id_: str = "all-batches",
    most: int | None = None,
) -> TableView:
    """The batches as a table; the cost column only where costs may be seen."""
    costs = {row["batch"]: row for row in results.rows("costs")}
    listed: list[dict[str, Any]] = [
        {**row, "cost": costs.get(row["batch"], {}).get("with_media_per_l")} for row in rows
    ]
    chosen = listed[::-1] if newest_first else listed
    shows = [
        Show("batch", say("Batch"), plain("batch"), href=lambda row: batch_link(row["batch"])),
        Show("date", say("Date"), plain("date")),
        Show("oil_l", say("Oil"), volumes(view, "oil_l"), view.display["volume"]),
        acid_value_show(),
        Show("fuel_l", say("Fuel"), volumes(view, "fuel_l"), view.display["volume"]),
        Show("yield_volume_pct", say("Yield"), figures("yield_volume_pct", 1), say("% by volume")),
        Show("soap_feed_mg_per_kg", say("Soap, feed"), lambda row: _short_soap(row, "feed"), "mg/kg"),
        Show(
            "soap_product_mg_per_kg", say("Soap, product"), lambda row: _short_soap(row, "product"), "mg/kg"
        ),
    ]
    view_of = table_view(
        BATCHES,
        id_,
        say("Batches") if most is None else _last(most),
        chosen[:most],
        shows,
        filterable=most is None,
    )
    if most is None:
        view_of = replace(view_of, comparable=len(rows) > 1)
    if costs:
        view_of = _with_cost(view_of, chosen[:most], view)
    return _with_late(view_of, chosen[:most], late_days(results))


def _last(most: int) -> str:
    return (
        say("The last {batch}", batch=count(most, "batch", "batches")) if most > 1 else say("The only batch")
    )


def _with_cost(base: TableView, rows: Sequence[Mapping[str, Any]], view: Shown) -> TableView:

    head = Head(
        say("Cost with media"),
        view.per_unit,
        say("cash, media and overheads per volume of finished fuel"),
        True,
        "cost-per-litre",
    )
    cells = [
        Cell(
            number(view.per_volume_number(row["cost"]), 2) if row["cost"] is not None else "–",
            sort_key(row["cost"]),
        )
        for row in rows
    ]
    return _with(base, head, cells)


def _with_late(base: TableView, rows: Sequence[Row], days: Mapping[str, str]) -> TableView:
    """The day of the last late change, with the way to it; no column where nothing was changed late."""
    if not any(row["batch"] in days for row in rows):
        return base
    head = Head(
        say("Changed later"), meaning=say("the last day on which a figure that had stood was changed")
    )
    cells = [_late(row["batch"], days.get(row["batch"], "")) for row in rows]
    return _with(base, head, cells)


def _late(batch: str, day: str) -> Cell:
    return Cell(day, day, history_link(batch)) if day else Cell("–")


def _with(base: TableView, head: Head, cells: Sequence[Cell]) -> TableView:
    joined = tuple((*row, cell) for row, cell in zip(base.rows, cells, strict=True))
    return replace(base, heads=(*base.heads, head), rows=joined)


def _short_soap(row: Row, point: str) -> str:
    value, detected = row[f"soap_{point}_mg_per_kg"], row[f"soap_{point}_detected"]
    if detected is None:
        return "–"
    if detected not in ("yes", "no"):
        low, high = row[f"soap_{point}_low_mg_per_kg"], row[f"soap_{point}_high_mg_per_kg"]
        return (
            f"> {number(low)}"
            if detected == "at least"
            else say("{low} to {high}", low=number(low), high=number(high))
        )
    return f"< {number(value, 1 if value < 10 else 0)}" if detected == "no" else number(value)
