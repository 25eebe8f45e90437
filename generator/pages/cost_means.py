"""What a litre cost in the last batches: by part, against the pump, and whether it moves."""

from __future__ import annotations

from collections.abc import Sequence

from generator.compute.bridge import PERIOD, lost_in, without_fuel
from generator.compute.costs import written_parts
from generator.compute.results import Results
from generator.language import said, say
from generator.pages.bridges import CHANCE
from generator.pages.cost_figures import aged
from generator.pages.parts import Row
from generator.pages.view import Figure
from generator.pages.words import (
    NARROW,
    Shown,
    capital,
    count,
    number,
    shown_change,
    significant,
)


def known(rows: Sequence[Row]) -> list[Row]:
    """Rows whose cost with media is known."""
    return [row for row in rows if row["with_media_per_l"] is not None]


def per_l(rows: Sequence[Row], column: str) -> float:
    """A figure by the litre over these batches, each counted by its fuel."""
    litres = sum(row["fuel_l"] for row in rows)
    return float(sum(row[column] * row["fuel_l"] for row in rows) / litres)


def means(rows: Sequence[Row], view: Shown, results: Results) -> list[Figure]:
    """The figures of the last batches whose cost is known."""
    recent = known(rows)[-PERIOD:]
    if not recent:
        return []
    out = [
        Figure(
            capital(said(part)),
            view.per_volume(per_l(recent, f"{part}_per_l")),
            "",
            "cost-per-litre",
        )
        for part in written_parts(rows)
        if part != "labour"
    ]
    out.append(
        Figure(
            say("With media"),
            view.per_volume(per_l(recent, "with_media_per_l")),
            say("all of the above"),
            "cost-per-litre",
        )
    )
    out += _failed(rows, view)
    worked = [row for row in recent if row["with_labour_per_l"] is not None]
    if worked:
        out.append(
            Figure(
                say("With labour"),
                view.per_volume(per_l(worked, "with_labour_per_l")),
                say("{batch} with hours written", batch=count(len(worked), "batch", "batches")),
                "cost-per-litre",
            )
        )
    out.append(
        Figure(
            say("Per {volume_word} of diesel equivalent", volume_word=view.volume_word),
            view.per_volume(per_l(recent, "per_diesel_l")),
            say("with media, by net heat"),
            "diesel-equivalent",
        )
    )
    out.append(
        Figure(
            say("Per MJ of net heat"),
            view.rate(per_l(recent, "per_mj"), f"{view.currency}/MJ", 4),
            say("with media, net and never gross"),
            "diesel-equivalent",
        )
    )
    pump = recent[-1]["diesel_per_l"]
    out.append(
        Figure(
            say("Diesel at the pump"),
            view.per_volume(pump),
            aged(
                say("last price written before the batch"), say("price of diesel"), recent[-1]["diesel_days"]
            ),
            "",
            "" if pump is not None else say("needs prices/ with a series of diesel"),
        )
    )
    out += [_trend(row, view) for row in results.rows("trends")]
    out += _savings(recent, view)
    if results.target_per_l is not None:
        out.append(Figure(say("Target"), view.per_volume(results.target_per_l), say("set in logbook.yaml")))
    return out


def lost_per_l(rows: Sequence[Row]) -> float:
    """What batches without fuel cost since the batch before the last ones whose cost is known, for each litre of their fuel."""
    costed = known(rows)
    after = costed[-PERIOD - 1]["date"] if len(costed) > PERIOD else ""
    return lost_in(without_fuel(rows), after) / float(sum(row["fuel_l"] for row in costed[-PERIOD:]))


def _failed(rows: Sequence[Row], view: Shown) -> list[Figure]:
    """The money of batches that gave no fuel; nothing where every batch gave some."""
    failed = without_fuel(rows)
    if not failed:
        return []
    basis = say(
        "on top of the cost with media, for those among the days of these batches; {batch} without fuel in all, {cost}",
        batch=count(len(failed), "batch", "batches"),
        cost=view.money(sum(row["known_cost"] for row in failed)),
    )
    return [Figure(say("Batches without fuel"), view.per_volume(lost_per_l(rows)), basis, "failed-batches")]


def _trend(row: Row, view: Shown) -> Figure:
    """A trend with how likely chance alone makes as much; one that may well be chance is not called a trend."""
    chance = row["by_chance"]
    slope = shown_change(view.per_volume_number(row["per_l_per_year"]), 3)
    since = say("{batch} since {since}", batch=count(row["batches"], "batch", "batches"), since=row["from"])
    told = say("less than 1 %") if chance < 0.01 else significant(100 * chance, "%", 1 if chance < 0.1 else 2)
    if chance >= CHANCE:
        basis = say(
            "{since}: the middle slope is {slope} {per_unit} a year, and chance alone makes as much in {told} of such rows",
            since=since,
            slope=slope,
            per_unit=view.per_unit,
            told=told,
        )
        return Figure(say("Trend of the {of}", of=say(row["of"])), say("none to be told"), basis, "trend")
    basis = say("{since}; chance alone makes as much in {told} of such rows", since=since, told=told)
    return Figure(
        say("Trend of the {of}", of=say(row["of"])),
        say("{slope}{narrow}{per_unit} a year", slope=slope, narrow=NARROW, per_unit=view.per_unit),
        basis,
        "trend",
    )


def _savings(recent: Sequence[Row], view: Shown) -> list[Figure]:
    """What the fuel saved against the pump, by the litre and by the hour."""
    saved = [row for row in recent if row["saving_per_l"] is not None]
    worked = [row for row in saved if row["saving_per_h"] is not None]
    if not saved:
        return []
    told = say(
        "the same heat as diesel, {batch}; labour is not counted", batch=count(len(saved), "batch", "batches")
    )
    out = [
        Figure(say("Saved against the pump"), view.per_volume(per_l(saved, "saving_per_l")), told, "saving")
    ]
    if worked:
        hours = sum(row["hours"] + row["fetching_hours"] for row in worked)
        each = sum(row["saving_per_l"] * row["fuel_l"] for row in worked) / hours
        told = say(
            "{batch} with hours written, {hours} hours with those of fetching",
            batch=count(len(worked), "batch", "batches"),
            hours=number(hours, 1),
        )
        out.append(Figure(say("Saved by the hour"), view.rate(each, f"{view.currency}/h", 2), told, "saving"))
    return out
