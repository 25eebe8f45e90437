"""The life of every charge: events and runs of a purifier folded in time.

Order and positions come from recorded events only. Each medium keeps the ledgers it declares: soap held or exchanged,
glycerol held. A rinse resets what the medium says it resets, never the soap it exchanged. What a missing sample leaves
open stays open: an interval for what is bounded, nothing where not even that is known.
"""

from __future__ import annotations

from datetime import datetime

from generator.formulas.constants import SOAP_G_PER_MOL
from generator.language import tell
from generator.ledger.basis import FUEL, amount, density_line
from generator.ledger.charges import FEED, PRODUCT, Charge, Drain, Reset, Run, after
from generator.ledger.columns_refused import (
    drained_more,
    empty_in_run,
    no_exchange,
    no_resin,
    nothing_there,
    resting,
    still_full,
    unused,
)
from generator.ledger.gauges import gauged
from generator.ledger.passes import Columns, Happened, Pass
from generator.ledger.soap import alkali, soap_of_run
from generator.ledger.uptake import accumulate, attribute
from generator.log import Entry, Log
from generator.problems import Place, Problem
from generator.records import (
    Batch,
    Event,
    Medium,
    Pack,
    Purifier,
    Regenerate,
    Rest,
    Rinse,
    Rotate,
    Unload,
)
from generator.units import Quantity


