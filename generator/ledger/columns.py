"""The life of every charge: events and runs of a purifier folded in time.

Order and positions come from recorded events only. Each medium keeps the ledgers it declares: soap held or exchanged,
glycerol held. A rinse resets what the medium says it resets, never the soap it exchanged. What a missing sample leaves
open stays open: an interval for what is bounded, nothing where not even that is known.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import datetime
from statistics import median

from generator.formulas.columns import taken_up_g
from generator.ledger.basis import FUEL, amount, density_line
from generator.ledger.bench import Soap, soap_at
from generator.ledger.interval import Interval
from generator.log import Entry, Log
from generator.problems import Place, Problem
from generator.records import Batch, Medium, Pack, Purifier, Rinse, Rotate, Unload, Vessel

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
    estimate_g: float = 0.0
    load_g: float = 0.0
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
    def estimate_g(self) -> float:
        """Soap taken up, with the charge's median load for runs without samples."""
        return sum(run.estimate_g for run in self.runs)


@dataclass(slots=True)
class Columns:
    """All charges and runs of all purifiers, and what could not have happened."""

    charges: list[Charge] = field(default_factory=list)
    problems: list[Problem] = field(default_factory=list)

    @property
    def runs(self) -> Iterator[Run]:
        """All runs, charge by charge."""
        return (run for charge in self.charges for run in charge.runs)

    def in_service(self) -> list[Charge]:
        """The charges that were not unloaded."""
        return [charge for charge in self.charges if charge.unloaded is None]

    def of_batch(self, batch_id: str) -> list[Charge]:
        """The charges a batch ran through, in the order of the fuel."""
        return [charge for charge in self.charges if any(run.batch == batch_id for run in charge.runs)]


def fold(log: Log) -> Columns:
    """Fold every purifier's events and runs."""
    found = Columns()
    for entry in log.purifiers.values():
        _Line(log, entry, found).fold()
    for charge in found.charges:
        _estimate(charge)
    return found


class _Line:
    """One purifier while its history is read: which charge stands in which vessel."""

    def __init__(self, log: Log, entry: Entry[Purifier], found: Columns) -> None:
        self.log, self.entry, self.found = log, entry, found
        self.vessels = {vessel.vessel: vessel for vessel in entry.record.vessels}
        self.order = list(self.vessels)
        self.standing: dict[str, Charge] = {}
        self.counts: dict[str, int] = {}

    def fold(self) -> None:
        runs: list[tuple[datetime, int, str, Entry[Batch] | int]] = [
            (batch.record.polish.start, 1, batch.id, batch)
            for batch in self.log.batches.values()
            if batch.record.polish is not None and batch.record.polish.purifier == self.entry.id
        ]
        events = [
            (event.date, 0, f"{number:06}", number) for number, event in enumerate(self.entry.record.history)
        ]
        for _, _, _, item in sorted([*runs, *events], key=lambda step: step[:3]):
            if isinstance(item, int):
                self.event(item)
            else:
                self.run(item)

    def position(self, vessel: str) -> str:
        place = self.order.index(vessel)
        if place == 0:
            return "lead"
        return "lag" if place == len(self.order) - 1 else f"place {place + 1}"

    def problem(self, code: str, place: Place, message: str, hint: str, *related: Place) -> None:
        self.found.problems.append(Problem(code, place, message, hint, related))

    def event(self, number: int) -> None:
        event = self.entry.record.history[number]
        if event.vessel not in self.vessels:
            return  # told by the check of references
        place = self.entry.at("history", number, "vessel")
        charge = self.standing.get(event.vessel)
        if isinstance(event, Pack):
            self.pack(event, place, charge)
        elif charge is None:
            self.problem(
                "vessel-empty",
                place,
                f"vessel {event.vessel} is empty on {event.date:%Y-%m-%d}, so there is nothing to {event.event}",
                "write the pack event that is missing, or correct the date",
            )
        elif isinstance(event, Unload):
            charge.unloaded, charge.reason = event.date, event.reason
            del self.standing[event.vessel]
        elif isinstance(event, Rinse):
            charge.rinses.append(event.date)
            if charge.resets("glycerol", "rinse"):
                charge.glycerol_g = 0.0
        else:
            self.rotate(event, place, charge)

    def pack(self, event: Pack, place: Place, charge: Charge | None) -> None:
        if charge is not None:
            self.problem(
                "vessel-full",
                place,
                f"vessel {event.vessel} still holds charge {charge.id} on {event.date:%Y-%m-%d}",
                "write the unload event that is missing, or correct the date",
            )
            return
        self.counts[event.vessel] = self.counts.get(event.vessel, 0) + 1
        medium = self.log.materials.get(event.medium)
        self.standing[event.vessel] = Charge(
            id=f"{self.entry.id}-{event.vessel}-{self.counts[event.vessel]}",
            purifier=self.entry.id,
            vessel=self.vessels[event.vessel],
            position=self.position(event.vessel),
            pack=event,
            medium=medium.record if medium is not None and isinstance(medium.record, Medium) else None,
            packed=event.date,
        )
        self.found.charges.append(self.standing[event.vessel])

    def rotate(self, event: Rotate, place: Place, charge: Charge) -> None:
        other = self.standing.get(event.with_vessel)
        if other is None or charge.medium is None or other.medium is None:
            self.problem(
                "vessel-empty",
                place,
                f"vessel {event.with_vessel} holds nothing to change places with",
                "write the pack event that is missing",
            )
        elif charge.medium.type != other.medium.type:
            self.problem(
                "rotate-unlike",
                place,
                f"{charge.vessel.vessel} holds an {charge.medium.type}, {other.vessel.vessel} a {other.medium.type}: a guard and a polisher cannot change places",
                "repack the spent vessel instead; only media of one type rotate",
            )
        else:
            first, second = self.order.index(event.vessel), self.order.index(event.with_vessel)
            self.order[first], self.order[second] = self.order[second], self.order[first]
            charge.position, other.position = self.position(event.vessel), self.position(event.with_vessel)

    def run(self, entry: Entry[Batch]) -> None:
        polish = entry.record.polish
        assert polish is not None
        empty = [name for name in self.order if name not in self.standing]
        if empty:
            place = entry.at("polish", "start")
            self.problem(
                "vessel-empty",
                place,
                f"vessel {', '.join(empty)} of {self.entry.id} is empty when this run starts",
                "write the pack event that is missing, or correct the date",
                self.entry.at("purifier"),
            )
        points = self.points(entry.record)
        volume = (
            amount(self.log, polish.volume, density_line(self.log, FUEL))
            if polish.volume is not None
            else None
        )
        hours = (polish.end - polish.start).total_seconds() / 3600
        for place_in_line, name in enumerate(self.order):
            charge = self.standing.get(name)
            if charge is None:
                continue
            inlet, outlet = points[place_in_line], points[place_in_line + 1]
            ends = _ends(points, place_in_line)
            kg = volume.kg if volume is not None else None
            pressures = [reading.inlet.value for reading in polish.readings if reading.vessel == name]
            run = Run(
                batch=entry.id,
                purifier=self.entry.id,
                vessel=name,
                position=self.position(name),
                charge=charge.id,
                start=polish.start,
                hours=hours,
                fed_l=volume.litres if volume is not None else None,
                fed_kg=kg,
                soap_in=inlet,
                soap_out=outlet,
                soap_g=_taken(ends, inlet, outlet, kg),
                glycerol_g=_glycerol(charge, kg),
                inlet_kpa=max(pressures, default=None),
            )
            charge.runs.append(run)
            known = charge.glycerol_g is not None and run.glycerol_g is not None
            charge.glycerol_g = charge.glycerol_g + run.glycerol_g if known else None  # type: ignore[operator]
            run.glycerol_load_g = charge.glycerol_g

    def points(self, batch: Batch) -> list[Interval | None]:
        """Soap at every point of the line: feed, after each vessel, product."""
        names = [FEED, *(after(name) for name in self.order[:-1]), PRODUCT]
        found = [soap_at(self.log, batch, name) for name in names]
        if found[-1] is None:
            found[-1] = soap_at(self.log, batch, after(self.order[-1]))
        return [_interval(result) for result in found]


