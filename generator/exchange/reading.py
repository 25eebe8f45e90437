"""A row of a sheet -> what it says by place, before it is known whether that makes a record."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, field

from generator.exchange.headings import Columns, is_id
from generator.exchange.mapping import Fed, Map
from generator.exchange.places import Path, other_amount
from generator.exchange.rows import Notes, result_of
from generator.exchange.sheet import Cell, Sheet, short
from generator.exchange.values import kinds_at, values_of
from generator.units import units
from generator.validate.answer import Fault


@dataclass(slots=True)
class Said:
    """A row as it is read: values by path with the columns they come from, its note, and what cannot be read."""

    number: int
    values: dict[Path, str] = field(default_factory=dict)
    fed: dict[Path, Fed] = field(default_factory=dict)
    note: Notes = field(default_factory=Notes)
    faults: list[tuple[Fed | None, Fault]] = field(default_factory=list)
    behind: list[tuple[Fed, str, str]] = field(default_factory=list)


def _by_its_unit(fed: Fed, text: str) -> Path:
    """The place of an amount: that by mass where a column of volumes holds kilograms, and the other way round."""
    path, other = fed.place.path, other_amount(fed.place.path)
    kinds = {str(end): {*units(str(end))} for end in (path[-1], other[-1])} if other else {}
    symbol = re.sub(r"^[<>]?\s*[-+]?[0-9.]+\s*", "", text.partition(" at ")[0])
    if other and symbol in kinds[str(other[-1])] and symbol not in kinds[str(path[-1])]:
        return other
    return path


@dataclass(frozen=True, slots=True)
class Reader:
    """A sheet, its map, and where the map's columns stand in it."""

    sheet: Sheet
    mapping: Map
    columns: Columns

    def row(self, number: int) -> Said:
        """Read one row."""
        said = Said(number)
        always = {place.path: text for place, text in self.mapping.always}
        for fed in self.mapping.columns:
            if fed.place.path[-1] == "property":
                always[fed.place.path] = self.cell(number, fed.heading).text
        for fed in self.mapping.columns:
            if not is_id(fed, self.mapping.records):
                self._feed(said, fed, always)
        self._join(said)
        return said

    def cell(self, number: int, heading: str) -> Cell:
        """A cell; one that is covered by a merged cell only where the map says that it holds for every row."""
        column = self.columns.numbers[heading]
        own = cell = self.sheet.cell(number, column)
        above = number
        while cell.merged and cell.is_empty and above > self.mapping.settings.first:
            above -= 1
            cell = self.sheet.cell(above, column)
        if above == number or cell.is_empty:
            return own
        if any(fed.heading == heading and fed.written.merged for fed in self.mapping.columns):
            return cell
        return Cell(
            None, f"it is merged with row {above}, and '{short(cell.text)}' may hold for one row or for each"
        )

    def _feed(self, said: Said, fed: Fed, always: Mapping[Path, str]) -> None:
        """Put what a cell says where it goes."""
        cell = self.cell(said.number, fed.heading)
        kinds = kinds_at(fed.place.kinds, result_of(fed.place, always))
        found = values_of(cell, fed, kinds, self.mapping.settings, self.sheet.epoch)
        if isinstance(found, Fault):
            if fed.written.otherwise and cell.text:
                said.note.take(fed.heading, cell.text)
            else:
                said.faults.append((fed, found))
        elif fed.place.path == ("note",):
            for text in found:
                said.note.take(fed.heading if fed.place.behind else "", text)
        elif fed.place.behind and found:
            said.behind.append((fed, found[0], cell.text))
        else:
            for index, text in enumerate(found):
                path = (*fed.place.path, index) if fed.place.is_list else _by_its_unit(fed, text)
                said.values[path], said.fed[path] = text, fed
                said.note.cells[path] = (fed.heading, cell.text)

    def _join(self, said: Said) -> None:
        """Temperatures to their volumes, times to their days; what has nothing to stand behind goes into the note."""
        given = [(fed.place, text, (fed.heading, cell)) for fed, text, cell in said.behind]
        read = {place for place, _, _ in given}
        given += [
            (place, text, ("", ""))
            for place, text in self.mapping.always
            if place.behind and place not in read
        ]
        for place, text, (heading, cell) in given:
            path = place.path
            if path in said.values and place.behind == "at":
                said.values[path] += f" at {text}" * (" at " not in said.values[path])
            elif path in said.values:
                said.values[path] += f"T{text}" * ("T" not in said.values[path])
            elif heading:
                said.note.take(heading, cell)
