"""A checked logbook: its records by id, each with the document it came from."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from datetime import date
from functools import cached_property
from pathlib import Path
from typing import Any, Generic, NamedTuple, TypeVar

from generator.kept import digest
from generator.problems import Place
from generator.read.attachments import Attachments
from generator.read.document import Document
from generator.records import (
    Batch,
    Lot,
    Material,
    Offer,
    Page,
    PriceSeries,
    Purifier,
    Record,
    Tank,
    Titration,
    Workshop,
    day_of,
)

R = TypeVar("R", bound=Record)
At = tuple[str | int, ...]


def over_on(item: Record) -> date | None:
    """The day on which something was over; None for what bears none, and belongs to what it stands in."""
    for name in ("end", "received", "date"):
        when = getattr(item, name, None)
        if when is not None:
            return day_of(when)
    return None


@dataclass(frozen=True)
class Entry(Generic[R]):
    """A record and where it stands."""

    id: str
    record: R
    document: Document
    base: tuple[str | int, ...] = ()

    def at(self, *path: str | int, key: bool = False) -> Place:
        """The place of one of its values."""
        return self.document.place(*self.base, *path, key=key)

    @cached_property
    def sign(self) -> str:
        """A short name of all that is written in it: another one as soon as anything is written otherwise."""
        return digest(self.id, repr(self.record))

    @cached_property
    def last_day(self) -> date:
        """The latest day that the record or an entry of its lists bears; the first of all days where none does."""
        items: list[Record] = [self.record]
        for _, listed in self.record:
            if isinstance(listed, tuple):
                items += [item for item in listed if isinstance(item, Record)]
        return max((day for item in items if (day := over_on(item)) is not None), default=date.min)


class OilTitration(NamedTuple):
    """A titration of an oil, with the record it is part of, its place in that, and the material of the oil."""

    titration: Titration
    entry: Entry[Any]
    path: At
    material: str | None


@dataclass(slots=True)
class Log:
    """All records of a logbook, by kind and id, in the order of their ids."""

    workshop: Entry[Workshop]
    materials: dict[str, Entry[Material]] = field(default_factory=dict)
    lots: dict[str, Entry[Lot]] = field(default_factory=dict)
    batches: dict[str, Entry[Batch]] = field(default_factory=dict)
    planned: dict[str, Entry[Batch]] = field(default_factory=dict)
    purifiers: dict[str, Entry[Purifier]] = field(default_factory=dict)
    tanks: dict[str, Entry[Tank]] = field(default_factory=dict)
    offers: dict[str, Entry[Offer]] = field(default_factory=dict)
    prices: dict[str, Entry[PriceSeries]] = field(default_factory=dict)
    pages: dict[str, Page] = field(default_factory=dict)
    as_of: date | None = None
    attachments: Attachments = field(default_factory=lambda: Attachments(Path()))
    _now: date | None = field(default=None, init=False, repr=False, compare=False)

    @property
    def tables(self) -> dict[str, dict[str, Entry[Any]]]:
        """The records that are a file each, by folder and id; of the batches those that ran."""
        return {
            "lots": self.lots,
            "batches": self.batches,
            "columns": self.purifiers,
            "tanks": self.tanks,
            "offers": self.offers,
            "prices": self.prices,
        }

    @property
    def settings(self) -> Workshop:
        """The workshop's settings."""
        return self.workshop.record

    @property
    def reference_c(self) -> float:
        """The reference temperature, °C."""
        return self.settings.reference_temperature.value

    def now(self) -> date:
        """The day the pages count from: `--as-of`, or the latest date in the logbook. Asked for once all is read."""
        if self._now is None:
            self._now = self.as_of or max(self.dates(), default=date.min)
        return self._now

    def material_of(self, lot_id: str) -> Entry[Material] | None:
        """The material of a lot, or None where lot or material are not known."""
        lot = self.lots.get(lot_id)
        return self.materials.get(lot.record.material) if lot is not None else None

    def batches_in_time(self) -> list[Entry[Batch]]:
        """All batches by date, then by id."""
        return sorted(self.batches.values(), key=lambda entry: (entry.record.date, entry.id))

    def signs(self) -> Iterator[str]:
        """The signs of all that figures are made from."""
        yield self.workshop.sign
        kinds: list[Mapping[str, Entry[Any]]] = [self.materials, self.planned, *self.tables.values()]
        for entries in kinds:
            yield str(len(entries))
            yield from (entry.sign for entry in entries.values())

    def written_batches(self) -> Iterator[Entry[Batch]]:
        """Every batch that is written, recorded or planned."""
        yield from self.batches.values()
        yield from self.planned.values()

    def planned_in_time(self) -> list[Entry[Batch]]:
        """All planned batches by date, then by id."""
        return sorted(self.planned.values(), key=lambda entry: (entry.record.date, entry.id))

    def titrations(self) -> Iterator[OilTitration]:
        """Every titration of an oil: of batches, before and after a pre-treatment, of lots and of offers."""
        for batch in self.written_batches():
            first = self.lots.get(batch.record.oil[0].lot) if batch.record.oil else None
            material = first.record.material if first is not None else None
            if batch.record.titration is not None:
                yield OilTitration(batch.record.titration, batch, ("titration",), material)
            done = batch.record.pretreatment
            if done is not None and done.titration is not None:
                yield OilTitration(done.titration, batch, ("pretreatment", "titration"), material)
        tested: list[Entry[Any]] = [*self.lots.values(), *self.offers.values()]
        for entry in tested:
            for number, test in enumerate(entry.record.tests):
                if test.titration is not None:
                    path = ("tests", number, "titration")
                    yield OilTitration(test.titration, entry, path, entry.record.material)

    def dates(self) -> Iterator[date]:
        """The days of everything that has happened; not of what is planned, until when an offer stands, or from when a price will hold."""
        for batch in self.batches.values():
            yield batch.record.date
            yield from (test.date for test in batch.record.tests if test.date)
            yield from (day_of(run.end) for run in batch.record.polish)
        for lot in self.lots.values():
            yield lot.record.received
            yield from (item.date for item in lot.record.filled)
            yield from (item.date for item in lot.record.losses)
            yield from (item.date for item in lot.record.returns)
            yield from (item.date for item in lot.record.counts)
            yield from (test.date for test in lot.record.tests if test.date)
        for purifier in self.purifiers.values():
            yield from (day_of(event.date) for event in purifier.record.history)
        for tank in self.tanks.values():
            yield from (day_of(event.date) for event in tank.record.history)
        for offer in self.offers.values():
            yield offer.record.offered


AnyEntry = Entry[Record]
