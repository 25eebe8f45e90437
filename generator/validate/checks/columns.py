"""Columns hold what they are said to hold: beds that fit their vessels, events between runs, rinses that do something."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterator, Mapping
from datetime import datetime, time
from statistics import median

from generator.formulas.columns import bulk_kg_per_l
from generator.ledger.charges import Charge
from generator.ledger.ledgers import Ledgers
from generator.ledger.spoken import bulk, volume
from generator.log import Entry, Log
from generator.problems import Problem
from generator.records import Event, Pack, Purifier, Rest, Rinse, Rotate, Unload, Vessel

BULK = (0.05, 1.6)  # kg/L of any medium as it lies; common practice, no source
TIMES, BEDS = 1.5, 4  # off the middle of that many beds or more


def check(ledgers: Ledgers) -> Iterator[Problem]:
    """Fold the columns and tell what could not have happened."""
    log = ledgers.log
    yield from ledgers.columns.problems
    yield from _charges(ledgers)
    usuals = _usual_bulks(log)
    for entry in log.purifiers.values():
        vessels = {vessel.vessel: vessel for vessel in entry.record.vessels}
        for number, event in enumerate(entry.record.history):
            if isinstance(event, Pack) and event.vessel in vessels:
                yield from _bed(log, entry, number, event, vessels[event.vessel], usuals)
            if isinstance(event, Rest | Unload):
                yield from _drained(log, entry, number, event, vessels)
        yield from _in_runs(log, entry)
        yield from _twice(entry)


def _usual_bulks(log: Log) -> dict[tuple[str, str], float]:
    """The middle kg/L of the beds of each medium and basis, where there are enough of them that an odd one does not turn it."""
    found: dict[tuple[str, str], list[float]] = {}
    for entry in log.purifiers.values():
        for event in entry.record.history:
            if isinstance(event, Pack):
                bulk = bulk_kg_per_l(event.mass.value, event.bed.value)
                found.setdefault((event.medium, event.basis), []).append(bulk)
    return {name: median(bulks) for name, bulks in found.items() if len(bulks) >= BEDS}


def _bed(
    log: Log,
    entry: Entry[Purifier],
    number: int,
    event: Pack,
    vessel: Vessel,
    usuals: Mapping[tuple[str, str], float],
) -> Iterator[Problem]:
    place = entry.at("history", number, "bed")
    if event.bed.value > vessel.volume.value:
        yield Problem(
            "bed-too-large",
            place,
            f"a bed of {event.bed.text} does not fit vessel {event.vessel} of {vessel.volume.text}",
            "check both volumes",
            (entry.at("vessels"),),
        )
        return
    found = bulk_kg_per_l(event.mass.value, event.bed.value)
    usual = usuals.get((event.medium, event.basis))
    if not BULK[0] <= found <= BULK[1]:
        beside = f"no medium lies so; {bulk(log, *BULK)} is usual"
    elif usual is not None and not usual / TIMES <= found <= usual * TIMES:
        beside = f"most beds of {event.medium} have {bulk(log, usual)}"
    else:
        return
    yield Problem(
        "bed-odd",
        place,
        f"{event.mass.text} in a bed of {event.bed.text} are {bulk(log, found)}, and {beside}",
        "check the mass, the settled volume, their units and the basis",
        (entry.at("history", number, "mass"),),
    )


def _drained(
    log: Log, entry: Entry[Purifier], number: int, event: Rest | Unload, vessels: Mapping[str, Vessel]
) -> Iterator[Problem]:
    """More fuel ran out of vessels than they hold."""
    names = [event.vessel] if isinstance(event, Unload) else list(vessels)
    room = sum(vessels[name].volume.value for name in names if name in vessels)
    if event.drained is not None and room and event.drained.value > room:
        yield Problem(
            "out-of-range",
            entry.at("history", number, "drained"),
            f"{event.drained.text} were drained, and {' and '.join(names)} hold {volume(log, room)}",
            "check both volumes and their units",
            (entry.at("vessels"),),
        )


def _charges(ledgers: Ledgers) -> Iterator[Problem]:
    """Rinses and lives of charges."""
    histories = {
        (entry.id, id(event)): entry.at("history", number, "event")
        for entry in ledgers.log.purifiers.values()
        for number, event in enumerate(entry.record.history)
    }
    charges = {charge.id: charge for charge in ledgers.columns.charges}
    for one in ledgers.columns.happened:
        charge, place = charges.get(one.charge or ""), histories[one.purifier, id(one.of)]
        if charge is None:
            continue
        if isinstance(one.of, Rinse) and _idle(charge):
            yield Problem(
                "rinse-absorbent",
                place,
                f"vessel {one.vessel} holds {charge.pack.medium}, an absorbent, and a rinse takes nothing out of it that is known",
                "check the vessel, or write in the medium's row what a rinse resets",
                (charge.written,),
            )
        if one.event == "unload" and not charge.runs and not charge.spent:
            yield Problem(
                "charge-unused",
                place,
                f"charge {charge.id} was unloaded on {one.at:%Y-%m-%d}, and no run went through it",
                "look for a run that is not written, or a date that is wrong",
                (charge.written,),
            )


def _idle(charge: Charge) -> bool:
    """Whether a rinse resets nothing of an absorbent."""
    medium = charge.medium
    return (
        medium is not None and not charge.is_resin and all(row.reset_by != "rinse" for row in medium.ledgers)
    )


def _in_runs(log: Log, entry: Entry[Purifier]) -> Iterator[Problem]:
    """An event with a time of day, while a batch runs. A day alone does not say the hour."""
    runs = sorted(
        (run.start, run.end, batch.id, number)
        for batch in log.batches.values()
        for number, run in enumerate(batch.record.polish)
        if run.purifier == entry.id
    )
    starts = [run[0] for run in runs]
    for number, event in enumerate(entry.record.history):
        place = bisect_left(starts, event.date) - 1
        if place < 0 or not _timed(event) or event.date >= runs[place][1]:
            continue
        _, end, name, at = runs[place]
        done = "the rest begins" if isinstance(event, Rest) else f"vessel {event.vessel}: {event.event}"
        yield Problem(
            "event-in-run",
            entry.at("history", number, "date"),
            f"{done} at {event.date:%Y-%m-%d %H:%M}, while batch {name} runs through {entry.id} until {end:%H:%M}",
            "check both dates and times",
            (log.batches[name].at("polish", at, "start"),),
        )


def _twice(entry: Entry[Purifier]) -> Iterator[Problem]:
    """One thing done to a vessel, written twice for a day. Two times of day are two things."""
    seen: dict[tuple[str, ...], int] = {}
    for number, event in enumerate(entry.record.history):
        if isinstance(event, Pack | Unload):  # the second finds no place, or nothing to take out
            continue
        vessels: tuple[str, ...] = () if isinstance(event, Rest) else (event.vessel,)
        if isinstance(event, Rotate):
            vessels = tuple(sorted((event.vessel, event.with_vessel)))
        key = (event.event, *vessels, f"{event.date:%Y-%m-%d}")
        before = seen.setdefault(key, number)
        other = entry.record.history[before].date
        if before == number or (_timed(event) and other != event.date and other.time() != time(0)):
            continue
        what = " and ".join(vessels) or entry.id
        yield Problem(
            "event-twice",
            entry.at("history", number, "event"),
            f"{what}: {event.event} is written twice for {event.date:%Y-%m-%d}",
            "take one out, or write both with their time of day",
            (entry.at("history", before, "event"),),
        )


def _timed(event: Event) -> bool:
    moment: datetime = event.date
    return moment.time() != time(0)
