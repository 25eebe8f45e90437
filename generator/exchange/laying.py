"""Cells of records -> the rows of a sheet as its map has it, and those as text with delimiters."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from generator.exchange.delimited import DELIMITERS
from generator.exchange.exporting import Shown, cells, headings, typed
from generator.exchange.mapping import Map
from generator.exchange.sheet import NotASheetError
from generator.render.exports import guarded


def laid(mapping: Map, records: Iterable[Mapping[str, Any]], gallon: str) -> list[list[Shown]]:
    """The rows of a sheet that the map reads again: its headings where it wants them, units in a row left for them."""
    settings, names = mapping.settings, headings(mapping)
    rows: list[list[Shown]] = [[] for _ in range(settings.first - 1)]
    rows[settings.header[-1] - 1] = [*names]
    if settings.first - settings.header[-1] == 2:
        units = {fed.heading: fed.written.unit for fed in mapping.columns}
        rows[settings.header[-1]] = [units.get(name) for name in names]
    for data in records:
        found = cells(mapping, data, gallon)
        rows.append([found.get(name) for name in names])
    return rows


def csv_bytes(mapping: Map, rows: Sequence[Sequence[Shown]]) -> bytes:
    """The rows as text, in the map's own encoding, with its delimiter and decimal mark. Raises NotASheetError.

    A text that a spreadsheet would take for a formula gets an apostrophe before it; the import takes that away again.
    """
    settings = mapping.settings
    out = io.StringIO(newline="")
    writer = csv.writer(out, delimiter=DELIMITERS[settings.delimiter], lineterminator="\r\n")
    writer.writerows([[_text(cell, mapping) for cell in row] for row in rows])
    try:
        return out.getvalue().encode("utf-8-sig" if settings.encoding == "utf-8" else settings.encoding)
    except UnicodeEncodeError as error:
        letter = error.object[error.start]
        raise NotASheetError(
            f"'{letter}' cannot be written in {settings.encoding}", "write 'encoding: utf-8' into the map"
        ) from None


def _text(cell: Shown, mapping: Map) -> str:
    return guarded(cell) if isinstance(cell, str) else typed(cell, mapping)
