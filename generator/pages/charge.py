"""One charge of a column: what it took up, what is left, what passes it, its pressure, its runs, what it cost."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import partial

from generator.compute.results import Results
from generator.language import said, say
from generator.pages.bed_ahead import ahead_figures, range_text
from generator.pages.bed_charts import uptake_chart
from generator.pages.bed_figures import (
    cautions,
    cost_figures,
    curve_figures,
    fuel_figures,
    glycerol_figures,
    soap_figures,
)
from generator.pages.bed_pressure import charge_pressure, pressure_figures
from generator.pages.beds import events_table
from generator.pages.parts import (
    Row,
    Show,
    batch_link,
    charge_link,
    figures,
    grouped,
    plain,
    run_shows,
    table_view,
    volumes,
    worded,
)
from generator.pages.view import Page, TableView, Unmade
from generator.pages.words import Shown, capital, number, shown, significant
from generator.tables import RUNS, WHAT_IF

ROOT = "../"


def pages(results: Results) -> Iterator[Unmade]:
    """The page of every charge."""
    charges, view = results.rows("charges"), shown(results)
    runs, what_ifs, events = (
        grouped(results.rows(table), "charge") for table in ("runs", "what_if", "events")
    )
    vessels: dict[tuple[str, str], list[Row]] = {}
    for row in charges:
        vessels.setdefault((row["purifier"], row["vessel"]), []).append(row)
    for row in charges:
        same = vessels[row["purifier"], row["vessel"]]
        place = same.index(row)
        around = (same[place - 1] if place else None, same[place + 1] if place + 1 < len(same) else None)
        name = row["charge"]
        done = [*events.get(name, []), *_rests(results.rows("events"), row)]
        done.sort(key=lambda event: event["date"])
        told = _Told(runs.get(name, []), what_ifs.get(name, []), done)
        yield Unmade(charge_link(name), partial(_page, row, told, view, around))


def _rests(events: Sequence[Row], row: Row) -> list[Row]:
    """Rests of its purifier while it stood in it."""
    until = row["unloaded"] or "9999"
    return [
        event
        for event in events
        if event["charge"] is None
        and event["purifier"] == row["purifier"]
        and row["packed"] <= event["date"] <= until
    ]


@dataclass(frozen=True, slots=True)
class _Told:
    """The rows of other tables that are about one charge."""

    runs: Sequence[Row]
    what_ifs: Sequence[Row]
    events: Sequence[Row]


def _page(row: Row, told: _Told, view: Shown, around: tuple[Row | None, Row | None]) -> Page:
    standing = row["unloaded"] is None
    groups = {
        say("Fuel"): fuel_figures(row, view),
        say("Soap"): [*soap_figures(row), *curve_figures(row)],
        say("Left"): ahead_figures(row, view) if standing else [],
        say("Glycerol"): glycerol_figures(row),
        say("Pressure"): pressure_figures(row, view),
        say("Medium"): cost_figures(row, view),
    }
    charts = [
        chart
        for chart in (uptake_chart(row, told.runs), charge_pressure(row, told.runs, view))
        if chart is not None
    ]
    return Page(
        path=charge_link(row["charge"]),
        title=say("Charge {charge}", charge=row["charge"]),
        template="charge.html",
        section="columns",
        finding=finding(row, view),
        content={
            "figures": {group: items for group, items in groups.items() if items},
            "action": f"{capital(said(row['action']))}." if standing and row["action"] else "",
            "charts": charts,
            "tables": [
                *([what_if_table(told.what_ifs, view)] if told.what_ifs else []),
                *([_runs(told.runs, view)] if told.runs else []),
                events_table(told.events, view, "events", ROOT),
            ],
            "previous": _neighbour(around[0]),
            "next": _neighbour(around[1]),
            "cautions": cautions([row]),
        },
    )


def _neighbour(row: Row | None) -> tuple[str, str] | None:
    return (row["charge"], f"{row['charge']}.html") if row is not None else None


def finding(row: Row, view: Shown) -> str:
    """The charge in one sentence."""
    where = say(
        "{mass} of {medium} in vessel {vessel} ({position})",
        mass=view.mass(row["mass_kg"]),
        medium=view.of_material(row["medium"]),
        vessel=row["vessel"],
        position=said(row["position"]),
    )
    if row["unloaded"] is None:
        share = row["soap_share_pct"]
        used = (
            say(", {share} of its capacity for soap used", share=significant(share, "%", 2))
            if share is not None
            else ""
        )
        return say(
            "{where}, packed {packed}: {state}{used}; {fuel} treated so far.",
            where=where,
            packed=row["packed"],
            state=said(row["state"]),
            used=used,
            fuel=view.volume(row["fuel_l"]),
        )
    took = (
        say(" and took up some {soap_estimate} g of soap", soap_estimate=number(row["soap_estimate_g"]))
        if row["soap_estimate_g"] is not None
        else ""
    )
    return say(
        "{where}, from {packed} to {unloaded}: it treated {fuel}{took}.",
        where=where,
        packed=row["packed"],
        unloaded=row["unloaded"],
        fuel=view.volume(row["fuel_l"]),
        took=took,
    )


def what_if_table(rows: Sequence[Row], view: Shown) -> TableView:
    """What a lower feed would be worth."""

    def reach(row: Row, name: str) -> str:
        ends = [row[f"{name}_{end}"] for end in ("low", "middle", "high")]
        if name == "litres_left":
            ends = [view.volume_number(end) for end in ends]
        return range_text(*ends)

    cost = Show(
        "cost_per_l",
        say("Cost of it"),
        lambda row: number(view.per_volume_number(row["cost_per_l"]), 3),
        view.per_unit,
    )
    return table_view(
        WHAT_IF,
        "what-if",
        say("Were the feed lower in soap: the worth of settling longer"),
        rows,
        [
            Show("lower_mg_per_kg", say("Feed lower by"), figures("lower_mg_per_kg"), "mg/kg"),
            Show("batches_left_middle", say("Batches left"), lambda row: reach(row, "batches_left")),
            Show(
                "litres_left_middle",
                say("Fuel left"),
                lambda row: reach(row, "litres_left"),
                view.display["volume"],
            ),
            Show("life_l", say("Fuel of a whole life"), volumes(view, "life_l"), view.display["volume"]),
            Show(
                "media_per_1000_l",
                say("Medium"),
                lambda row: number(view.per_thousand_number(row["media_per_1000_l"]), 1),
                view.per_thousand_unit,
            ),
            *([cost] if any(row["cost_per_l"] is not None for row in rows) else []),
        ],
    )


def _runs(rows: Sequence[Row], view: Shown) -> TableView:
    return table_view(
        RUNS,
        "runs",
        say("Runs through it"),
        list(rows)[::-1],
        [
            Show("batch", say("Batch"), plain("batch"), href=lambda row: batch_link(row["batch"], ROOT)),
            Show("start", say("Date"), lambda row: row["start"][:10]),
            Show("position", say("Position"), worded("position")),
            Show("fed_l", say("Fed"), volumes(view, "fed_l"), view.display["volume"]),
            *run_shows(view),
            Show("basis", say("Known by"), worded("basis")),
        ],
    )
