"""Costs: what a litre cost, by part and through time."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Any

from generator.compute.bridge import PERIOD
from generator.compute.costs import PARTS, written_parts
from generator.compute.results import Results
from generator.language import said, say
from generator.pages.batches import CHARTED
from generator.pages.bridges import change_told
from generator.pages.bridges import chart as bridge_chart
from generator.pages.cost_means import known, lost_per_l, means, per_l
from generator.pages.cost_names import beside_last
from generator.pages.inventory import inventory_tables
from generator.pages.parts import (
    Row,
    Show,
    batch_link,
    charge_link,
    figures,
    grouped,
    newest,
    plain,
    prices,
    table_view,
    volumes,
    worded,
)
from generator.pages.places import placed
from generator.pages.view import Chart, Page, TableView
from generator.pages.words import (
    Shown,
    capital,
    count,
    listed,
    shown,
)
from generator.tables import CHARGES, COSTS, OVERHEADS


def page(results: Results) -> Page:
    """The page of costs."""
    rows, view = results.rows("costs"), shown(results)
    ways = grouped(results.rows("bridge"), "bridge")
    bridges = [bridge_chart(ways.get(name, []), view) for name in ("last", "year")]
    return placed(
        "costs",
        finding=finding(rows, ways.get("last", []), view),
        content={
            "figures": {
                say(
                    "The last {batch} whose cost is known",
                    batch=count(min(PERIOD, len(known(rows))), "batch", "batches"),
                ): means(rows, view, results)
            },
            "charts": [
                *([parts_chart(rows, view, results)] if rows else []),
                *(chart for chart in bridges if chart is not None),
            ],
            "tables": [
                _table(rows, view),
                *_failed(rows, view),
                *_overheads(results.rows("overheads"), view),
                *inventory_tables(results.rows("inventory"), view),
                *_corrections(results, view),
            ],
            "intro": say(
                "Per {volume_word} of finished fuel {basis}, from the lots each batch names or by the method chosen for their material. Glycerol is credited with nothing unless a batch says so.",
                volume_word=view.volume_word,
                basis=view.basis,
            ),
            "cautions": [],
        },
    )


def _overheads(rows: Sequence[Row], view: Shown) -> list[TableView]:
    """What all fuel bears; nothing where none is written."""
    if not rows:
        return []
    litres = view.display["volume"]
    shows = [
        Show("overhead", say("Overhead"), plain("overhead")),
        Show("since", say("From"), plain("since")),
        Show("until", say("Until"), plain("until")),
        Show("cost", say("Paid"), figures("cost", view.money_digits()), view.currency),
        Show("over_l", say("Spread over"), volumes(view, "over_l"), litres),
        Show("per_l", say("A unit"), prices(view, "per_l", 3), view.per_unit),
        Show("borne_l", say("Borne by"), volumes(view, "borne_l"), litres),
        Show("borne", say("Borne"), figures("borne", view.money_digits()), view.currency),
        Show("left", say("Not borne"), figures("left", view.money_digits()), view.currency),
    ]
    caption = say("Overheads: every unit of finished fuel bears the same, from the first day on")
    return [table_view(OVERHEADS, "overheads-table", caption, rows, shows)]


def _corrections(results: Results, view: Shown) -> list[TableView]:
    """What unloading a charge corrected; what its batches were charged before stays as it was booked."""
    unloaded = [row for row in results.rows("charges") if row["cost_correction"] is not None]
    if not unloaded:
        return []
    shows = [
        Show("unloaded", say("Unloaded"), plain("unloaded")),
        Show("charge", say("Charge"), plain("charge"), href=lambda row: charge_link(row["charge"])),
        Show("cost", say("Medium"), figures("cost", view.money_digits()), view.currency),
        Show("supplies_cost", say("Rinses"), figures("supplies_cost", view.money_digits()), view.currency),
        Show(
            "cost_booked",
            say("Booked to its batches"),
            figures("cost_booked", view.money_digits()),
            view.currency,
        ),
        Show(
            "cost_correction",
            say("Correction"),
            figures("cost_correction", view.money_digits()),
            view.currency,
        ),
    ]
    total = sum(row["cost_correction"] for row in unloaded)
    caption = say(
        "Corrections of media at unloading, {total} in all, in no batch's cost", total=view.money(total)
    )
    newest_first = sorted(unloaded, key=lambda row: (row["unloaded"], row["charge"]), reverse=True)
    return [table_view(CHARGES, "corrections-table", caption, newest_first, shows)]


def finding(rows: Sequence[Row], bridge: Sequence[Row], view: Shown) -> str:
    """The last ten, and what moved them away from the ten before, where more than their scatter did."""
    costed = known(rows)
    if not rows:
        return say("No batch is written yet.")
    if not costed:
        return say("No batch has all that a cost per litre needs; each batch's page says what is lacking.")
    recent = costed[-PERIOD:]
    now = per_l(recent, "with_media_per_l")
    text = say(
        "With media, a {volume_word} cost {now} in the last {batch} whose cost is known",
        volume_word=view.volume_word,
        now=view.per_volume(now, 2),
        batch=count(len(recent), "batch", "batches"),
    )
    lost = lost_per_l(rows)
    if lost > 0:
        text += say(
            ", {lost} more with what batches without fuel cost in that time", lost=view.per_volume(lost, 2)
        )
    return f"{text}{change_told(bridge, view)}."


def _failed(rows: Sequence[Row], view: Shown) -> list[TableView]:
    """The batches that gave no fuel, and what they cost; nothing where every batch gave some."""
    failed = [row for row in rows if row["failed"]]
    if not failed:
        return []
    shows = [
        Show("batch", say("Batch"), plain("batch"), href=lambda row: batch_link(row["batch"])),
        Show("date", say("Date"), plain("date")),
        *(
            Show(part, capital(said(part)), figures(part, view.money_digits()), view.currency)
            for part in PARTS
            if part not in ("overheads", "labour")
        ),
        Show(
            "known_cost", say("All that is known"), figures("known_cost", view.money_digits()), view.currency
        ),
        Show("missing", say("Missing of it"), worded("missing")),
    ]
    found = table_view(COSTS, "failed-table", say("Batches without fuel"), failed[::-1], shows)
    told = say(
        "No litre can bear what these cost, so it stands in no batch's cost per {volume}. It is borne by the fuel of the period it falls into, beside the means and in the changes by part.",
        volume=view.volume_word,
    )
    return [replace(found, told=told)]


def parts_chart(rows: Sequence[Row], view: Shown, results: Results) -> Chart:
    """Cost per litre by part, batch by batch; a batch without finished fuel has no litre yet."""
    recent = [row for row in rows if row["fuel_l"]][-CHARTED:]
    parts = written_parts(recent)
    values: list[dict[str, Any]] = [
        {
            "date": row["date"],
            "batch": row["batch"],
            "part": said(part),
            "per_l": view.per_volume_number(row[f"{part}_per_l"]),
        }
        for row in recent
        for part in parts
    ]
    gaps = {part: sum(row[f"{part}_per_l"] is None for row in recent) for part in parts}
    lacking = [say("{part} in {gap}", part=said(part), gap=gap) for part, gap in gaps.items() if gap]
    sentence = say(
        "Cost per {volume_word} of finished fuel by part, {batch}.",
        volume_word=view.volume_word,
        batch=count(len(recent), "batch", "batches"),
    )
    if lacking:
        sentence += say(" Unknown, and left out of the bars: {lacking}.", lacking=listed(lacking))
    if results.target_per_l is not None:
        sentence += say(" The target is held against the cost with media; labour stands above it.")
    params = {
        "currency": view.per_unit,
        "target": view.per_volume_number(results.target_per_l),
        "names": beside_last(values),
    }
    shows = [
        Show("batch", say("Batch"), plain("batch"), href=lambda row: batch_link(row["batch"])),
        Show("date", say("Date"), plain("date")),
    ]
    shows += [
        Show(
            f"{part}_per_l",
            capital(said(part)),
            prices(view, f"{part}_per_l", 3),
            view.per_unit,
        )
        for part in parts
    ]
    chart_table = table_view(COSTS, "parts-table", say("Cost by part"), recent, shows)
    return Chart(
        "cost-parts", say("Cost by part"), sentence, "cost_parts", tuple(values), chart_table, params
    )


def _table(rows: Sequence[Row], view: Shown) -> Any:
    caption, newest_first = newest(say("Cost by tier"), rows, "data/costs.csv")
    return table_view(
        COSTS,
        "costs-table",
        caption,
        newest_first,
        [
            Show("batch", say("Batch"), plain("batch"), href=lambda row: batch_link(row["batch"])),
            Show("date", say("Date"), plain("date")),
            Show(
                "fuel_l",
                say("Fuel"),
                volumes(view, "fuel_l"),
                view.display["volume"],
            ),
            Show(
                "cash_per_l",
                say("Cash"),
                prices(view, "cash_per_l", 3),
                view.per_unit,
            ),
            Show(
                "with_media_per_l",
                say("With media"),
                prices(view, "with_media_per_l", 3),
                view.per_unit,
            ),
            Show(
                "with_labour_per_l",
                say("With labour"),
                prices(view, "with_labour_per_l", 3),
                view.per_unit,
            ),
            Show(
                "known_per_l",
                say("At least"),
                prices(view, "known_per_l", 3),
                view.per_unit,
            ),
            Show(
                "per_diesel_l",
                say("Diesel equivalent"),
                figures("per_diesel_l", 3),
                f"{view.currency}/L",
            ),
            Show("media_estimated", say("Media estimated"), worded("media_estimated")),
            Show("odd_parts", say("To look at"), worded("odd_parts")),
        ],
        filterable=True,
    )
