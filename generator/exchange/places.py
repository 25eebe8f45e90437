"""The places of a record that a column can feed: dotted keys, what a value there is, and three that stand behind another.

A number in a key counts the entries of a list from 0: `oil.0.volume`. Behind a volume stands `.at`, its temperature; behind
a date and time `.time`, where a sheet keeps that apart; behind a note `.line`, a line of it that begins with the heading.
"""

from __future__ import annotations

import functools
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any, get_args, get_origin

from generator.fields import Date, Id, Moment, Number, Text, Yes
from generator.pricing import AnyPrice
from generator.records import KINDS, Record
from generator.validate.answer import Fault, slot_of
from generator.validate.shape import at, field_of, names

Path = tuple[str | int, ...]

_OF_SHEETS = ("batches", "lots")  # a row each
MODELS: Mapping[str, type[Record]] = {name: KINDS[name].model for name in _OF_SHEETS}
ID_KEYS: Mapping[str, str] = {name: KINDS[name].key for name in _OF_SHEETS}
BEHIND = ("at", "time", "line")
MOST_ENTRIES = 50

_SORTS = {
    get_args(kind)[1].func: sort
    for kind, sort in (
        (Date, "date"),
        (Moment, "moment"),
        (AnyPrice, "price"),
        (Yes, "yes"),
        (Number, "number"),
        (Id, "id"),
        (Text, "text"),
    )
}


@dataclass(frozen=True, slots=True)
class Place:
    """One place of a record: its path, what stands behind it (`at`, `time`, `line`), what sort of value it takes.

    `kinds` are the kinds of a quantity; a list takes several values from one cell.
    """

    path: Path
    behind: str = ""
    sort: str = "text"
    kinds: tuple[str, ...] = ()
    is_list: bool = False

    @property
    def key(self) -> str:
        """The place as it is written in a map."""
        return dotted((*self.path, *((self.behind,) if self.behind else ())))


def other_amount(path: Path) -> Path | None:
    """Of an amount by volume the place of that by mass, and the other way round; None for any other place."""
    other = {"volume": "mass", "mass": "volume"}.get(str(path[-1]))
    return (*path[:-1], other) if other is not None else None


def dotted(path: Path) -> str:
    """A path as it is written: `oil.0.volume`."""
    return ".".join(map(str, path))


def path_of(key: str) -> Path:
    """A dotted key as a path."""
    return tuple(int(part) if part.isascii() and part.isdigit() else part for part in key.split("."))


@functools.lru_cache(maxsize=512)
def place_of(record: str, key: str) -> Place | Fault:
    """The place of a key in one kind of record, or why there is none."""
    model, path, behind = MODELS[record], path_of(key), ""
    if path[-1] in BEHIND and len(path) > 1 and not names(at(model, path[:-1])):
        path, behind = path[:-1], str(path[-1])
    slot = slot_of(model, path)
    fault = slot if isinstance(slot, Fault) else _miscounted(model, path)
    if isinstance(fault, Fault):
        return fault
    assert not isinstance(slot, Fault)
    if slot.keys:
        many = ".0" if slot.is_list else ""
        some = ", ".join(f"{key}{many}.{each}" for each in slot.keys[:3])
        return Fault(f"'{key}' is a group of keys, not one value", f"write one of its keys, such as {some}")
    sort, kinds = _sort(model, path)
    found = Place(path, behind, sort, kinds, slot.is_list)
    return _unfit(found) or found


def _miscounted(model: type[Record], path: Path) -> Fault | None:
    """A number where no list is, none where one is, or something below a single value."""
    for number, part in enumerate(path):
        above = at(model, path[:number])
        there = dotted(path[:number])
        if get_origin(above) in (tuple, list):
            if not isinstance(part, int):
                return Fault(f"'{there}' is a list", f"count its entries from 0: {there}.0.{part}")
            if part >= MOST_ENTRIES:
                return Fault(f"'{dotted(path)}' counts too far", f"up to {MOST_ENTRIES} entries are taken")
        elif isinstance(part, int):
            return Fault(f"'{there}' is no list", "leave the number out")
        elif not names(above):
            return Fault(f"nothing stands below '{there}'", "write it without what is behind it")
    return None


def _unfit(place: Place) -> Fault | None:
    fits = {"at": "volume" in place.kinds, "time": place.sort == "moment", "line": place.path == ("note",)}
    if place.behind and not fits[place.behind]:
        return Fault(
            f"nothing can stand behind '{dotted(place.path)}' as '.{place.behind}'",
            "'.at' is the temperature of a volume, '.time' the time of a start or end, '.line' a line of the note",
        )
    return None


def _sort(model: type[Record], path: Path) -> tuple[str, tuple[str, ...]]:
    """What a value at a path is, by the reader that the grammar has for it."""
    *above, last = (
        path if isinstance(path[-1], str) else path[:-1]
    )  # an entry of a list of values: as its list
    field = field_of(at(model, above), last)
    assert field is not None
    for read in (*(getattr(data, "func", None) for data in field.metadata), *_readers(field.annotation)):
        kinds: tuple[str, ...] = getattr(read, "kinds", ())
        if kinds:
            return "quantity", kinds
        if read in _SORTS:
            return _SORTS[read], ()
    return "result" if last == "value" else "word", ()


def _readers(annotation: Any) -> Iterator[Any]:
    """The functions that read a type, and those of its parts."""
    for part in get_args(annotation):
        if hasattr(part, "func"):
            yield part.func
        else:
            yield from _readers(part)