def _interval(result: Soap | None) -> Interval | None:
    return Interval(result.low_mg_per_kg, result.high_mg_per_kg) if result is not None else None


def _ends(points: list[Interval | None], place: int) -> Interval | None:
    """The most a bed can have taken: from the nearest sample before it to the nearest behind it."""
    before = next((point for point in reversed(points[: place + 1]) if point is not None), None)
    behind = next((point for point in points[place + 1 :] if point is not None), None)
    return before.minus(behind) if before is not None and behind is not None else None


def _taken(
    ends: Interval | None, inlet: Interval | None, outlet: Interval | None, kg: float | None
) -> Interval | None:
    if kg is None or ends is None:
        return None
    whole = Interval(taken_up_g(ends.low, 0.0, kg), taken_up_g(ends.high, 0.0, kg))
    return whole if inlet is not None and outlet is not None else Interval(0.0, whole.high)


def _glycerol(charge: Charge, kg: float | None) -> float | None:
    """Glycerol that stays in the bed, from the inlet content the maker assumes; zero where no such ledger is kept."""
    if not any(row.of == "glycerol" for row in (charge.medium.ledgers if charge.medium else ())):
        return 0.0
    inlet = charge.vessel.glycerol_inlet
    return taken_up_g(inlet.value, 0.0, kg) if inlet is not None and kg is not None else None


def _estimate(charge: Charge) -> None:
    """Fill runs without samples with the median of the measured ones; add up the load run by run."""
    measured = [run.soap_g.middle for run in charge.runs if run.is_measured and run.soap_g is not None]
    usual = median(measured) if measured else None
    load = 0.0
    for run in charge.runs:
        if run.soap_g is None:
            run.estimate_g = usual or 0.0
        elif run.is_measured:
            run.estimate_g = run.soap_g.middle
        else:
            fallback = run.soap_g.high if charge.position == "lead" else run.soap_g.low
            run.estimate_g = run.soap_g.held(usual if usual is not None else fallback)
        load += run.estimate_g
        run.load_g = load
