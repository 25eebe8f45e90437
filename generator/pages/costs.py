"""Costs: what a litre cost, by part and through time."""

from __future__ import annotations

from collections.abc import Sequence
from statistics import fmean
from typing import Any

from generator.compute.costs import PARTS
from generator.compute.results import Results
from generator.pages.batches import CHARTED
from generator.pages.parts import (
    Row,
    Show,
    batch_link,
    charge_link,
    figures,
    newest,
    plain,
    prices,
    table_view,
    volumes,
)
from generator.pages.view import Chart, Figure, Page, TableView
from generator.pages.words import Shown, count, listed, shown
from generator.tables import CHARGES, COSTS

PERIOD = 10


def page(results: Results) -> Page:
    """The page of costs."""
    rows, view = results.rows("costs"), shown(results)
    return Page(
        path="costs.html",
        title="Costs",
        template="costs.html",
        section="costs",
        finding=finding(rows, view),
        content={
            "figures": {
                f"Mean of the last {count(min(PERIOD, len(known(rows))), 'batch', 'batches')} whose cost is known": _means(
                    rows, view, results
                )
            },
            "charts": [parts_chart(rows, view, results)],
            "tables": [_table(rows, view), *_corrections(results, view)],
            "intro": f"Per {view.volume_word} of finished fuel {view.basis}, from the lots each batch names. Glycerol is credited with nothing.",
            "cautions": [],
        },
    )


def _corrections(results: Results, view: Shown) -> list[TableView]:
    """What unloading a charge corrected; what its batches were charged before stays as it was booked."""
    unloaded = [row for row in results.rows("charges") if row["cost_correction"] is not None]
    if not unloaded:
        return []
    shows = [
        Show("unloaded", "Unloaded", plain("unloaded")),
        Show("charge", "Charge", plain("charge"), href=lambda row: charge_link(row["charge"])),
        Show("cost", "Medium", figures("cost", 2), view.currency),
        Show("supplies_cost", "Rinses", figures("supplies_cost", 2), view.currency),
        Show("cost_booked", "Booked to its batches", figures("cost_booked", 2), view.currency),
        Show("cost_correction", "Correction", figures("cost_correction", 2), view.currency),
    ]
    total = sum(row["cost_correction"] for row in unloaded)
    caption = f"Corrections of media at unloading, {view.money(total)} in all, in no batch's cost"
    newest_first = sorted(unloaded, key=lambda row: (row["unloaded"], row["charge"]), reverse=True)
    return [table_view(CHARGES, "corrections-table", caption, newest_first, shows)]


def known(rows: Sequence[Row]) -> list[Row]:
    """Rows whose cost with media is known."""
    return [row for row in rows if row["with_media_per_l"] is not None]


def finding(rows: Sequence[Row], view: Shown) -> str:
    """The last ten against the ten before, and the part that moved most."""
    costed = known(rows)
    if not costed:
        return "No batch has all that a cost per litre needs; each batch's page says what is lacking."
    recent, before = costed[-PERIOD:], costed[-2 * PERIOD : -PERIOD]
    now = fmean(row["with_media_per_l"] for row in recent)
    text = f"With media, a {view.volume_word} cost {view.per_volume(now, 2)} in the last {count(len(recent), 'batch', 'batches')} whose cost is known"
    if len(before) < PERIOD:
        return f"{text}; there are too few before them to compare."
    moved = {
        part: fmean(row[f"{part}_per_l"] for row in recent) - fmean(row[f"{part}_per_l"] for row in before)
        for part in PARTS
        if part != "labour"
    }
    change = sum(moved.values())
    first, second = sorted(moved, key=lambda name: -abs(moved[name]))[:2]
    parts = [first, second] if abs(moved[second]) > 0.5 * abs(moved[first]) else [first]
    told = listed([f"{part} ({view.per_volume(abs(moved[part]), 2)} {_way(moved[part])})" for part in parts])
    return f"{text}, {view.per_volume(abs(change), 2)} {_way(change)} than in the ten before; {'what moved most is' if len(parts) == 1 else 'what moved most are'} {told}."


def _way(change: float) -> str:
    return "more" if change > 0 else "less"


