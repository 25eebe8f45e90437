"""A run through the columns is possible by itself: part of it went round, not all; what is fed once more was fed before."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from generator.ledger.basis import FUEL, amount, density_line
from generator.ledger.ledgers import Ledgers
from generator.ledger.spoken import volume
from generator.log import Entry, Log
from generator.problems import Place, Problem
from generator.records import Batch
from generator.units import Quantity

MORE = 1.02  # times what was there: readings of a volume agree no better


def check(ledgers: Ledgers) -> Iterator[Problem]:
    """Check the runs of every batch, and the vessels of every purifier."""
    log = ledgers.log
    for entry in log.batches.values():
        for number, run in enumerate(entry.record.polish):
            yield from _twice(
                run.through, [entry.at("polish", number, "through", n) for n in range(len(run.through))]
            )
            yield from _bypassed(log, entry, number)
            yield from _beyond(entry, number)
        yield from _again(log, entry)
    for purifier in log.purifiers.values():
        vessels = [vessel.vessel for vessel in purifier.record.vessels]
        yield from _twice(vessels, [purifier.at("vessels", n, "vessel") for n in range(len(vessels))])


def _twice(names: Sequence[str], places: Sequence[Place]) -> Iterator[Problem]:
    for number, name in enumerate(names):
        if name in names[:number]:
            text = f"vessel '{name}' is named twice"
            hint = "a vessel stands once in a line: leave one out, or give it its own name"
            yield Problem("id-twice", places[number], text, hint, (places[names.index(name)],))


def _bypassed(log: Log, entry: Entry[Batch], number: int) -> Iterator[Problem]:
    run = entry.record.polish[number]
    if run.bypassed is None:
        return
    place = entry.at("polish", number, "bypassed")
    if run.volume is None:
        yield Problem(
            "bypassed-alone",
            place,
            f"{run.bypassed.text} bypassed the columns, and the volume of the run is not written",
            "write 'volume', all of the run; without it nothing is known of what its beds took up",
        )
    elif _litres(log, run.bypassed) >= _litres(log, run.volume):
        yield Problem(
            "out-of-range",
            place,
            f"{run.bypassed.text} bypassed the columns, and {run.volume.text} was all of the run",
            "'bypassed' is part of 'volume'; a run that met no bed is no run",
            (entry.at("polish", number, "volume"),),
        )


def _beyond(entry: Entry[Batch], number: int) -> Iterator[Problem]:
    """A reading or a sample after more fuel than the run had."""
    run = entry.record.polish[number]
    if run.volume is None:
        return
    taken = [("readings", place, reading.after) for place, reading in enumerate(run.readings)]
    taken += [
        ("soap", place, sample.after) for place, sample in enumerate(run.soap) if sample.after is not None
    ]
    for key, place, after in taken:
        if after.value > MORE * run.volume.value:
            yield Problem(
                "after-run",
                entry.at("polish", number, key, place, "after"),
                f"taken after {after.text}, and {run.volume.text} was all of the run",
                "'after' is the fuel of this run that had gone through by then; check both",
                (entry.at("polish", number, "volume"),),
            )


def _again(log: Log, entry: Entry[Batch]) -> Iterator[Problem]:
    """Fuel that is fed once more is no more than went through before."""
    runs = sorted(enumerate(entry.record.polish), key=lambda pair: pair[1].start)
    before: list[Quantity | None] = []
    for number, run in runs:
        if not run.again:
            before.append(run.volume)
            continue
        place = entry.at("polish", number, "again")
        if not before:
            yield Problem(
                "again-first",
                place,
                f"this run is said to feed batch {entry.id} once more, and no run before it has fed it",
                "leave 'again' out, or check the dates of its runs",
                (entry.at("polish", number, "start"),),
            )
            continue
        known = [_litres(log, volume) for volume in before if volume is not None]
        if run.volume is None or len(known) < len(before):
            continue
        if _litres(log, run.volume) > MORE * sum(known):
            yield Problem(
                "again-more",
                entry.at("polish", number, "volume"),
                f"{run.volume.text} is fed once more, and {volume(log, sum(known))} at the reference temperature went through before",
                "check the volumes; fuel of another batch belongs to that batch",
                (entry.at("polish", runs[0][0], "volume"),),
            )


def _litres(log: Log, volume: Quantity) -> float:
    return amount(log, volume, density_line(log, FUEL)).litres
