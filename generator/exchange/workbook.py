"""A workbook of .xlsx -> its sheets, and rows -> a workbook. Nothing in it is computed, opened or run.

A workbook comes from anywhere, so its parts are counted and looked through before a library reads them: a small file can
unpack to gigabytes. Of a formula the value that was saved with it is taken; one that was never computed is told.
"""

from __future__ import annotations

import io
import re
import sys
import warnings
import zipfile
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from datetime import date, datetime, time, timedelta
from decimal import Decimal
from typing import Any

from openpyxl import Workbook, load_workbook
from openpyxl.utils import column_index_from_string
from openpyxl.utils.datetime import CALENDAR_MAC_1904

from generator.exchange.exporting import Shown
from generator.exchange.sheet import (
    EMPTY,
    MAX_CELL,
    MAX_COLUMNS,
    MAX_ROWS,
    Cell,
    NotASheetError,
    Sheet,
    Value,
    bounded,
    short,
    tidy,
    trimmed,
)
from generator.exchange.spelling import is_unit
from generator.render.exports import guarded

MAX_UNPACKED = 48 * 1024 * 1024
MAX_PARTS = 1_000
MAX_ELEMENTS = 1_000_000  # in one part; a cell takes about four
# what the library lays out cell by cell: areas as large as a sheet would take hours
_AREA = re.compile(rb"<(?:\w+:)?(?:mergeCell|hyperlink)\s([^>]*)>")
_REF = re.compile(rb"""\bref\s*=\s*["']([A-Z]{1,3})([0-9]{1,7})(?::([A-Z]{1,3})([0-9]{1,7}))?["']""")
_FORMULA = re.compile(rb"<(?:\w+:)?f[\s>/]")
_SHOWN = 8  # names and numbers in a remark


def sheets_of(raw: bytes) -> list[tuple[Sheet, bool]]:
    """Every sheet with cells, and whether it is shown. Raises NotASheetError."""
    has_formulas = _look_through(raw)
    values = _loaded(raw, data_only=True)
    formulas = _loaded(raw, data_only=False) if has_formulas else values
    epoch = 1904 if values.epoch == CALENDAR_MAC_1904 else 1900
    return [
        (_sheet(sheet, formulas[sheet.title], epoch), sheet.sheet_state == "visible")
        for sheet in values.worksheets
    ]


def _look_through(raw: bytes) -> bool:
    """Refuse what is too large when unpacked, and what declares entities, before anything is built; tell if it computes."""
    has_formulas = False
    try:
        with zipfile.ZipFile(io.BytesIO(raw)) as parts:
            infos = parts.infolist()
            unpacked = sum(info.file_size for info in infos)
            if len(infos) > MAX_PARTS or unpacked > MAX_UNPACKED:
                raise NotASheetError(
                    f"it unpacks to {unpacked} bytes in {len(infos)} parts, and at most {MAX_UNPACKED} in {MAX_PARTS} are read",
                    "keep the one table in it: copy its values into a new workbook",
                )
            for info in infos:
                content = parts.read(info)
                _look_at(info.filename, content)
                has_formulas |= _FORMULA.search(content) is not None
    except NotASheetError:
        raise
    except Exception as error:  # a broken archive fails in as many ways as it can be packed
        raise NotASheetError(
            f"it is no workbook that can be unpacked: {short(str(error), 80)}",
            "save it as .xlsx without a password, or as .csv",
        ) from None
    return has_formulas


def _look_at(name: str, content: bytes) -> None:
    if not name.endswith((".xml", ".rels", ".vml")):
        return
    if b"<!DOCTYPE" in content or b"<!ENTITY" in content or b"\0" in content[:200]:
        raise NotASheetError(
            f"its part {short(name)} declares what no workbook needs", "save it anew as .xlsx, or as .csv"
        )
    if content.count(b"<") > MAX_ELEMENTS or _laid_out(content) > MAX_ROWS * MAX_COLUMNS:
        raise NotASheetError(
            f"its part {short(name)} holds more cells than are read",
            f"keep at most {MAX_ROWS} rows and {MAX_COLUMNS} columns, and merge no whole columns",
        )


def _laid_out(content: bytes) -> int:
    """How many cells its merged areas and links cover; beyond all bounds where one cannot be told."""
    total = 0
    for element in _AREA.finditer(content):
        match = _REF.search(element[1])
        if match is None:
            return sys.maxsize
        right, bottom = match[3] or match[1], match[4] or match[2]
        width = column_index_from_string(right.decode()) - column_index_from_string(match[1].decode()) + 1
        height = int(bottom) - int(match[2]) + 1
        total += max(width, 1) * max(height, 1)
    return total


def _loaded(raw: bytes, *, data_only: bool) -> Any:
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")  # of features it leaves out: drawings, validations
            return load_workbook(io.BytesIO(raw), data_only=data_only, keep_links=False)
    except Exception as error:  # a broken workbook fails in as many ways as it has parts
        raise NotASheetError(
            f"it cannot be read as a workbook: {short(str(error) or type(error).__name__, 80)}",
            "open it, save it anew as .xlsx or .csv, and try that",
        ) from None


