"""The map: which column of a sheet is which key of a record, in which unit, and how the sheet is written.

A map is a file that a person reads and changes: the tool proposes one, and takes nothing from a sheet that no map names.
What is still to be decided stands in it as "?", and is asked for before anything is done.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Annotated, Any

from pydantic import Field, PlainValidator

from generator.exchange.delimited import DELIMITERS, ENCODINGS
from generator.exchange.places import MODELS, Place, place_of
from generator.exchange.sheet import MAX_ROWS
from generator.fields import Number, Text, choice, refuse
from generator.problems import Problem
from generator.read.document import Document, parse
from generator.read.text import decoded
from generator.records import ListOf, Record
from generator.validate.answer import Fault, fault_of
from generator.validate.grammar import record_of

OPEN = "?"
MOST_HEADINGS = 4  # rows
DAY_ORDERS = ("day-month-year", "month-day-year", "year-month-day")
MARKS: Mapping[str, str] = {"point": ".", "comma": ",", "blank": " ", "apostrophe": "'"}


def _row(value: Any) -> int:
    text = value if isinstance(value, str) else ""
    if re.fullmatch(r"[1-9][0-9]{0,4}", text, re.ASCII) is None or int(text) > MAX_ROWS:
        raise refuse(
            "out-of-range",
            f"'{text[:40]}' is not the number of a row",
            f"write 1 to {MAX_ROWS}, as at its left edge",
        )
    return int(text)


def _rows(value: Any) -> tuple[int, ...]:
    first, _, last = value.partition("-") if isinstance(value, str) else ("", "", "")
    top, bottom = _row(first.strip()), _row((last or first).strip())
    if not 0 <= bottom - top < MOST_HEADINGS:
        raise refuse(
            "out-of-range",
            f"'{str(value)[:40]}' are not the rows of headings",
            "write one row, or two such as 3-4",
        )
    return tuple(range(top, bottom + 1))


Row = Annotated[int, PlainValidator(_row)]


class MappedColumn(Record):
    """One column: its heading, the key it feeds, the unit of its bare numbers.

    `parts` are the signs that part several values in one cell, or `blank` or `line`; `otherwise: note` puts what cannot be read into the note;
    `merged: same` says that a merged cell holds for every row it covers.
    """

    column: Text
    key: Text
    unit: Text | None = None
    parts: Text | None = None
    otherwise: Annotated[str, choice("note")] | None = None
    merged: Annotated[str, choice("same")] | None = None


class SheetMap(Record):
    """How a sheet is read and what its columns are.

    `first` is the first row of data, `skip` are texts of rows that are no records (a row of sums), `unknown` are signs
    for what is not known, `id` makes the id from headings in braces, `without_id: pass` says that a row without one is no
    record, `always` holds what no column says. `order` are the headings as they stand in the sheet, for the way back.
    """

    records: Annotated[str, choice(*MODELS)] = Field(alias="import")
    sheet: Text | None = None
    encoding: Annotated[str, choice(*ENCODINGS)] = "utf-8"
    delimiter: Annotated[str, choice(*DELIMITERS)] = "comma"
    decimal: Annotated[str, choice("point", "comma")] = "point"
    thousands: Annotated[str, choice(*MARKS)] | None = None
    header: Annotated[tuple[int, ...], PlainValidator(_rows)] = (1,)
    first: Row = 2
    skip: Annotated[tuple[Text, ...], ListOf] = ()
    unknown: Annotated[tuple[Text, ...], ListOf] = ()
    dates: Annotated[str, choice(*DAY_ORDERS)] | None = None
    year: Number | None = None
    serial: Annotated[str, choice("1900", "1904")] | None = None
    order: Annotated[tuple[Text, ...], ListOf] = ()
    id: Text
    without_id: Annotated[str, choice("pass")] | None = None
    columns: Annotated[tuple[MappedColumn, ...], ListOf]
    always: dict[Text, Text] = Field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Trouble:
    """Something that keeps a value, a row or a map from being taken: where, what was found, what to do."""

    where: str
    message: str
    hint: str = ""


@dataclass(frozen=True, slots=True)
class Fed:
    """A column of a map with the place it feeds."""

    heading: str
    place: Place
    written: MappedColumn


@dataclass(frozen=True, slots=True)
class Map:
    """A map whose keys are places of the grammar."""

    settings: SheetMap
    columns: tuple[Fed, ...]
    always: tuple[tuple[Place, str], ...]

    @property
    def records(self) -> str:
        """The kind of record: `batches` or `lots`."""
        return self.settings.records


def read_map(
    file: str, raw: bytes, context: Mapping[str, Any]
) -> tuple[Map | None, list[Problem], list[Trouble]]:
    """Read a map; what the grammar refuses comes back as problems, what is open or names no place as troubles."""
    text, problems = decoded(file, raw)
    reading = parse(file, text) if not problems else None
    if reading is None or reading.document is None:
        return None, problems or (reading.problems if reading else []), []
    document = reading.document
    left = [
        Trouble(
            str(document.place(*path)),
            f"'{path[-1]}' is still to be filled in",
            "what it can be stands beside it",
        )
        for path in _open(document.data, ())
    ]
    if left:
        return None, reading.problems, left
    settings, problems = record_of(SheetMap, document, {})
    if settings is None:
        return None, [*reading.problems, *problems], []
    found, troubles = _placed(settings, document, context)
    return (None if troubles else found), reading.problems, troubles


def _open(data: Any, path: tuple[str | int, ...]) -> Iterator[tuple[str | int, ...]]:
    if data == OPEN and path and path[:1] not in (("unknown",), ("skip",)):
        yield path
    inner = data.items() if isinstance(data, dict) else enumerate(data) if isinstance(data, list) else ()
    for key, value in inner:
        yield from _open(value, (*path, key))


def _placed(settings: SheetMap, document: Document, context: Mapping[str, Any]) -> tuple[Map, list[Trouble]]:
    """The columns and constants at their places, with a trouble for each that has none."""
    columns, always, troubles = [], [], []
    for number, column in enumerate(settings.columns):
        place = place_of(settings.records, column.key)
        if isinstance(place, Fault):
            troubles.append(_trouble(document, ("columns", number, "key"), place))
        else:
            columns.append(Fed(column.column, place, column))
            if place.is_list and column.parts is None:
                told = Fault(
                    f"'{column.key}' takes several values",
                    f"write {column.key}.0, or the sign between them as 'parts'",
                )
                troubles.append(_trouble(document, ("columns", number, "key"), told))
    for key, text in settings.always.items():
        place = place_of(settings.records, key)
        fault = place if isinstance(place, Fault) else _unfit(settings, place, text, context)
        if isinstance(fault, Fault):
            troubles.append(_trouble(document, ("always", key), fault))
        elif isinstance(place, Place):
            always.append((place, text))
    troubles += _twice(columns, dict(always), document)
    return Map(settings, tuple(columns), tuple(always)), troubles


def _unfit(settings: SheetMap, place: Place, text: str, context: Mapping[str, Any]) -> Fault | None:
    if place.behind:
        return None  # it is read with the value it stands behind
    if place.is_list:
        return Fault(f"'{place.key}' takes several values", f"write {place.key}.0, {place.key}.1 ...")
    return fault_of(MODELS[settings.records], place.path, text, context)


def _twice(columns: list[Fed], always: Mapping[Place, str], document: Document) -> Iterator[Trouble]:
    """Keys that are fed from two sides."""
    seen: dict[str, str] = {place.key: "'always'" for place in always}
    for number, fed in enumerate(columns):
        key = fed.place.key
        if key in seen and fed.place.path != ("note",):
            told = Fault(f"'{key}' is fed by {seen[key]} already", "keep one of the two")
            yield _trouble(document, ("columns", number, "key"), told)
        seen[key] = f"the column '{fed.heading}'"


def _trouble(document: Document, path: tuple[str | int, ...], fault: Fault) -> Trouble:
    return Trouble(str(document.place(*path)), fault.message, fault.hint)
