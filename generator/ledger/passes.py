"""Each pass of a batch through a whole line, what happened to the purifiers, and all of it together; plain records."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import datetime
from itertools import pairwise

from generator.ledger.charges import PREDICTED, Charge, Run, plus
from generator.ledger.interval import Interval
from generator.ledger.soap import Soap
from generator.problems import Problem
from generator.records import Event


@dataclass(frozen=True, slots=True)
class Taken:
    """What the beds from one sampling point to the next took together, g; each of several took from nothing to all."""

    beds: range
    grams: Interval
    basis: str


@dataclass(slots=True)
class Pass:
    """One run of a batch through what stood in line, with the soap found at each point: feed, behind each bed.

    `round_kg` is the fuel that went round the line.
    """

    batch: str
    number: int
    purifier: str
    again: bool
    start: datetime
    line: list[Charge]
    vessels: list[str]
    points: list[str]
    soap: list[Soap | None]
    runs: list[Run]
    fed_kg: float | None
    round_kg: float | None
    feed: Interval | None = None
    feed_estimate: float | None = None
    feed_basis: str | None = None
    taken: list[Taken] = field(default_factory=list)

    @property
    def exchanged_g(self) -> Interval | None:
        """Soap that the resins of the line took together; None where no sample bounds it."""
        total = Interval(0.0, 0.0)
        bounded = 0
        for taken in self.taken:
            resins = [self.line[place].is_resin for place in taken.beds]
            bounded += len(resins)
            if not any(resins):
                continue
            if taken.basis == PREDICTED:
                return None
            least = taken.grams.low if all(resins) else min(taken.grams.low, 0.0)
            total = total.plus(Interval(least, taken.grams.high))
        return total if bounded == len(self.line) else None


@dataclass(frozen=True, slots=True)
class Happened:
    """An event of a purifier, with the charge it happened to; a rest happens to none."""

    at: datetime
    purifier: str
    event: str
    vessel: str | None
    charge: str | None
    place: str | None
    of: Event


@dataclass(slots=True)
class Columns:
    """All charges and runs of all purifiers, and what could not have happened."""

    charges: list[Charge] = field(default_factory=list)
    passes: list[Pass] = field(default_factory=list)
    happened: list[Happened] = field(default_factory=list)
    problems: list[Problem] = field(default_factory=list)

    @property
    def runs(self) -> Iterator[Run]:
        """All runs, charge by charge."""
        return (run for charge in self.charges for run in charge.runs)

    def exchanged_mg_per_kg(self) -> dict[str, Interval | None]:
        """By batch, the soap that resins took from it; None where no sample bounds it.

        A batch that met no resin is left out. What an absorbent held does not count: it sets no acid free.
        """
        fed: dict[str, float | None] = {}
        out: dict[str, Interval | None] = {}
        for one in self.passes:
            if not one.again:
                fed[one.batch] = plus(fed.get(one.batch, 0.0), one.fed_kg)
            if any(charge.is_resin for charge in one.line):
                before, exchanged = out.get(one.batch, Interval(0.0, 0.0)), one.exchanged_g
                known = before is not None and exchanged is not None
                out[one.batch] = before.plus(exchanged) if known else None  # type: ignore[union-attr,arg-type]
        return {
            batch: grams.times(1000 / kg) if grams is not None and (kg := fed.get(batch)) else None
            for batch, grams in out.items()
        }

    def fresh_heel_l(self) -> dict[str, float | None]:
        """By batch, the fuel that beds it met first, or first behind a rinse, should keep in their voids, L.

        None where a medium is unknown. Fuel that a rest drained out of a bed before it is filled up again.
        """
        out: dict[str, float | None] = {}
        for charge in self.charges:
            for number, run in enumerate(charge.runs):
                taken = charge.to_fill_l(number)
                if taken != 0:
                    out[run.batch] = plus(out.get(run.batch, 0.0), taken)
        return out

    def stood_before(self) -> dict[str, dict[str, float | None]]:
        """By batch, the fuel that stood in its beds when it came, L, by the batch it was of."""
        out: dict[str, dict[str, float | None]] = {}
        for charge in self.charges:
            for number, (before, run) in enumerate(pairwise(charge.runs), 1):
                stood = charge.stood_l(number)
                if before.batch != run.batch and stood != 0:
                    of = out.setdefault(run.batch, {})
                    of[before.batch] = plus(of.get(before.batch, 0.0), stood)
        return out

    def in_service(self) -> list[Charge]:
        """The charges that were not unloaded."""
        return [charge for charge in self.charges if charge.unloaded is None]