def _filled(sheet: Any) -> dict[tuple[int, int], Any]:
    """The cells that hold something; the library has no other way to them than through all that could be there."""
    found: dict[tuple[int, int], Any] = sheet._cells
    return {place: cell for place, cell in found.items() if cell.value is not None}


def _sheet(values: Any, formulas: Any, epoch: int) -> Sheet:
    filled, written = _filled(values), _filled(formulas)
    places = {*filled, *written}
    height, width = (max((place[axis] for place in places), default=0) for axis in (0, 1))
    bounded(height, width)
    merged = _merged(values, height, width)
    computed = {place for place, cell in written.items() if cell.data_type == "f"}
    rows = [
        [
            replace(_cell(filled.get(place), place in merged, place in computed), computed=place in computed)
            if place in places or place in merged
            else EMPTY
            for place in ((row, column) for column in range(1, width + 1))
        ]
        for row in range(1, height + 1)
    ]
    return Sheet(values.title, trimmed(rows), epoch, tuple(_remarks(values, computed, bool(merged))))


def _merged(sheet: Any, height: int, width: int) -> set[tuple[int, int]]:
    return {
        (row, column)
        for area in sheet.merged_cells.ranges
        for row in range(area.min_row, min(area.max_row, height) + 1)
        for column in range(area.min_col, min(area.max_col, width) + 1)
    }


def _cell(cell: Any, merged: bool, computed: bool) -> Cell:
    if cell is None:
        told = "it holds a formula whose value was never saved" if computed else ""
        return Cell(None, f"{told}: open the workbook, save it, or write the value" if told else "", merged)
    if cell.data_type == "e":
        return Cell(None, f"it holds {short(str(cell.value))}, an error of a formula", merged)
    value = _value(cell.value)
    if isinstance(value, str) and len(value) > MAX_CELL:
        return Cell(None, f"{len(value)} characters, and at most {MAX_CELL} fit", merged)
    if isinstance(value, Decimal):
        return _number(value, str(cell.number_format), merged)
    return Cell(value, "", merged)


def _value(value: Any) -> Value:
    if value is None or isinstance(value, bool):
        return value
    if isinstance(value, int | float):
        return Decimal(f"{value:.15g}")
    if isinstance(value, datetime):
        return (value + timedelta(milliseconds=500)).replace(microsecond=0)
    if isinstance(value, timedelta):
        return f"{round(value.total_seconds() / 60)} min"
    if isinstance(value, date | time):
        return value
    return tidy(str(value)) or None


def _number(number: Decimal, form: str, merged: bool) -> Cell:
    """A number as its cell shows it: a share in per cent, or with the unit that its format writes behind it."""
    first = form.split(";", maxsplit=1)[0]
    if "%" in re.sub(r'"[^"]*"|\\.', "", first):
        return Cell((number * 100).normalize(), "", merged, "%")
    behind = re.search(r'[0#?]\s*(?:"\s*([^"]+?)\s*"|\\ ?([A-Za-z]+))\s*$', first)
    unit = (behind[1] or behind[2]) if behind else ""
    return Cell(number, "", merged, unit if is_unit(unit) else "")


def _remarks(sheet: Any, computed: Iterable[object], merged: bool) -> Iterator[str]:
    count = len(list(computed))
    if count:
        yield f"{count} cell{'s hold formulas' if count > 1 else ' holds a formula'}: the values that were saved are taken, nothing is computed"
    if merged:
        yield "some cells are merged; a merged cell holds for its first row, unless the map says 'merged: same' of its column"
    columns = [name for name, each in sheet.column_dimensions.items() if each.hidden]
    rows = [str(number) for number, each in sheet.row_dimensions.items() if each.hidden]
    for what, names in (("columns", columns), ("rows", rows)):
        if names:
            more = " ..." if len(names) > _SHOWN else ""
            yield f"hidden {what} are read like the others: {', '.join(names[:_SHOWN])}{more}"


def xlsx_bytes(title: str, rows: Sequence[Sequence[Shown]]) -> bytes:
    """The rows as a workbook of one sheet: numbers and days as such, a text never as a formula. Raises NotASheetError."""
    book = Workbook()
    sheet = book.active
    assert sheet is not None
    try:
        sheet.title = title
    except ValueError as error:
        raise NotASheetError(str(error), "write another 'sheet' into the map") from None
    for number, row in enumerate(rows, 1):
        for column, value in enumerate(row, 1):
            if value is not None:
                _put(sheet.cell(number, column), value)
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()


def _put(cell: Any, value: Shown) -> None:
    cell.value = value
    if isinstance(value, str):
        cell.data_type = "s"
        cell.quotePrefix = guarded(value) != value
    elif isinstance(value, Decimal):
        exponent = value.as_tuple().exponent
        digits = -exponent if isinstance(exponent, int) else 0
        cell.number_format = f"0.{'0' * digits}" if digits > 0 else "0"  # as many digits as were written
    elif isinstance(value, datetime):
        cell.number_format = "yyyy-mm-dd hh:mm"
    elif isinstance(value, date):
        cell.number_format = "yyyy-mm-dd"
