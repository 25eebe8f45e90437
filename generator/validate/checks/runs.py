"""The samples of a run make sense beside each other: no outlet above its inlet, no feed ten times the one before."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from generator.ledger.charges import PRODUCT, after
from generator.ledger.ledgers import Ledgers
from generator.ledger.passes import Pass
from generator.ledger.soap import Soap
from generator.log import Entry, Log
from generator.problems import Place, Problem
from generator.records import Batch
from generator.validate.checks.samples import normality_odd, usual_normality

TENFOLD = 8.0
MARGIN = 1.25
GAUGE_KPA = 5.0  # half a division of the gauges that are usual on columns; common practice, no source


def check(ledgers: Ledgers) -> Iterator[Problem]:
    """Check what was sampled along every line, in the order in which the vessels stood that day."""
    log, doubted = ledgers.log, set()
    for one in ledgers.columns.passes:
        told = list(_order(log, one))
        if told:
            doubted.add(one.batch)
        yield from told
        yield from _pressures(log, one)
        yield from _line(log, one)
    yield from _jumps(ledgers, doubted)


def _order(log: Log, one: Pass) -> Iterator[Problem]:
    found = [
        (place, point, soap)
        for place, (point, soap) in enumerate(zip(one.points, one.soap, strict=True))
        if soap is not None
    ]
    for (_, before, inlet), (place, behind, outlet) in pairwise(found):
        most = inlet.high_mg_per_kg
        if most is not None and outlet.low_mg_per_kg > most * MARGIN:
            entry = log.batches[one.batch]
            last = after(one.vessels[place - 1])
            yield Problem(
                "outlet-above-inlet",
                _sample(entry, one.number, behind, last),
                f"soap at '{behind}' ({_text(outlet)}) is above '{before}' ({_text(inlet)})",
                "check which sample was which; a bed that gives soap back is exhausted",
                (_sample(entry, one.number, before, before),),
            )


def _pressures(log: Log, one: Pass) -> Iterator[Problem]:
    """Gauges read after as much fuel fall along the line, as far as they can be read."""
    readings = log.batches[one.batch].record.polish[one.number].readings
    along = {name: place for place, name in enumerate(one.vessels)}
    for number, reading in enumerate(readings):
        for earlier, other in enumerate(readings):
            if (
                reading.vessel not in along
                or other.vessel not in along
                or reading.after.value != other.after.value
            ):
                continue
            further_on = along[reading.vessel] > along[other.vessel]
            if further_on and reading.inlet.value > other.inlet.value + GAUGE_KPA:
                entry = log.batches[one.batch]
                yield Problem(
                    "pressure-rises",
                    entry.at("polish", one.number, "readings", number, "inlet"),
                    f"{reading.inlet.text} before {reading.vessel} is above {other.inlet.text} before {other.vessel}, which the fuel meets first",
                    "check which gauge was which, and whether both stand at zero when nothing flows",
                    (entry.at("polish", one.number, "readings", earlier, "inlet"),),
                )


def _line(log: Log, one: Pass) -> Iterator[Problem]:
    """What is written of the line is in its order, and its end has one name."""
    entry = log.batches[one.batch]
    run = entry.record.polish[one.number]
    named = [name for name in dict.fromkeys(run.through) if name in one.vessels]
    if named != [name for name in one.vessels if name in named]:
        yield Problem(
            "through-order",
            entry.at("polish", one.number, "through"),
            f"{', '.join(named)} are named in this order, and the fuel met {', '.join(one.vessels)} on {run.start:%Y-%m-%d}",
            "write them in the order in which the fuel comes to them; vessels that changed places need a 'rotate' event",
        )
    last = after(one.vessels[-1])
    points = [sample.point for sample in run.soap]
    wanted = run.through or log.purifiers[one.purifier].record.vessels
    if PRODUCT in points and last in points and len(wanted) == len(one.vessels):  # an empty one was told
        yield Problem(
            "sample-twice",
            entry.at("polish", one.number, "soap", points.index(last), "point"),
            f"'{last}' is the end of the line, as 'product' is, and only the product counts",
            "call it 'product', with 'retest: true' if it repeats that one",
            (entry.at("polish", one.number, "soap", points.index(PRODUCT), "point"),),
        )


def _text(soap: Soap) -> str:
    return f"{soap.mg_per_kg:.0f} mg/kg"


def _sample(entry: Entry[Batch], number: int, point: str, other: str) -> Place:
    """Where the last sample of a point is written; the product may be called by the vessel before it."""
    samples = entry.record.polish[number].soap
    places = [place for place, sample in enumerate(samples) if sample.point == point] or [
        place for place, sample in enumerate(samples) if sample.point == other
    ]
    return entry.at("polish", number, "soap", places[-1])


def _jumps(ledgers: Ledgers, doubted: set[str]) -> Iterator[Problem]:
    """A feed far from the one before it, where nothing else was told of either."""
    previous: float | None = None
    log = ledgers.log
    habit = usual_normality(log)
    for entry in log.batches_in_time():
        feed = ledgers.facts[entry.id].soap_feed
        odd = any(
            True
            for number, run in enumerate(entry.record.polish)
            for _ in normality_odd(entry, number, run, habit)
        )
        if feed is None or not feed.detected or odd or entry.id in doubted:
            continue
        if previous is not None and (
            feed.mg_per_kg > previous * TENFOLD or feed.mg_per_kg * TENFOLD < previous
        ):
            yield Problem(
                "soap-jump",
                entry.at("polish", 0, "soap"),
                f"feed soap jumps from {previous:.0f} to {feed.mg_per_kg:.0f} mg/kg",
                "check the normality of the acid (0.1 N against 0.01 N) and the size of the sample",
            )
        previous = feed.mg_per_kg
