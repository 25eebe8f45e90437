"""A file -> its sheet, and rows -> a file, by what its name says it is."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from generator.exchange.delimited import Form, form_of, read_csv
from generator.exchange.exporting import Shown
from generator.exchange.laying import csv_bytes
from generator.exchange.mapping import Map, SheetMap
from generator.exchange.sheet import NotASheetError, Sheet, short
from generator.exchange.suggesting import found_in
from generator.problems import did_you_mean

TEXTS = (".csv", ".tsv", ".txt")
WORKBOOK = ".xlsx"
_HEAD = 200  # bytes in which a file says what it is
_OTHER_SHEETS = {
    b"application/vnd.oasis.opendocument": "an OpenDocument file (.ods)",
    b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1": "an old workbook (.xls), or one with a password",
}


def read_sheet(name: str, raw: bytes, settings: SheetMap) -> Sheet:
    """Read the sheet that a map is for. Raises NotASheetError."""
    if _is_text(name, raw):
        return read_csv(name, raw, Form(settings.encoding, settings.delimiter))
    return _chosen(_workbook(raw), settings.sheet or "", "")


def best_sheet(name: str, raw: bytes, wanted: str, currency: str) -> tuple[Sheet, Form | None]:
    """Read the sheet that a map is to be made for: the one that is named, or the one of which most is understood."""
    if _is_text(name, raw):
        form = form_of(raw)
        return read_csv(name, raw, form), form
    return _chosen(_workbook(raw), wanted, currency), None


def written_sheet(name: str, mapping: Map, rows: Sequence[Sequence[Shown]]) -> bytes:
    """The rows as the bytes of a file of this name. Raises NotASheetError."""
    if not name.lower().endswith((*TEXTS, WORKBOOK)):
        raise NotASheetError(
            f"'{short(name, 40)}' is no name of a .csv or .xlsx", "give --out NAME.csv or NAME.xlsx"
        )
    if name.lower().endswith(TEXTS):
        return csv_bytes(mapping, rows)
    from generator.exchange.workbook import xlsx_bytes  # noqa: PLC0415 - slow, and not needed for text

    return xlsx_bytes(mapping.settings.sheet or mapping.records, rows)


def _is_text(name: str, raw: bytes) -> bool:
    """Whether a file is text with delimiters; NotASheetError where it is no workbook either, or something else than its name says."""
    ending = next((each for each in (*TEXTS, WORKBOOK) if name.lower().endswith(each)), "")
    packed = raw.startswith(b"PK\x03\x04")
    other = next((told for mark, told in _OTHER_SHEETS.items() if mark in raw[:_HEAD]), "")
    if other or not ending:
        told = f"it is {other}, which is not read" if other else f"'{short(name, 40)}' is no .csv or .xlsx"
        raise NotASheetError(told, "open it in the program it is from, and save it as .xlsx or .csv")
    if packed and ending != WORKBOOK:
        raise NotASheetError(
            "it is a workbook, and its name says that it is text", "give it a name that ends in .xlsx"
        )
    if not packed and ending == WORKBOOK and raw:
        raise NotASheetError(
            "it is no workbook", "if it is text, give it a name that ends in .csv; else save it anew as .xlsx"
        )
    return ending != WORKBOOK


def _workbook(raw: bytes) -> list[tuple[Sheet, bool]]:
    from generator.exchange.workbook import sheets_of  # noqa: PLC0415 - slow, and not needed for text

    return sheets_of(raw)


def _chosen(sheets: Sequence[tuple[Sheet, bool]], wanted: str, currency: str) -> Sheet:
    """The sheet that is wanted; without a name the one that looks most like records among those that are shown."""
    names = [sheet.name for sheet, _ in sheets]
    if wanted:
        found = next((sheet for sheet, _ in sheets if sheet.name == wanted), None)
        if found is None:
            raise NotASheetError(f"it has no sheet '{short(wanted)}'", did_you_mean(wanted, names))
        return found
    shown = [sheet for sheet, is_shown in sheets if is_shown and sheet.rows]
    if not shown:
        raise NotASheetError("no sheet that is shown has anything in it", "give one by --sheet NAME")
    best = max(shown, key=lambda sheet: found_in(sheet, currency).known)
    others = ", ".join(f"'{short(name)}'" for name in names if name != best.name)
    told = (f"other sheets, shown or hidden, are not looked at: {others} (--sheet NAME)",) if others else ()
    return replace(best, remarks=(*best.remarks, *told))
