"""Figures followed through the batches: their points in order of time, row by row, and where a row begins anew."""

from __future__ import annotations

import functools
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date

from generator.data import rows
from generator.language import tell
from generator.ledger.ledgers import Ledgers
from generator.ledger.soap import AT_LEAST, AT_MOST, FOUND, NOT_FOUND, Soap
from generator.log import Entry, Log
from generator.properties import properties
from generator.records import Batch
from generator.units import Quantity

NOT_WRITTEN = tell("method not written")
OIL, MEDIA, LAST_BED = tell("oil"), tell("media"), tell("last bed")
CHANGES = (OIL, MEDIA, LAST_BED)


@dataclass(frozen=True, slots=True)
class Followed:
    """A figure that is followed: where it is read, whether by logarithms, what breaks its row."""

    name: str
    source: str
    of_property: str
    log: bool
    broken_by: tuple[str, ...]

    @property
    def unit(self) -> str:
        """The unit of its values."""
        return properties()[self.of_property].unit


@dataclass(frozen=True, slots=True)
class Point:
    """One value of a row: its batch and day, the value or its bound, `<` or `>` of a bound, why the row begins here."""

    batch: str
    day: date
    value: float
    sign: str
    begins: str = ""


@dataclass(frozen=True, slots=True)
class Line:
    """One row of points: a figure, by one method, behind one purifier."""

    of: Followed
    purifier: str
    method: str
    points: tuple[Point, ...]


@dataclass(frozen=True, slots=True)
class Setting:
    """What stood around a batch: its purifier, the kinds of its oil and of the media in line, the last bed."""

    purifier: str
    oil: tuple[str, ...]
    media: tuple[str, ...]
    last_bed: str

    def of(self, change: str) -> tuple[str, ...]:
        """What can change, by the name of the change: ids."""
        return {OIL: self.oil, MEDIA: self.media, LAST_BED: (self.last_bed,)}[change]

    def told(self, change: str, names: Callable[[str], str]) -> str:
        """The same in words."""
        called = [names(each) for each in self.of(change)]
        return (
            functools.reduce(_then, called) if change == MEDIA and called else " and ".join(called) or "none"
        )


@functools.cache
def followed() -> tuple[Followed, ...]:
    """The figures of `data/series.yaml`."""
    return tuple(
        Followed(name, row["from"], row["property"], row["log"], tuple(row["broken_by"]))
        for name, row in rows("series").items()
    )


def lines(ledgers: Ledgers, breaks: Sequence[str]) -> list[Line]:
    """Every row with a point, by figure, purifier and method; of the changes that break one only those in `breaks` count."""
    settings = _settings(ledgers)
    out = []
    for figure in followed():
        found: dict[tuple[str, str], list[Point]] = {}
        before: dict[tuple[str, str], Setting] = {}
        for entry in ledgers.log.batches_in_time():
            for method, value, sign, day in _values(ledgers, entry, figure):
                around = settings[entry.id]
                key = (around.purifier, method)
                may = [each for each in figure.broken_by if each in breaks]
                why = _why(before.get(key), around, may, ledgers.log)
                found.setdefault(key, []).append(Point(entry.id, day, value, sign, why))
                before[key] = around
        out += [Line(figure, *key, tuple(points)) for key, points in sorted(found.items())]
    return out


def _why(before: Setting | None, now: Setting, breaks: Sequence[str], log: Log) -> str:
    """Which change a row begins anew after; nothing where it goes on."""
    if before is None:
        return tell("the first")
    return "; ".join(_change(each, now, before, log) for each in breaks if before.of(each) != now.of(each))


def _change(change: str, now: Setting, before: Setting, log: Log) -> str:
    """What is and what was, materials by their names; by their ids where two have one name."""

    def named(material: str) -> str:
        entry = log.materials.get(material)
        return (entry.record.name if entry is not None else None) or material

    names: Callable[[str], str] = named if now.told(change, named) != before.told(change, named) else str
    return tell(
        "{what}: {now} after {before}",
        what=change,
        now=now.told(change, names),
        before=before.told(change, names),
    )


def _settings(ledgers: Ledgers) -> dict[str, Setting]:
    """What stood around each batch, by its last run for the first time through a line."""
    log = ledgers.log
    ran = {one.batch: one for one in ledgers.columns.passes if not one.again}
    out = {}
    for name, entry in log.batches.items():
        run = ran.get(name)
        out[name] = Setting(
            purifier=run.purifier if run is not None else "",
            oil=tuple(sorted({log.lots[use.lot].record.material for use in entry.record.oil})),
            media=tuple(charge.pack.medium for charge in run.line) if run is not None else (),
            last_bed=run.line[-1].id if run is not None else "none",
        )
    return out


def _then(before: str, behind: str) -> str:
    return tell("{before} then {behind}", before=before, behind=behind)


def _values(
    ledgers: Ledgers, entry: Entry[Batch], figure: Followed
) -> Iterator[tuple[str, float, str, date]]:
    """Method, value, sign and day of what a batch gives to a figure: of each method the first result, no retest."""
    if figure.source != "tests":
        soap: Soap | None = getattr(ledgers.facts[entry.id], figure.source)
        bound = _bounded(soap) if soap is not None else None
        if bound is not None and bound[0] > 0:  # a logarithm takes no zero
            yield tell("titration"), *bound, entry.record.date
        return
    seen = set()
    for test in entry.record.tests:
        where = tell("laboratory") if test.laboratory else tell("bench")
        method = f"{test.method or NOT_WRITTEN}, {where}"
        if test.property == figure.of_property and isinstance(test.value, Quantity) and method not in seen:
            seen.add(method)
            yield method, test.value.value, test.value.sign, entry.record.date


def _bounded(soap: Soap) -> tuple[float, str] | None:
    """A titrated content as a value or a bound; None where it lies between two."""
    if soap.known == FOUND:
        return soap.mg_per_kg, ""
    if soap.known == NOT_FOUND:
        return soap.limit_mg_per_kg, "<"
    if soap.known == AT_MOST and soap.high_mg_per_kg is not None:
        return soap.high_mg_per_kg, "<"
    return (soap.low_mg_per_kg, ">") if soap.known == AT_LEAST else None
