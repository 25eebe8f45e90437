"""An oil can be titrated as written: no negative demand, no replicate far off, a dose the logbook can compute."""

from __future__ import annotations

from collections.abc import Iterator

from generator.formulas.acidity import spread_pct
from generator.ledger.bench import Acidity
from generator.ledger.ledgers import Ledgers
from generator.problems import Place, Problem
from generator.records import Titration

MOST_SPREAD_PCT = 5.0
HIGH_FFA_PCT = 15.0


def check(ledgers: Ledgers) -> Iterator[Problem]:
    """Check every titration of an oil."""
    log = ledgers.log
    for batch in log.written_batches():
        planned = ledgers.doses.get(batch.id)
        found = (ledgers.facts[batch.id] if planned is None else planned.facts).acidity
        if found is not None:
            yield from _acidity(found, batch.at("titration", "readings"))
        if batch.record.titration is None:
            yield Problem(
                "no-titration",
                batch.at("batch"),
                f"batch {batch.id} has no titration, so its dose cannot be judged",
                "add 'titration:' if it was done",
            )
    for titration, entry, path in log.titrations():
        yield from _titration(titration, entry.at(*path, "readings"), entry.at(*path, "blank"))


def _acidity(found: Acidity, place: Place) -> Iterator[Problem]:
    told = f"the titration gives {found.ffa_pct:.3g} % free fatty acid"
    if found.ffa_pct > 100:
        yield Problem(
            "acidity-impossible",
            place,
            f"{told}, more than there can be",
            "check the units of readings, blank and sample (mL, not L), and the strength of the titrant",
        )
    elif found.ffa_pct > HIGH_FFA_PCT:
        yield Problem(
            "acidity-high",
            place,
            f"{told}, more than kitchen oil usually has",
            "check readings, sample and titrant for a factor of ten; an oil like this is no oil for alkali alone",
        )


def _titration(titration: Titration, readings: Place, blank: Place) -> Iterator[Problem]:
    values = [reading.value for reading in titration.readings]
    mean = sum(values) / len(values)
    if mean < titration.blank.value:
        yield Problem(
            "blank-above-reading",
            readings,
            f"the readings ({titration.readings[0].text} ...) lie below the blank ({titration.blank.text})",
            "check which of the two was typed where",
            (blank,),
        )
        return
    if len(values) > 1 and mean > 0 and spread_pct(values) > MOST_SPREAD_PCT:
        outlier = max(titration.readings, key=lambda reading: abs(reading.value - mean))
        yield Problem(
            "replicate-spread",
            readings,
            f"the readings spread over {spread_pct(values):.0f} % of their mean; {outlier.text} is farthest off",
            "titrate once more and leave the odd one out, with a note",
        )
