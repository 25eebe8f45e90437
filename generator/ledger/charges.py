"""What is known of a charge, of each run through it, and of each pass through a whole line; plain records."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import datetime
from itertools import pairwise

from generator.ledger.gauges import Gauged
from generator.ledger.interval import Interval
from generator.ledger.soap import Soap
from generator.problems import Place, Problem
from generator.records import Medium, MediumLedger, Pack, Vessel

FEED, PRODUCT = "feed", "product"
MEASURED, BOUNDED, PREDICTED = (
    "measured",
    "bounded",
    "predicted",
)  # how well a run's uptake is known, best first


def after(vessel: str) -> str:
    """The name of the sampling point behind a vessel."""
    return f"after {vessel}"


@dataclass(slots=True)
class Run:
    """One batch through one vessel; None is unknown.

    `basis` says what the uptake rests on: its own two samples, samples further off that bound it, or a feed that had to
    be predicted. `place` counts the vessels in line from 0.
    """

    batch: str
    number: int
    purifier: str
    vessel: str
    place: int
    position: str
    charge: str
    start: datetime
    hours: float
    fed_l: float | None
    fed_kg: float | None
    gauged: Gauged
    soap_in: Interval | None = None
    soap_out: Interval | None = None
    soap_g: Interval | None = None
    estimate_g: float | None = None
    basis: str | None = None
    soap_g_per_mol: float | None = None
    glycerol_g: float | None = None
    load_g: float | None = None
    glycerol_load_g: float | None = None

    @property
    def is_measured(self) -> bool:
        """Whether both of its samples were taken."""
        return self.basis == MEASURED


@dataclass(frozen=True, slots=True)
class Reset:
    """A rinse or a regeneration, behind so many runs of the charge."""

    at: datetime
    by: str
    runs: int
    spent: bool


@dataclass(frozen=True, slots=True)
class Life:
    """Soap a charge had taken up when it was unloaded or regenerated, g; only one that was `spent` shows a capacity."""

    charge: str
    ended: datetime
    spent: bool
    low_g: float | None
    estimate_g: float | None
    high_g: float | None


@dataclass(slots=True)
class Held:
    """What a ledger of a charge holds now, g: at least, as estimated, at most; None is unknown."""

    low: float | None = 0.0
    estimate: float | None = 0.0
    high: float | None = 0.0


@dataclass(slots=True)
class Charge:
    """One filling of one vessel, from packing to unloading."""

    id: str
    purifier: str
    vessel: Vessel
    position: str
    place: int
    in_line: int
    written: Place = field(compare=False)
    pack: Pack
    medium: Medium | None
    packed: datetime
    unloaded: datetime | None = None
    reason: str | None = None
    spent: bool = False
    drained_l: float | None = None
    runs: list[Run] = field(default_factory=list)
    resets: list[Reset] = field(default_factory=list)
    soap: Held = field(default_factory=Held)
    glycerol: Held = field(default_factory=Held)
    exchanged_mol: float | None = 0.0
    lives: list[Life] = field(default_factory=list)

    @property
    def is_resin(self) -> bool:
        """Whether its medium exchanges soap for acid."""
        return self.medium is not None and self.medium.type == "resin"

    @property
    def is_last(self) -> bool:
        """Whether nothing stands behind it, in a line of more than one."""
        return self.in_line > 1 and self.place == self.in_line - 1

    def ledger(self, of: str) -> MediumLedger | None:
        """The medium's row of this ledger."""
        return next((row for row in (self.medium.ledgers if self.medium else ()) if row.of == of), None)

    def amount_of_medium(self, of: str) -> float:
        """How much medium there is, in what its capacity counts by: kg, or L of bed."""
        row = self.ledger(of)
        by_bed = row is not None and row.capacity is not None and row.capacity.kind != "capacity by mass"
        return self.pack.bed.value if by_bed else self.pack.mass.value

    def capacity_g(self, of: str) -> float | None:
        """What the medium's row says this much of it takes up; None where the row gives no figure."""
        row = self.ledger(of)
        return row.capacity.value * self.amount_of_medium(of) if row is not None and row.capacity else None

    def left_by(self, of: str, by: str) -> float | None:
        """The share of a ledger that an event of this kind leaves; None where it leaves all."""
        row = self.ledger(of)
        return row.leaves.value / 100 if row is not None and row.reset_by == by else None

    @property
    def void_l(self) -> float | None:
        """Fuel that the bed holds between its grains; None where its medium is unknown."""
        return float(self.medium.void) * self.pack.bed.value if self.medium is not None else None

    @property
    def fuel_l(self) -> float | None:
        """Fuel treated so far; None where a run's volume is unknown."""
        return _sum(run.fed_l for run in self.runs)

    @property
    def fuel_kg(self) -> float | None:
        """Fuel treated so far; None where a run's volume is unknown."""
        return _sum(run.fed_kg for run in self.runs)


@dataclass(frozen=True, slots=True)
class Taken:
    """What the beds from one sampling point to the next took together, g; each of several took from nothing to all."""

    beds: range
    grams: Interval
    basis: str


@dataclass(slots=True)
class Pass:
    """One run of a batch through what stood in line, with the soap found at each point: feed, behind each bed."""

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
    note: str | None


@dataclass(slots=True)
class Columns:
    """All charges and runs of all purifiers, and what could not have happened."""

    charges: list[Charge] = field(default_factory=list)
    passes: list[Pass] = field(default_factory=list)
    happened: list[Happened] = field(default_factory=list)
    problems: list[Problem] = field(default_factory=list)
    refilled_l: dict[str, float] = field(default_factory=dict)

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
                fed[one.batch] = _plus(fed.get(one.batch, 0.0), one.fed_kg)
            if any(charge.is_resin for charge in one.line):
                before, exchanged = out.get(one.batch, Interval(0.0, 0.0)), one.exchanged_g
                known = before is not None and exchanged is not None
                out[one.batch] = before.plus(exchanged) if known else None  # type: ignore[union-attr,arg-type]
        return {
            batch: grams.times(1000 / kg) if grams is not None and (kg := fed.get(batch)) else None
            for batch, grams in out.items()
        }

    def fresh_heel_l(self) -> dict[str, float | None]:
        """By batch, the fuel that beds it met first should keep in their voids, L; None where a medium is unknown.

        Fuel that was drained in a rest before it is filled up again.
        """
        out: dict[str, float | None] = dict(self.refilled_l)
        for charge in self.charges:
            if charge.runs:
                first = charge.runs[0].batch
                out[first] = _plus(out.get(first, 0.0), charge.void_l)
        return out

    def stood_before(self) -> dict[str, dict[str, float | None]]:
        """By batch, the fuel that stood in its beds when it came, L, by the batch it was of."""
        out: dict[str, dict[str, float | None]] = {}
        for charge in self.charges:
            for before, run in pairwise(charge.runs):
                if before.batch != run.batch:
                    of = out.setdefault(run.batch, {})
                    of[before.batch] = _plus(of.get(before.batch, 0.0), charge.void_l)
        return out

    def in_service(self) -> list[Charge]:
        """The charges that were not unloaded."""
        return [charge for charge in self.charges if charge.unloaded is None]


def _plus(one: float | None, other: float | None) -> float | None:
    return None if one is None or other is None else one + other


def _sum(values: Iterator[float | None]) -> float | None:
    total: float | None = 0.0
    for value in values:
        total = _plus(total, value)
    return total
