"""A file -> its sheet, by what its name says it is."""

from __future__ import annotations

from collections.abc import Sequence

from generator.exchange.delimited import Form, form_of, read_csv
from generator.exchange.exporting import Shown
from generator.exchange.laying import csv_bytes
from generator.exchange.mapping import Map, SheetMap
from generator.exchange.sheet import NotASheetError, Sheet

TEXTS = (".csv", ".tsv", ".txt")


def read_sheet(name: str, raw: bytes, settings: SheetMap) -> Sheet:
    """Read the sheet that a map is for. Raises NotASheetError."""
    if not name.lower().endswith(TEXTS):
        raise _unread(name)
    return read_csv(name, raw, Form(settings.encoding, settings.delimiter))


def best_sheet(name: str, raw: bytes, wanted: str, currency: str) -> tuple[Sheet, Form | None]:
    """Read the sheet that a map is to be made for. Raises NotASheetError."""
    if not name.lower().endswith(TEXTS):
        raise _unread(name)
    form = form_of(raw)
    return read_csv(name, raw, form), form


def written_sheet(name: str, mapping: Map, rows: Sequence[Sequence[Shown]]) -> bytes:
    """The rows as the bytes of a file of this name. Raises NotASheetError."""
    if not name.lower().endswith(TEXTS):
        raise _unread(name)
    return csv_bytes(mapping, rows)


def _unread(name: str) -> NotASheetError:
    return NotASheetError(f"'{name[-40:]}' is no .csv or .xlsx", "save the sheet as one of the two")
