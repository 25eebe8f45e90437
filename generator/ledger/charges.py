"""What is known of a charge and of each run through it; plain records of the columns' ledger."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import datetime

from generator.ledger.interval import Interval
from generator.problems import Problem
from generator.records import Medium, Pack, Vessel

FEED, PRODUCT = "feed", "product"


def after(vessel: str) -> str:
    """The name of the sampling point behind a vessel."""
    return f"after {vessel}"


@dataclass(slots=True)
class Run:
    """One batch through one vessel; None is unknown."""

    batch: str
    purifier: str
    vessel: str
    position: str
    charge: str
    start: datetime
    hours: float
    fed_l: float | None
    fed_kg: float | None
    soap_in: Interval | None
    soap_out: Interval | None
    soap_g: Interval | None
    glycerol_g: float | None
    inlet_kpa: float | None
    estimate_g: float | None = None
    load_g: float | None = None
    glycerol_load_g: float | None = None

    @property
    def is_measured(self) -> bool:
        """Whether both of its samples were taken."""
        return self.soap_in is not None and self.soap_out is not None and self.soap_g is not None


@dataclass(slots=True)
class Charge:
    """One filling of one vessel, from packing to unloading."""

    id: str
    purifier: str
    vessel: Vessel
    position: str
    pack: Pack
    medium: Medium | None
    packed: datetime
    unloaded: datetime | None = None
    reason: str | None = None
    runs: list[Run] = field(default_factory=list)
    rinses: list[datetime] = field(default_factory=list)
    glycerol_g: float | None = 0.0

    @property
    def is_resin(self) -> bool:
        """Whether its medium exchanges soap for acid."""
        return self.medium is not None and self.medium.type == "resin"

    def capacity_g(self, of: str) -> float | None:
        """What the medium's row says this much of it takes up; None where the row gives no figure."""
        for ledger in self.medium.ledgers if self.medium else ():
            if ledger.of == of and ledger.capacity is not None:
                by_mass = ledger.capacity.kind == "capacity by mass"
                return ledger.capacity.value * (self.pack.mass.value if by_mass else self.pack.bed.value)
        return None

    def resets(self, of: str, by: str) -> bool:
        """Whether an event of this kind sets the ledger back to zero."""
        return any(
            row.of == of and row.reset_by == by for row in (self.medium.ledgers if self.medium else ())
        )

    @property
    def fuel_l(self) -> float | None:
        """Fuel treated so far; None where a run's volume is unknown."""
        known = [run.fed_l for run in self.runs]
        return (
            None
            if any(litres is None for litres in known)
            else sum(litres for litres in known if litres is not None)
        )

    @property
    def soap_low_g(self) -> float:
        """Soap taken up, at least."""
        return sum(run.soap_g.low for run in self.runs if run.soap_g is not None)

    @property
    def soap_high_g(self) -> float | None:
        """Soap taken up, at most; None where nothing bounds one of the runs."""
        if any(run.soap_g is None for run in self.runs):
            return None
        return sum(run.soap_g.high for run in self.runs if run.soap_g is not None)

    @property
    def estimate_g(self) -> float | None:
        """Soap taken up, with the charge's median load for runs without samples; None where no run has any."""
        return self.runs[-1].load_g if self.runs else 0.0


@dataclass(slots=True)
class Columns:
    """All charges and runs of all purifiers, and what could not have happened."""

    charges: list[Charge] = field(default_factory=list)
    problems: list[Problem] = field(default_factory=list)

    @property
    def runs(self) -> Iterator[Run]:
        """All runs, charge by charge."""
        return (run for charge in self.charges for run in charge.runs)

    def exchanged_mg_per_kg(self) -> dict[str, Interval | None]:
        """By batch, the soap that resins took from it; None where a sample is missing.

        A batch that met no resin is left out. What an absorbent held does not count: it sets no acid free.
        """
        out: dict[str, Interval | None] = {}
        for charge in self.charges:
            for run in charge.runs if charge.is_resin else ():
                before = out.get(run.batch, Interval(0.0, 0.0))
                known = before is not None and run.soap_g is not None and run.is_measured and run.fed_kg
                out[run.batch] = (
                    before.plus(run.soap_g.times(1000 / run.fed_kg))  # type: ignore[operator,union-attr]
                    if known
                    else None
                )
        return out

    def fresh_heel_l(self) -> dict[str, float | None]:
        """By batch, the fuel that beds it met first should keep in their voids, L; None where a medium is unknown."""
        out: dict[str, float | None] = {}
        for charge in self.charges:
            if charge.runs:
                first = charge.runs[0].batch
                room = out.get(first, 0.0)
                known = room is not None and charge.medium is not None
                out[first] = (
                    room + float(charge.medium.void) * charge.pack.bed.value  # type: ignore[operator,union-attr]
                    if known
                    else None
                )
        return out

    def in_service(self) -> list[Charge]:
        """The charges that were not unloaded."""
        return [charge for charge in self.charges if charge.unloaded is None]
