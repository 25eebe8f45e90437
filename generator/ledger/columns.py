"""The life of every charge: events and runs of a purifier folded in time.

Order and positions come from recorded events only. Each medium keeps the ledgers it declares: soap held or exchanged,
glycerol held. A rinse resets what the medium says it resets, never the soap it exchanged. What a missing sample leaves
open stays open: an interval for what is bounded, nothing where not even that is known.
"""

from __future__ import annotations

from datetime import datetime

from generator.ledger.basis import FUEL, amount, density_line
from generator.ledger.charges import FEED, PRODUCT, Charge, Columns, Run, after
from generator.ledger.interval import Interval
from generator.ledger.soap import soap_at
from generator.ledger.uptake import estimate, glycerol_g, interval_of, nearest_samples, taken
from generator.log import Entry, Log
from generator.problems import Place, Problem
from generator.records import Batch, Medium, Pack, Purifier, Rinse, Rotate, Unload


def fold(log: Log) -> Columns:
    """Fold every purifier's events and runs."""
    found = Columns()
    for entry in log.purifiers.values():
        _Line(log, entry, found).fold()
    for charge in found.charges:
        estimate(charge)
    return found


class _Line:
    """One purifier while its history is read: which charge stands in which vessel."""

    def __init__(self, log: Log, entry: Entry[Purifier], found: Columns) -> None:
        self.log, self.entry, self.found = log, entry, found
        self.vessels = {vessel.vessel: vessel for vessel in entry.record.vessels}
        self.order = list(self.vessels)
        self.standing: dict[str, Charge] = {}
        self.counts: dict[str, int] = {}
        self.told: set[str] = set()  # vessels of which it was said that they are empty

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
            # the check of references tells it; which vessel was meant is not known
            self.told |= set(self.vessels)
            return
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
        self.told.discard(event.vessel)
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
        empty = [name for name in self.order if name not in self.standing and name not in self.told]
        if empty:
            self.told |= set(empty)
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
            ends = nearest_samples(points, place_in_line)
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
                soap_g=taken(ends, inlet, outlet, kg),
                glycerol_g=glycerol_g(charge, kg),
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
        return [interval_of(result) for result in found]
