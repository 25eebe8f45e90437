"""A titrant or a sample far from what this workshop always uses: a point moved in either moves the dose tenfold."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from datetime import date
from typing import TypeVar

from generator.fields import plainly
from generator.ledger.ledgers import Ledgers
from generator.log import Log, OilTitration
from generator.problems import Problem
from generator.records import Batch, Titrant
from generator.validate.checks.titrants import written_mol_per_l

Value = TypeVar("Value")
LEAST = 6  # fewer uses make no habit
FAR = 3.0  # times; 1 g/L of NaOH for 1 g/L of KOH is 1.4


def usual(values: Iterable[Value]) -> Value | None:
    """The value that more than three in four share; None where there are too few to have a habit."""
    written = Counter(values)
    if written.total() < LEAST:
        return None
    value, times = written.most_common(1)[0]
    return value if times * 4 > written.total() * 3 else None


def check(ledgers: Ledgers) -> Iterator[Problem]:
    """Hold titrant and sample of every batch to the habit; what was used before, and is no point moved, is a choice."""
    used = sorted(_of_batches(ledgers.log), key=lambda one: (_day(one), one.entry.id))
    strengths = [_mol_per_l(one.titration.titrant) for one in used]
    yield from (_odd(used[place], *pair) for place, pair in _unusual(strengths))
    by_volume = [one for one in used if one.titration.sample.kind == "volume"]
    samples = [one.titration.sample.value for one in by_volume]
    yield from (_odd_sample(by_volume[place], *pair) for place, pair in _unusual(samples))


def _unusual(values: Sequence[float]) -> Iterator[tuple[int, tuple[float, float]]]:
    """Values far from the habit, with the habit, by their place in time."""
    habit = usual(values)
    seen: set[float] = set()
    for place, value in enumerate(values):
        times = max(value / habit, habit / value) if habit and value else 1.0
        if habit is not None and (_is_tenfold(times) or (times > FAR and value not in seen)):
            yield place, (value, habit)
        seen.add(value)


def _odd_sample(one: OilTitration, sample_l: float, habit_l: float) -> Problem:
    return Problem(
        "sample-odd",
        one.entry.at(*one.path, "sample"),
        f"a sample of {one.titration.sample.text}, and this workshop's is {plainly(habit_l * 1000, 4)} mL",
        "check the pipette and the unit; acidity and dose go by it",
    )


def _of_batches(log: Log) -> Iterator[OilTitration]:
    return (one for one in log.titrations() if isinstance(one.entry.record, Batch))


def _day(one: OilTitration) -> date:
    day: date = one.entry.record.date
    return day


def _mol_per_l(titrant: Titrant) -> float:
    """The strength as written, of the pure base, to four digits: what a label says."""
    return float(f"{written_mol_per_l(titrant):.4g}")


def _is_tenfold(times: float) -> bool:
    return abs(times / 10 - 1) < 0.01


def _odd(one: OilTitration, strength: float, habit: float) -> Problem:
    by, far = (strength / habit, "as strong as") if strength > habit else (habit / strength, "weaker than")
    return Problem(
        "strength-odd",
        one.entry.at(*one.path, "titrant", "strength"),
        f"a titrant of {one.titration.titrant.strength.text} {one.titration.titrant.of}, {plainly(by, 2)} times {far} this workshop's",
        "check the label of the bottle; acidity and dose are in proportion to it",
    )
