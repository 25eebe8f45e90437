"""All batches in one table, with the yields through time."""

from __future__ import annotations

from collections.abc import Sequence
from statistics import median
from typing import Any

from generator.compute.results import Results
from generator.language import say
from generator.pages import batch_table, plan
from generator.pages.batch import FRESH_SHARE
from generator.pages.history import history_told
from generator.pages.parts import (
    Row,
    Show,
    batch_link,
    figures,
    plain,
    table_view,
    volumes,
)
from generator.pages.places import placed
from generator.pages.view import Chart, Page
from generator.pages.words import Shown, count, shown, with_unit
from generator.tables import BATCHES

CHARTED = 150
WINDOW = 9


def page(results: Results) -> Page:
    """The page of all batches, newest first."""
    rows, view = results.rows("batches"), shown(results)
    return placed(
        "batches",
        finding=finding(rows, view),
        content={
            "intro": _told(
                year_text(rows, view, results.as_of),
                _ends(rows),
                *(history_told(results) or ())[:1],
            ),
            "planned": plan.planned(results),
            "table": batch_table.table(rows, view, results, newest_first=True),
            "charts": [yield_chart(rows, view, results), closure_chart(rows, view, results)] if rows else [],
        },
    )


def finding(rows: Sequence[Row], view: Shown) -> str:
    """How many batches, how much fuel, at which yield."""
    litres = [row["fuel_l"] for row in rows if row["fuel_l"] is not None]
    yields = [row["yield_volume_pct"] for row in rows if row["yield_volume_pct"] is not None]
    if not rows:
        return say("No batch is written yet.")
    text = say(
        "{batch}, {volume} of finished fuel",
        batch=count(len(rows), "batch", "batches"),
        volume=view.volume(sum(litres)),
    )
    if not yields:
        return say("{text}; no yield can be computed yet.", text=text)
    if len(yields) == 1:
        return say(
            "{text}; the one known yield is {value} by volume.", text=text, value=with_unit(yields[0], "%", 1)
        )
    middle = say("half of them yield above {median} by volume", median=with_unit(median(yields), "%", 1))
    return (
        f"{text}; {middle}."
        if len(litres) == len(rows)
        else say(
            "{text} in the {litres} that are finished; {middle}.",
            text=text,
            litres=len(litres),
            middle=middle,
        )
    )


def _told(*sentences: str) -> str:
    return " ".join(filter(None, sentences))


def year_text(rows: Sequence[Row], view: Shown, as_of: str) -> str:
    """How much was made in the twelve months up to the day that the pages count from; nothing where no batch is of them."""
    recent = _of_year(rows, as_of)
    if not recent:
        return ""
    return say(
        "In the twelve months to {day} these pages have {batch} with {volume} of finished fuel.",
        day=as_of,
        batch=count(len(recent), "batch", "batches"),
        volume=view.volume(sum(row["fuel_l"] or 0.0 for row in recent)),
    )


def _of_year(rows: Sequence[Row], as_of: str) -> list[Row]:
    start = f"{int(as_of[:4]) - 1:04}{as_of[4:]}" if rows else ""
    return [row for row in rows if row["date"] > start]


def _ends(rows: Sequence[Row]) -> str:
    """The lowest and the highest yield, where enough are known to make it worth looking them up."""
    known = sorted(
        (row for row in rows if row["yield_volume_pct"] is not None), key=lambda row: row["yield_volume_pct"]
    )
    if len(known) < WINDOW:
        return ""
    first, last = known[0], known[-1]
    return say(
        "The lowest yield is {low} in {first}, the highest {high} in {last}; the pages of both say what stands beside it.",
        low=with_unit(first["yield_volume_pct"], "%", 1),
        first=first["batch"],
        high=with_unit(last["yield_volume_pct"], "%", 1),
        last=last["batch"],
    )


def yield_chart(rows: Sequence[Row], view: Shown, results: Results) -> Chart:
    """Volume yield by batch with a running median."""
    recent = list(rows)[-CHARTED:]
    values: list[dict[str, Any]] = []
    for place, row in enumerate(recent):
        window = [
            item["yield_volume_pct"]
            for item in recent[max(0, place - WINDOW + 1) : place + 1]
            if item["yield_volume_pct"] is not None
        ]
        values.append(
            {
                "date": row["date"],
                "batch": row["batch"],
                "yield_volume_pct": row["yield_volume_pct"],
                "first_run": row["heel_l"] is not None
                and row["oil_l"] is not None
                and row["heel_l"] > row["oil_l"] * FRESH_SHARE,
                "median": median(window) if len(window) >= 3 else None,
            }
        )
    known = [row["yield_volume_pct"] for row in recent if row["yield_volume_pct"] is not None]
    held = sum(bool(value["first_run"]) for value in values)
    ends = [with_unit(end, "%", 1) for end in ((min(known), max(known)) if known else ())]
    sentence = (
        say(
            "Finished fuel by volume of oil, both {basis}: {yields}. {run} left more than a twentieth of the batch in a fresh bed; that fuel is not lost but held back.",
            basis=view.basis,
            yields=ends[0] if ends[0] == ends[1] else say("from {low} to {high}", low=ends[0], high=ends[1]),
            run=count(held, "run", "runs") if held else say("No run"),
        )
        if known
        else say("No yield is known yet.")
    )
    chart_table = table_view(
        BATCHES,
        "yield-table",
        say("Yield by batch"),
        recent,
        [
            Show("batch", say("Batch"), plain("batch"), href=lambda row: batch_link(row["batch"])),
            Show("date", say("Date"), plain("date")),
            Show("yield_volume_pct", say("By volume"), figures("yield_volume_pct", 1), "%"),
            Show(
                "yield_mass_pct",
                say("By mass, before the columns"),
                figures("yield_mass_pct", 1),
                "%",
            ),
            Show("yield_theory_pct", say("Against theory"), figures("yield_theory_pct", 1), "%"),
            Show(
                "heel_l",
                say("Left in the columns"),
                volumes(view, "heel_l", 1),
                view.display["volume"],
            ),
        ],
    )
    drawn = tuple(values) if known else ()
    return Chart("yield", say("Volume yield"), sentence, "yield_time", drawn, chart_table)


def closure_chart(rows: Sequence[Row], view: Shown, results: Results) -> Chart:
    """Mass out over mass in."""
    recent = list(rows)[-CHARTED:]
    known = [row["closure_pct"] for row in recent if row["closure_pct"] is not None]
    inside = sum(97 <= value <= 103 for value in known)
    sentence = (
        say(
            "Mass out over mass in is known for {known} of {batch}; {inside} close within 97 to 103 %, a usual band for readings by hand.",
            known=len(known),
            batch=count(len(recent), "batch", "batches"),
            inside=inside,
        )
        if known
        else say("No batch has all the weights that a mass balance needs.")
    )
    values = tuple(
        {"date": row["date"], "batch": row["batch"], "closure_pct": row["closure_pct"]}
        for row in recent
        if known  # else there is nothing to draw
    )
    chart_table = table_view(
        BATCHES,
        "closure-table",
        say("Mass closure by batch"),
        recent,
        [
            Show("batch", say("Batch"), plain("batch"), href=lambda row: batch_link(row["batch"])),
            Show("date", say("Date"), plain("date")),
            Show("closure_pct", say("Closure"), figures("closure_pct", 1), "%"),
        ],
    )
    return Chart("closure", say("Mass closure"), sentence, "closure", values, chart_table)
