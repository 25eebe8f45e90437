"""A sheet and its map -> what would be written, row by row, and every reason why a row or a cell would not."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Any

from generator.exchange.exporting import cells, noted, typed
from generator.exchange.headings import (
    DAY_KEYS,
    Columns,
    columns_of,
    fields_of,
    headings_of,
    id_of,
    is_id,
    unmatched,
)
from generator.exchange.mapping import Map, Trouble
from generator.exchange.places import ID_KEYS, MODELS, dotted
from generator.exchange.reading import Reader, Said
from generator.exchange.rows import Fitted, Refused, fitted, unchecked
from generator.exchange.sheet import Cell, Sheet, short
from generator.exchange.texts import record_text
from generator.exchange.values import is_unknown
from generator.fields import ID, RESERVED
from generator.validate.answer import Fault
from generator.writing.arranging import arranged


@dataclass(frozen=True, slots=True)
class Existing:
    """What the logbook holds: file and data by id, and the names of all its files; ids and names in small letters."""

    records: Mapping[str, tuple[str, Mapping[str, Any]]]
    files: frozenset[str]


@dataclass(frozen=True, slots=True)
class Written:
    """A file that a row would become."""

    row: int
    file: str
    text: str


@dataclass(slots=True)
class Plan:
    """What an import would do: files to write, ids that are there already and say the same, troubles, remarks."""

    written: list[Written] = field(default_factory=list)
    same: list[str] = field(default_factory=list)
    troubles: list[Trouble] = field(default_factory=list)
    remarks: list[str] = field(default_factory=list)


def planned(sheet: Sheet, mapping: Map, there: Existing, context: Mapping[str, Any]) -> Plan:
    """Read every row by the map and say what becomes of it; nothing is written."""
    headings = headings_of(sheet, mapping.settings.header)
    out = Plan(troubles=unmatched(mapping, headings), remarks=list(sheet.remarks))
    if out.troubles:
        return out
    columns = columns_of(mapping, headings)
    if columns.unnamed:
        names = ", ".join(f"'{short(name)}'" for name in columns.unnamed)
        out.remarks.append(f"the map leaves out {names}")
    told: dict[str, list[int]] = {}
    taking = _Taking(Reader(sheet, mapping, columns), there, context, out, told)
    for number in range(mapping.settings.first, len(sheet.rows) + 1):
        why = _passed(sheet.rows[number - 1], headings, mapping)
        if why is None:
            taking.take(number)
        elif why:
            told.setdefault(why, []).append(number)
    out.remarks += [f"{_rows(rows)}: {why}" for why, rows in told.items()]
    return out


def together(troubles: Sequence[Trouble]) -> list[Trouble]:
    """The troubles as they are told: what whole rows have in common once, at the first of them; those of a cell each by itself."""
    alike: dict[Trouble, list[int]] = {}
    for trouble in troubles:
        number = trouble.where.removeprefix("row ")
        key = replace(trouble, where="") if number.isdecimal() else trouble
        alike.setdefault(key, []).extend([int(number)] if number.isdecimal() else [])
    return [replace(each, where=_rows(rows)) if rows else each for each, rows in alike.items()]


def _passed(row: Sequence[Cell], headings: Sequence[str], mapping: Map) -> str | None:
    """Why a row is no record; an empty text for an empty one, None for a record."""
    texts = [" ".join(cell.text.split()) for cell in row]
    if all(cell.is_empty for cell in row):
        return ""
    word = next((text for text in texts if text in mapping.settings.skip), None)
    if word is not None:
        return f"says '{short(word)}' and is passed over"
    if any(cell.computed for cell in row) and all(cell.computed or cell.is_empty for cell in row):
        return "holds nothing but formulas and is passed over"
    filled = [(text, name) for text, name in zip(texts, headings, strict=False) if text]
    repeats = len(filled) > 1 and all(text == name for text, name in filled)
    return "repeats the headings and is passed over" if repeats else None


def _rows(numbers: Sequence[int]) -> str:
    """`row 5`, `rows 5, 6, 9`."""
    some = ", ".join(map(str, numbers[:12]))
    return f"row{'s' if len(numbers) > 1 else ''} {some}{' ...' if len(numbers) > 12 else ''}"


@dataclass(slots=True)
class _Taking:
    """What all rows are read with, and the plan that they go into."""

    reader: Reader
    there: Existing
    context: Mapping[str, Any]
    out: Plan
    told: dict[str, list[int]]
    ids: dict[str, int] = field(default_factory=dict)

    @property
    def mapping(self) -> Map:
        return self.reader.mapping

    @property
    def columns(self) -> Columns:
        return self.reader.columns

    def take(self, number: int) -> None:
        """Read one row and put what becomes of it into the plan."""
        said = self.reader.row(number)
        records, rule = self.mapping.records, self.mapping.settings.id
        day = said.values.get((DAY_KEYS[records],), "")
        texts = {
            name: self.reader.cell(number, name).text
            for name in fields_of(rule)
            if name in self.columns.numbers
        }
        name = id_of(rule, texts, day)
        if not name and not all(texts.values()) and self.mapping.settings.without_id:
            self.told.setdefault("has no id and is passed over", []).append(number)
            return
        unfit = list(self._of_id(name, said))
        old = self.there.records.get(name.casefold()) if not unfit else None
        if old is not None:
            self._compare(said, name, *old)
        else:
            self._make(said, name if not unfit else "", day, unfit)
        for fed, fault in said.faults:
            self.out.troubles.append(Trouble(self.columns.where(fed, number), fault.message, fault.hint))

    def _make(self, said: Said, name: str, day: str, unfit: list[tuple[None, Fault]]) -> None:
        """A new record of a row, where nothing is against it."""
        refused = Refused(
            frozenset(fed.place.path for fed, _ in said.faults if fed is not None),
            frozenset(path for path, fed in said.fed.items() if fed.written.otherwise),
        )
        values = {(ID_KEYS[self.mapping.records],): name or "x", **said.values}
        made = fitted(values, self.mapping, said.note, self.context, refused)
        said.faults += unfit
        said.faults += [(said.fed.get(path), fault) for path, fault in made.faults if path or not unfit]
        if not said.faults:
            self._tell(said, made)
            self._place(said, name, day, made.data)

    def _of_id(self, name: str, said: Said) -> Iterator[tuple[None, Fault]]:
        if not name:
            names = ", ".join(f"'{short(each)}'" for each in fields_of(self.mapping.settings.id))
            told = "write it into the sheet; where it is no record, 'without_id: pass' into the map, or a text of it under 'skip'"
            if not said.faults:
                yield None, Fault(f"it has no id, as one of {names} is empty", told)
        elif ID.fullmatch(name) is None or name.casefold() in RESERVED:
            yield (
                None,
                Fault(f"'{short(name)}' cannot be an id", "use letters, digits and hyphens, at most 64"),
            )
        elif name.casefold() in self.ids:
            other = self.ids[name.casefold()]
            yield None, Fault(f"its id '{name}' is that of row {other} too", "give one of the two another id")
        else:
            self.ids[name.casefold()] = said.number

    def _tell(self, said: Said, made: Fitted) -> None:
        """Which columns go into the note, as what they belong to is not complete."""
        for group, why in made.left_out.items():
            heads = dict.fromkeys(
                fed.heading for path, fed in said.fed.items() if path[: len(group)] == group
            )
            what = ", ".join(f"'{short(head)}'" for head in heads)
            into = f"{what} into the note" if heads else "what 'always' says is left out"
            told = f"{into}, as '{dotted(group)}' is not complete: {why}"
            self.told.setdefault(told, []).append(said.number)

    def _place(self, said: Said, name: str, day: str, data: Mapping[str, Any]) -> None:
        """A new file, where none is in its way."""
        records = self.mapping.records
        file = f"batches/{day[:4]}/{name}.yaml" if records == "batches" else f"lots/{name}.yaml"
        if file.casefold() in self.there.files:
            told = f"{file} is there already, and is no record of '{name}'"
            said.faults.append((None, Fault(told, "mend or rename that file; see 'esterday check'")))
            return
        text = record_text(file, arranged(MODELS[records], data))
        if isinstance(text, Fault):
            said.faults.append((None, text))
        else:
            self.out.written.append(Written(said.number, file, text))

    def _compare(self, said: Said, name: str, file: str, old: Mapping[str, Any]) -> None:
        """Hold a row against the record that is there: each of its cells says the same, or is told."""
        gallon = str(self.context.get("gallon", "none"))
        mine = cells(self.mapping, unchecked(said.values, self.mapping, said.note), gallon)
        theirs = cells(self.mapping, old, gallon)
        unread = {fed.heading: (fed, fault) for fed, fault in said.faults if fed is not None}
        said.faults.clear()
        columns = {
            column.heading: column
            for column in self.mapping.columns
            if not is_id(column, self.mapping.records)
        }
        for fed in columns.values():
            cell = self.reader.cell(said.number, fed.heading)
            there = theirs.get(fed.heading)
            text = typed(there, self.mapping)
            if is_unknown(cell, self.mapping.settings) or cell.text in (text, noted(old, fed.heading)):
                continue
            if fed.heading in unread:
                said.faults.append(unread[fed.heading])
            elif mine.get(fed.heading) not in (None, there):
                told = f"it says {short(cell.text)}, and {file} says {short(text or 'nothing')}; the file stays as it is"
                said.faults.append((fed, Fault(told, "change one of the two by hand")))
        if not said.faults:
            self.out.same.append(name)
