"""A soap titration is one: blank below reading, end points in order, its acid the usual one, each point once."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from generator.fields import plainly
from generator.ledger.ledgers import Ledgers
from generator.ledger.soap import alkali
from generator.log import Entry, Log
from generator.problems import Problem
from generator.records import Batch, Polish
from generator.validate.checks.habits import usual


def check(ledgers: Ledgers) -> Iterator[Problem]:
    """Check the soap titrations of every run."""
    log = ledgers.log
    habit = usual_normality(log)
    for entry in log.batches_in_time():
        for number, run in enumerate(entry.record.polish):
            yield from _blanks(log, entry, number, run)
            yield from _twice(entry, number, run)
            yield from _end_points(entry, number, run)
            yield from normality_odd(entry, number, run, habit)
        if entry.record.polish:
            yield from _feed(log, entry)


def _feed(log: Log, entry: Entry[Batch]) -> Iterator[Problem]:
    """A batch whose feed was not titrated, or whose soap has no factor."""
    batch = entry.record
    if not batch.first_passes:
        return
    if not any(sample.point == "feed" for run in batch.first_passes for sample in run.soap):
        yield Problem(
            "no-feed-soap",
            entry.at("polish", key=True),
            f"batch {entry.id} has no soap sample of the feed, so what its beds took up is estimated from the last feeds that were titrated, ten at most",
            "add 'point: feed' under 'soap' if it was titrated",
        )
    elif _catalysts_known(log, batch) and alkali(log, batch) is None:
        yield Problem(
            "alkali-unknown",
            entry.at("reaction"),
            f"batch {entry.id} names no catalyst, or both alkalis, so its soap has no factor",
            "name the lot of catalyst in every stage",
        )


def _catalysts_known(log: Log, batch: Batch) -> bool:
    """Whether every catalyst named is one; where not, that was told already."""
    materials = [log.material_of(use.lot) for stage in batch.reaction for use in stage.catalyst]
    return all(entry is not None and entry.record.kind == "catalyst" for entry in materials)


def _twice(entry: Entry[Batch], place: int, run: Polish) -> Iterator[Problem]:
    seen: dict[str, int] = {}
    for number, sample in enumerate(run.soap):
        if sample.point in seen and not sample.retest:
            yield Problem(
                "sample-twice",
                entry.at("polish", place, "soap", number, "point"),
                f"a second sample at '{sample.point}', and only the last one counts",
                "write 'retest: true' if it repeats the first; name the other point if not",
                (entry.at("polish", place, "soap", seen[sample.point], "point"),),
            )
        seen[sample.point] = number


def usual_normality(log: Log) -> Decimal | None:
    """The normality of most soap titrations, mol/L."""
    return usual(
        sample.normality.exact
        for entry in log.batches.values()
        for run in entry.record.polish
        for sample in run.soap
    )


def normality_odd(entry: Entry[Batch], place: int, run: Polish, habit: Decimal | None) -> Iterator[Problem]:
    """A point moved in the normality moves the soap tenfold, and nothing else shows it."""
    for number, sample in enumerate(run.soap):
        if habit is not None and sample.normality.exact in (habit * 10, habit / 10):
            yield Problem(
                "normality-odd",
                entry.at("polish", place, "soap", number, "normality"),
                f"acid of {sample.normality.text}, and this workshop's is {plainly(float(habit))} mol/L: ten times off",
                "check the label of the bottle; soap is in proportion to it",
            )


def _end_points(entry: Entry[Batch], place: int, run: Polish) -> Iterator[Problem]:
    for number, sample in enumerate(run.soap):
        first = sample.catalyst.acid if sample.catalyst is not None else None
        bounds = first is not None and (
            first.sign == "<" or sample.acid.sign == ">"
        )  # they leave room for order
        if first is not None and not bounds and first.value > sample.acid.value:
            yield Problem(
                "end-points-swapped",
                entry.at("polish", place, "soap", number, "catalyst", "acid"),
                f"the first end point ({first.text}) lies beyond the second ({sample.acid.text})",
                "'acid' is all acid used, to the second end point; 'catalyst' is what it took to the first",
                (entry.at("polish", place, "soap", number, "acid"),),
            )


def _blanks(log: Log, entry: Entry[Batch], place: int, run: Polish) -> Iterator[Problem]:
    slack = 3 * 2**0.5 * log.settings.instruments.burette.value  # what two readings cannot tell apart
    for number, sample in enumerate(run.soap):
        path: tuple[str | int, ...] = ("polish", place, "soap", number)
        ends = [("the reading", sample.acid, sample.blank, path)]
        if (first := sample.catalyst) is not None:
            ends.append(("the first end point", first.acid, first.blank, (*path, "catalyst")))
        for what, acid, blank, at in ends:
            if acid.sign != ">" and acid.value < blank.value - slack:
                yield Problem(
                    "blank-above-reading",
                    entry.at(*at, "acid"),
                    f"{what} ({acid.text}) lies below {'the' if what == 'the reading' else 'its'} blank ({blank.text})",
                    "check which of the two was typed where",
                    (entry.at(*at, "blank"),),
                )
