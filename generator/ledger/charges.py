"""What is known of a charge and of each run through it; plain records."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from datetime import datetime

from generator.language import tell
from generator.ledger.gauges import Gauged
from generator.ledger.interval import Interval
from generator.problems import Place
from generator.records import Medium, MediumLedger, Pack, Use, Vessel

FEED, PRODUCT = "feed", "product"
MEASURED, BOUNDED, PREDICTED = (
    "measured",
    "bounded",
    "predicted",
)  # how well a run's uptake is known, best first


def after(vessel: str) -> str:
    """The name of the sampling point behind a vessel."""
    return tell("after {vessel}", vessel=vessel)


@dataclass(slots=True)
class Run:
    """One batch through one vessel; None is unknown.

    `basis` says what the uptake rests on: its own two samples, samples further off that bound it, or a feed that had to
    be predicted. `place` counts the vessels in line from 0. `again` is fuel of a batch that this charge has had before.
    `life` counts from 1, and goes up where a regeneration gave the bed its capacity back.
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
    again: bool
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
    life: int = 1

    @property
    def fuel_l(self) -> float | None:
        """What it adds to the fuel its charge has treated, L: nothing where that fuel had been through before."""
        return 0.0 if self.again else self.fed_l

    @property
    def is_measured(self) -> bool:
        """Whether both of its samples were taken."""
        return self.basis == MEASURED


@dataclass(frozen=True, slots=True)
class Reset:
    """A rinse or a regeneration, behind so many runs of the charge, with what was used for it."""

    at: datetime
    by: str
    runs: int
    spent: bool
    used: Use | None


@dataclass(frozen=True, slots=True)
class Drain:
    """Fuel that ran out of the bed in a rest, L, behind so many runs of the charge."""

    runs: int
    litres: float


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
    drains: list[Drain] = field(default_factory=list)
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

    def stood_l(self, runs: int) -> float | None:
        """Fuel that stood in its voids after so many runs, L: none in a fresh or washed bed, less what was drained."""
        if runs == 0 or self.washed(runs):
            return 0.0
        return max(self.void_l - self.out_l(runs), 0.0) if self.void_l is not None else None

    def to_fill_l(self, runs: int) -> float | None:
        """Fuel that the next run after so many leaves in it, L: its voids where it held none, else what was drained."""
        return self.void_l if runs == 0 or self.washed(runs) else self.out_l(runs)

    def washed(self, runs: int) -> bool:
        """Whether a rinse or a regeneration after so many runs took the place of its fuel."""
        return any(reset.runs == runs for reset in self.resets)

    def out_l(self, runs: int) -> float:
        """What ran out of it in rests after so many runs, L; more than its voids hold where some stood above the bed."""
        return sum(drain.litres for drain in self.drains if drain.runs == runs)

    @property
    def renewals(self) -> list[Reset]:
        """The regenerations that gave it its capacity for soap back; each begins a life."""
        return [reset for reset in self.resets if self.left_by("soap", reset.by) is not None]

    @property
    def life(self) -> int:
        """Which life it is in, from 1."""
        return 1 + len(self.renewals)

    @property
    def since(self) -> datetime:
        """When its present life began: packed, or last regenerated."""
        return self.renewals[-1].at if self.renewals else self.packed

    @property
    def present(self) -> list[Run]:
        """The runs of its present life; of its last one where it was unloaded."""
        life = self.life
        return [run for run in self.runs if run.life == life]

    @property
    def fuel_l(self) -> float | None:
        """Fuel treated so far, once where it went round again; None where a run's volume is unknown."""
        return sum_of(run.fuel_l for run in self.runs)

    @property
    def fuel_kg(self) -> float | None:
        """Fuel treated so far, once where it went round again; None where a run's volume is unknown."""
        return sum_of(0.0 if run.again else run.fed_kg for run in self.runs)

    @property
    def passed_l(self) -> float | None:
        """All that went through it, each time it did; None where a run's volume is unknown."""
        return sum_of(run.fed_l for run in self.runs)


def plus(one: float | None, other: float | None) -> float | None:
    """The sum; None where one of them is unknown."""
    return None if one is None or other is None else one + other


def sum_of(values: Iterable[float | None]) -> float | None:
    """All of them together; None where one is unknown."""
    total: float | None = 0.0
    for value in values:
        total = plus(total, value)
    return total