def fold(log: Log) -> Columns:
    """Fold every purifier's events and runs."""
    found = Columns()
    by_purifier: dict[str, list[tuple[Entry[Batch], int]]] = {}
    for batch in log.batches.values():
        for number, run in enumerate(batch.record.polish):
            by_purifier.setdefault(run.purifier, []).append((batch, number))
    for entry in log.purifiers.values():
        line = _Line(log, entry, found)
        line.fold(by_purifier.get(entry.id, []))
        attribute(line.passes, entry.record)
        found.passes += line.passes
    for charge in found.charges:
        accumulate(charge)
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
        self.passes: list[Pass] = []
        self.resting: tuple[datetime, int] | None = None

    def fold(self, runs: list[tuple[Entry[Batch], int]]) -> None:
        steps: list[tuple[datetime, int, str, int, Entry[Batch] | None]] = [
            (batch.record.polish[number].start, 1, batch.id, number, batch) for batch, number in runs
        ]
        steps += [
            (event.date, 0, f"{number:06}", number, None)
            for number, event in enumerate(self.entry.record.history)
        ]
        for _, _, _, number, batch in sorted(steps, key=lambda step: step[:4]):
            if batch is None:
                self.event(number)
            else:
                self.run(batch, number)

    def position(self, vessel: str) -> str:
        place = self.order.index(vessel)
        if place == 0:
            return "lead"
        return tell("lag") if place == len(self.order) - 1 else tell("place {number}", number=place + 1)

    def refuse(self, problem: Problem | None) -> bool:
        """Keep a problem; whether there was one."""
        if problem is not None:
            self.found.problems.append(problem)
        return problem is not None

    def event(self, number: int) -> None:
        event = self.entry.record.history[number]
        if isinstance(event, Rest):
            if self.resting is None or event.until > self.resting[0]:
                self.resting = (event.until, number)
            self.happened(event, None)
            self.drain(event, self.entry.at("history", number, "drained"))
            return
        if event.vessel not in self.vessels:
            # the check of references tells it; which vessel was meant is not known
            self.told |= set(self.vessels)
            return
        place = self.entry.at("history", number, "vessel")
        charge = self.standing.get(event.vessel)
        if isinstance(event, Pack):
            self.pack(event, place, charge)
        elif charge is None:
            self.refuse(nothing_there(event, place))
        elif isinstance(event, Unload):
            self.refuse(unused(event, place, charge))
            charge.unloaded, charge.reason, charge.spent = event.date, event.reason, event.spent
            charge.drained_l = self.carried(event.drained)[0]
            self.happened(event, charge)
            del self.standing[event.vessel]
        elif isinstance(event, Rotate):
            self.rotate(event, place, charge)
        else:
            self.reset(event, place, charge)

    def drain(self, event: Rest, place: Place) -> None:
        """Fuel runs out of the beds that hold any, of each by what it still holds; of more, the rest stood above them."""
        litres = self.carried(event.drained)[0] or 0.0
        room = sum(vessel.volume.value for vessel in self.vessels.values())
        self.refuse(drained_more(self.log, event, place, litres, list(self.standing.values()), room))
        held = {charge.id: charge.stood_l(len(charge.runs)) or 0.0 for charge in self.standing.values()}
        for charge in self.standing.values():
            if litres and held[charge.id]:
                out_l = litres * held[charge.id] / sum(held.values())
                charge.drains.append(Drain(len(charge.runs), out_l))

    def happened(self, event: Event, charge: Charge | None) -> None:
        """Keep what happened, with where the charge stands behind it."""
        self.found.happened.append(
            Happened(
                at=event.date,
                purifier=self.entry.id,
                event=event.event,
                vessel=charge.vessel.vessel if charge is not None else None,
                charge=charge.id if charge is not None else None,
                place=charge.position if charge is not None else None,
                of=event,
            )
        )

    def reset(self, event: Rinse | Regenerate, place: Place, charge: Charge) -> None:
        if isinstance(event, Regenerate):
            self.refuse(no_resin(event, place, charge))
            self.refuse(unused(event, place, charge))
        spent = isinstance(event, Regenerate) and event.spent
        charge.resets.append(Reset(event.date, event.event, len(charge.runs), spent, event.used))
        self.happened(event, charge)

    def pack(self, event: Pack, place: Place, charge: Charge | None) -> None:
        if charge is not None:
            self.refuse(still_full(event, place, charge))
            return
        self.counts[event.vessel] = self.counts.get(event.vessel, 0) + 1
        self.told.discard(event.vessel)
        medium = self.log.materials.get(event.medium)
        self.standing[event.vessel] = Charge(
            id=f"{self.entry.id}-{event.vessel}-{self.counts[event.vessel]}",
            purifier=self.entry.id,
            vessel=self.vessels[event.vessel],
            position=self.position(event.vessel),
            place=self.order.index(event.vessel),
            in_line=len(self.order),
            written=place,
            pack=event,
            medium=medium.record if medium is not None and isinstance(medium.record, Medium) else None,
            packed=event.date,
        )
        self.found.charges.append(self.standing[event.vessel])
        self.happened(event, self.standing[event.vessel])

    def rotate(self, event: Rotate, place: Place, charge: Charge) -> None:
        other = self.standing.get(event.with_vessel)
        if self.refuse(no_exchange(event, place, charge, other)):
            return
        assert other is not None
        first, second = self.order.index(event.vessel), self.order.index(event.with_vessel)
        self.order[first], self.order[second] = self.order[second], self.order[first]
        for one in (charge, other):
            one.position = self.position(one.vessel.vessel)
            one.place = self.order.index(one.vessel.vessel)
            self.happened(event, one)

    def run(self, entry: Entry[Batch], number: int) -> None:
        run = entry.record.polish[number]
        wanted = [name for name in self.order if not run.through or name in run.through]
        empty = [name for name in wanted if name not in self.standing and name not in self.told]
        if empty:
            self.told |= set(empty)
            self.refuse(empty_in_run(entry, number, self.entry, empty))
        if self.resting is not None and run.start < self.resting[0]:
            self.refuse(resting(entry, number, self.entry, self.resting[1]))
        names = [name for name in wanted if name in self.standing]
        if not names:
            return
        base = alkali(self.log, entry.record)
        points = [FEED, *(after(name) for name in names[:-1]), PRODUCT]
        soap = [soap_of_run(self.log, run, point, base) for point in points]
        if soap[-1] is None:
            soap[-1] = soap_of_run(self.log, run, after(names[-1]), base)
        runs = self.runs_of(entry, number, names, base)
        line = [self.standing[name] for name in names]
        for charge, made in zip(line, runs, strict=True):
            charge.runs.append(made)
        self.passes.append(
            Pass(
                batch=entry.id,
                number=number,
                purifier=self.entry.id,
                again=run.again,
                start=run.start,
                line=line,
                vessels=names,
                points=points,
                soap=soap,
                runs=runs,
                fed_kg=runs[0].fed_kg,
                round_kg=self.carried(run.bypassed)[1] if run.bypassed is not None else 0.0,
            )
        )

    def runs_of(self, entry: Entry[Batch], number: int, names: list[str], base: str | None) -> list[Run]:
        """The run of a batch through each vessel in line; what went round them is taken off."""
        run = entry.record.polish[number]
        litres, kg = self.carried(run.volume)
        round_l, round_kg = self.carried(run.bypassed) if run.bypassed is not None else (0.0, 0.0)
        fed_l = litres - round_l if litres is not None and round_l is not None else None
        fed_kg = kg - round_kg if kg is not None and round_kg is not None else None
        pressures = gauged(run.readings, names)
        return [
            Run(
                batch=entry.id,
                number=number,
                purifier=self.entry.id,
                vessel=name,
                place=place,
                position=self.position(name),
                charge=self.standing[name].id,
                start=run.start,
                hours=(run.end - run.start).total_seconds() / 3600,
                fed_l=fed_l,
                fed_kg=fed_kg,
                again=run.again and any(one.batch == entry.id for one in self.standing[name].runs),
                gauged=pressures[name],
                soap_g_per_mol=SOAP_G_PER_MOL[base] if base is not None else None,
            )
            for place, name in enumerate(names)
        ]

    def carried(self, quantity: Quantity | None) -> tuple[float | None, float | None]:
        """Litres at the reference temperature and kilograms of an amount of fuel."""
        if quantity is None:
            return None, None
        found = amount(self.log, quantity, density_line(self.log, FUEL))
        return found.litres, found.kg