def _means(rows: Sequence[Row], view: Shown, results: Results) -> list[Figure]:
    recent = known(rows)[-PERIOD:]
    if not recent:
        return []
    out = [
        Figure(
            part.capitalize(),
            view.per_volume(fmean(row[f"{part}_per_l"] for row in recent)),
            "",
            "cost-per-litre",
        )
        for part in PARTS
        if part != "labour"
    ]
    out.append(
        Figure(
            "With media",
            view.per_volume(fmean(row["with_media_per_l"] for row in recent)),
            "all of the above",
            "cost-per-litre",
        )
    )
    worked = [row["with_labour_per_l"] for row in recent if row["with_labour_per_l"] is not None]
    if worked:
        out.append(
            Figure(
                "With labour",
                view.per_volume(fmean(worked)),
                f"{count(len(worked), 'batch', 'batches')} with hours written",
                "cost-per-litre",
            )
        )
    diesel = [row["per_diesel_l"] for row in recent]
    out.append(
        Figure(
            f"Per {view.volume_word} of diesel equivalent",
            view.per_volume(fmean(diesel)),
            "with media, by net heat",
            "diesel-equivalent",
        )
    )
    pump = recent[-1]["diesel_per_l"]
    out.append(
        Figure(
            "Diesel at the pump",
            view.per_volume(pump),
            "last price written before the batch",
            "",
            "" if pump is not None else "needs prices/ with a series of diesel",
        )
    )
    if results.target_per_l is not None:
        out.append(Figure("Target", view.per_volume(results.target_per_l), "set in logbook.yaml"))
    return out


def parts_chart(rows: Sequence[Row], view: Shown, results: Results) -> Chart:
    """Cost per litre by part, batch by batch; a batch without finished fuel has no litre yet."""
    recent = [row for row in rows if row["fuel_l"]][-CHARTED:]
    values: list[dict[str, Any]] = [
        {
            "date": row["date"],
            "batch": row["batch"],
            "part": part,
            "per_l": view.per_volume_number(row[f"{part}_per_l"]),
        }
        for row in recent
        for part in PARTS
    ]
    gaps = {part: sum(row[f"{part}_per_l"] is None for row in recent) for part in PARTS}
    lacking = [f"{part} in {number}" for part, number in gaps.items() if number]
    sentence = (
        f"Cost per {view.volume_word} of finished fuel by part, {count(len(recent), 'batch', 'batches')}."
    )
    if lacking:
        sentence += f" Unknown, and left out of the bars: {listed(lacking)}."
    if results.target_per_l is not None:
        sentence += " The target is held against the cost with media; labour stands above it."
    params = {"currency": view.per_unit, "target": view.per_volume_number(results.target_per_l)}
    shows = [
        Show("batch", "Batch", plain("batch"), href=lambda row: batch_link(row["batch"])),
        Show("date", "Date", plain("date")),
    ]
    shows += [
        Show(
            f"{part}_per_l",
            part.capitalize(),
            prices(view, f"{part}_per_l", 3),
            view.per_unit,
        )
        for part in PARTS
    ]
    chart_table = table_view(COSTS, "parts-table", "Cost by part", recent, shows)
    return Chart("cost-parts", "Cost by part", sentence, "cost_parts", tuple(values), chart_table, params)


def _table(rows: Sequence[Row], view: Shown) -> Any:
    caption, newest_first = newest("Cost by tier", rows, "data/costs.csv")
    return table_view(
        COSTS,
        "costs-table",
        caption,
        newest_first,
        [
            Show("batch", "Batch", plain("batch"), href=lambda row: batch_link(row["batch"])),
            Show("date", "Date", plain("date")),
            Show(
                "fuel_l",
                "Fuel",
                volumes(view, "fuel_l"),
                view.display["volume"],
            ),
            Show(
                "cash_per_l",
                "Cash",
                prices(view, "cash_per_l", 3),
                view.per_unit,
            ),
            Show(
                "with_media_per_l",
                "With media",
                prices(view, "with_media_per_l", 3),
                view.per_unit,
            ),
            Show(
                "with_labour_per_l",
                "With labour",
                prices(view, "with_labour_per_l", 3),
                view.per_unit,
            ),
            Show(
                "known_per_l",
                "Known parts",
                prices(view, "known_per_l", 3),
                view.per_unit,
            ),
            Show(
                "per_diesel_l",
                "Diesel equivalent",
                figures("per_diesel_l", 3),
                f"{view.currency}/L",
            ),
            Show("media_estimated", "Media estimated", plain("media_estimated")),
        ],
        filterable=True,
    )
