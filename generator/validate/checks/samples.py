"""Soap samples make sense beside each other: blank below reading, outlet not above inlet, no jump by ten."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal
from itertools import pairwise

from generator.fields import plainly
from generator.ledger.bench import alkali, soap_at
from generator.ledger.ledgers import Ledgers
from generator.log import Entry, Log
from generator.problems import Problem
from generator.records import Batch
from generator.validate.checks.habits import usual

TENFOLD = 8.0
MARGIN = 1.25


def check(ledgers: Ledgers) -> Iterator[Problem]:
    """Check the soap titrations of every run."""
    log = ledgers.log
    previous: float | None = None
    usual = _usual_normality(log)
    for entry in log.batches_in_time():
        polish = entry.record.polish
        if polish is None:
            continue
        yield from _blanks(log, entry)
        yield from _twice(entry)
        yield from _end_points(entry)
        odd = list(_normality(entry, usual))
        yield from odd
        if not any(sample.point == "feed" for sample in polish.soap):
            yield Problem(
                "no-feed-soap",
                entry.at("polish", key=True),
                f"batch {entry.id} has no soap sample of the feed, so the columns' ledgers have a gap",
                "add 'point: feed' under 'soap' if it was titrated",
            )
        elif _catalysts_known(log, entry.record) and alkali(log, entry.record) is None:
            yield Problem(
                "alkali-unknown",
                entry.at("reaction"),
                f"batch {entry.id} names no catalyst, or both alkalis, so its soap has no factor",
                "name the lot of catalyst in every stage",
            )
        disordered = list(_order(log, entry))
        yield from disordered
        feed = soap_at(log, entry.record, "feed")
        if feed is not None and feed.detected and not disordered and not odd:
            if previous is not None and (
                feed.mg_per_kg > previous * TENFOLD or feed.mg_per_kg * TENFOLD < previous
            ):
                yield Problem(
                    "soap-jump",
                    entry.at("polish", "soap"),
                    f"feed soap jumps from {previous:.0f} to {feed.mg_per_kg:.0f} mg/kg",
                    "check the normality of the acid (0.1 N against 0.01 N) and the size of the sample",
                )
            previous = feed.mg_per_kg


def _catalysts_known(log: Log, batch: Batch) -> bool:
    """Whether every catalyst named is one; where not, that was told already."""
    materials = [log.material_of(use.lot) for stage in batch.reaction for use in stage.catalyst]
    return all(entry is not None and entry.record.kind == "catalyst" for entry in materials)


def _twice(entry: Entry[Batch]) -> Iterator[Problem]:
    assert entry.record.polish is not None
    seen: dict[str, int] = {}
    for number, sample in enumerate(entry.record.polish.soap):
        if sample.point in seen and not sample.retest:
            yield Problem(
                "sample-twice",
                entry.at("polish", "soap", number, "point"),
                f"a second sample at '{sample.point}', and only the last one counts",
                "write 'retest: true' if it repeats the first; name the other point if not",
                (entry.at("polish", "soap", seen[sample.point], "point"),),
            )
        seen[sample.point] = number


def _usual_normality(log: Log) -> Decimal | None:
    """The normality of most soap titrations, mol/L."""
    return usual(
        sample.normality.exact
        for entry in log.batches.values()
        if entry.record.polish is not None
        for sample in entry.record.polish.soap
    )


def _normality(entry: Entry[Batch], usual: Decimal | None) -> Iterator[Problem]:
    """A point moved in the normality moves the soap tenfold, and nothing else shows it."""
    assert entry.record.polish is not None
    for number, sample in enumerate(entry.record.polish.soap):
        if usual is not None and sample.normality.exact in (usual * 10, usual / 10):
            yield Problem(
                "normality-odd",
                entry.at("polish", "soap", number, "normality"),
                f"acid of {sample.normality.text}, and this workshop's is {plainly(float(usual))} mol/L: ten times off",
                "check the label of the bottle; soap is in proportion to it",
            )


def _end_points(entry: Entry[Batch]) -> Iterator[Problem]:
    assert entry.record.polish is not None
    for number, sample in enumerate(entry.record.polish.soap):
        if sample.catalyst is not None and sample.catalyst.acid.value > sample.acid.value:
            yield Problem(
                "end-points-swapped",
                entry.at("polish", "soap", number, "catalyst", "acid"),
                f"the first end point ({sample.catalyst.acid.text}) lies beyond the second ({sample.acid.text})",
                "'acid' is all acid used, to the second end point; 'catalyst' is what it took to the first",
                (entry.at("polish", "soap", number, "acid"),),
            )


def _blanks(log: Log, entry: Entry[Batch]) -> Iterator[Problem]:
    slack = 3 * 2**0.5 * log.settings.instruments.burette.value  # what two readings cannot tell apart
    assert entry.record.polish is not None
    for number, sample in enumerate(entry.record.polish.soap):
        if sample.acid.value < sample.blank.value - slack:
            place = entry.at("polish", "soap", number, "acid")
            yield Problem(
                "blank-above-reading",
                place,
                f"the reading ({sample.acid.text}) lies below the blank ({sample.blank.text})",
                "check which of the two was typed where",
                (entry.at("polish", "soap", number, "blank"),),
            )


def _order(log: Log, entry: Entry[Batch]) -> Iterator[Problem]:
    polish = entry.record.polish
    assert polish is not None
    purifier = log.purifiers.get(polish.purifier)
    vessels = [vessel.vessel for vessel in purifier.record.vessels] if purifier is not None else []
    points = ["feed", *(f"after {name}" for name in vessels), "product"]
    found = [(point, result) for point in points if (result := soap_at(log, entry.record, point)) is not None]
    for (before, inlet), (behind, outlet) in pairwise(found):
        if outlet.low_mg_per_kg > inlet.high_mg_per_kg * MARGIN:
            yield Problem(
                "outlet-above-inlet",
                entry.at("polish", "soap"),
                f"soap at '{behind}' ({outlet.mg_per_kg:.0f} mg/kg) is above '{before}' ({inlet.mg_per_kg:.0f} mg/kg)",
                "check which sample was which; a bed that gives soap back is exhausted",
            )
