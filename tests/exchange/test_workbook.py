"""Workbooks: what openpyxl wrote, what hostile hands made of it, and the way out and back."""

from __future__ import annotations

import io
import zipfile
from collections.abc import Mapping, Sequence
from datetime import date, datetime, time, timedelta
from decimal import Decimal
from typing import Any

import pytest
from openpyxl import Workbook, load_workbook
from openpyxl.utils.datetime import CALENDAR_MAC_1904

from generator.exchange import workbook
from generator.exchange.files import best_sheet
from generator.exchange.importing import planned
from generator.exchange.laying import laid
from generator.exchange.sheet import MAX_ROWS, NotASheetError, Sheet, letter
from generator.exchange.suggesting import suggestion
from generator.exchange.workbook import sheets_of, xlsx_bytes

from .sheets import CONTEXT, HEADINGS, KNOWN, MAP, NOTHING, map_of, there_of, told


def saved(book: Workbook) -> bytes:
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()


def book_of(rows: Sequence[Sequence[Any]], title: str = "Batches") -> Workbook:
    book = Workbook()
    sheet = book.active
    assert sheet is not None
    sheet.title = title
    for row in rows:
        sheet.append(list(row))
    return book


def only(raw: bytes) -> Sheet:
    ((sheet, shown),) = sheets_of(raw)
    assert shown
    return sheet


def changed(raw: bytes, change: Mapping[str, bytes]) -> bytes:
    """A workbook with some of its parts replaced, or added."""
    out = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(raw)) as old, zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as new:
        for name in {*old.namelist(), *change}:
            new.writestr(name, change[name] if name in change else old.read(name))
    return out.getvalue()


def sheet_xml(raw: bytes) -> str:
    with zipfile.ZipFile(io.BytesIO(raw)) as parts:
        return parts.read("xl/worksheets/sheet1.xml").decode()


def test_each_type_of_cell_is_what_it_shows() -> None:
    book = book_of(
        [
            [
                1,
                2.5,
                0.1 + 0.2,
                "text\r\nmore",
                True,
                date(2026, 3, 14),
                datetime(2026, 3, 14, 9, 10),
                time(9, 10),
                timedelta(minutes=90),
                "",
                None,
                "#REF!",
            ]
        ]
    )
    sheet = book.active
    assert sheet is not None
    sheet["A2"], sheet["B2"], sheet["C2"], sheet["D2"] = 0.9, 190, 0.905, 46095
    sheet["A2"].number_format, sheet["B2"].number_format, sheet["C2"].number_format = (
        "0%",
        '0.0" L"',
        "0.0%;[Red]-0.0%",
    )
    sheet["L1"].data_type = "e"
    found = only(saved(book))
    assert [cell.value for cell in found.rows[0]] == [
        *(
            Decimal(1),
            Decimal("2.5"),
            Decimal("0.3"),
            "text\nmore",
            True,
            datetime(2026, 3, 14),
            datetime(2026, 3, 14, 9, 10),
        ),
        *(time(9, 10), "90 min", None, None, None),
    ]
    assert found.rows[0][11].trouble == "it holds #REF!, an error of a formula"
    assert [cell.text for cell in found.rows[1]] == ["90 %", "190 L", "90.5 %", "46095"]


def test_a_time_that_was_computed_is_not_cut_to_the_minute_before() -> None:
    """0.5 + 1/3 of a day and the like end a thousandth of a second short."""
    found = only(saved(book_of([[datetime(2026, 3, 14, 9, 9, 59, 999400)]])))
    assert found.rows[0][0].text == "2026-03-14T09:10"


def test_days_are_counted_from_the_epoch_that_the_workbook_names() -> None:
    for epoch, told_epoch in ((None, 1900), (CALENDAR_MAC_1904, 1904)):
        book = book_of([[date(2026, 3, 14)]])
        if epoch is not None:
            book.epoch = epoch
        found = only(saved(book))
        assert (found.epoch, found.rows[0][0].value) == (told_epoch, datetime(2026, 3, 14))


@pytest.mark.parametrize(("serial", "epoch"), [(46095, None), (44633, CALENDAR_MAC_1904)])
def test_a_bare_number_in_a_column_of_days_is_one(serial: int, epoch: datetime | None) -> None:
    """46095 and 44633: 2026-03-14 counted from 1899-12-30 and from 1904-01-01, derived."""
    row = [{"Batch": "1", "Date": serial, "Oil (L)": 190}.get(name) for name in HEADINGS]
    book = book_of([HEADINGS, row])
    if epoch is not None:
        book.epoch = epoch
    plan = planned(only(saved(book)), map_of(), NOTHING, CONTEXT)
    assert (told(plan), plan.written[0].text.split("\n")[1]) == ([], "date: 2026-03-14")


def test_a_formula_is_its_saved_value_or_is_told() -> None:
    book = book_of([HEADINGS, ["1", date(2026, 3, 14), "=100+90"]])
    raw = saved(book)
    plan = planned(only(raw), map_of(), NOTHING, CONTEXT)
    assert told(plan) == [
        (
            "row 2, column C 'Oil (L)'",
            "it holds a formula whose value was never saved: open the workbook, save it, or write the value",
        )
    ]
    assert "<f>100+90</f><v />" in sheet_xml(raw) or "<f>100+90</f><v></v>" in sheet_xml(raw)
    kept = (
        sheet_xml(raw)
        .replace("<f>100+90</f><v />", "<f>100+90</f><v>190</v>")
        .replace("<f>100+90</f><v></v>", "<f>100+90</f><v>190</v>")
    )
    plan = planned(
        only(changed(raw, {"xl/worksheets/sheet1.xml": kept.encode()})), map_of(), NOTHING, CONTEXT
    )
    assert "volume: 190 L" in plan.written[0].text
    assert (
        plan.remarks[0] == "1 cell holds a formula: the values that were saved are taken, nothing is computed"
    )


def test_a_merged_cell_holds_for_each_row_only_where_the_map_says_so() -> None:
    book = book_of([HEADINGS, ["1", date(2026, 3, 14), 190], ["2", None, 100]])
    sheet = book.active
    assert sheet is not None
    sheet.merge_cells("B2:B3")
    read = only(saved(book))
    plan = planned(read, map_of(), NOTHING, CONTEXT)
    assert told(plan) == [
        (
            "row 3, column B 'Date'",
            "it is merged with row 2, and '2026-03-14' may hold for one row or for each",
        )
    ]
    same = planned(read, map_of(MAP.replace("key: date}", "key: date, merged: same}")), NOTHING, CONTEXT)
    assert [each.file for each in same.written] == ["batches/2026/1.yaml", "batches/2026/2.yaml"]


def test_headings_in_two_rows_under_a_merged_one() -> None:
    book = book_of(
        [
            ["Batch", "Date", "Titration", None, "Soap"],
            [None, None, "1 (mL)", "2 (mL)", "(ppm)"],
            ["a", date(2026, 3, 14), 2.4, 2.5, 60],
        ]
    )
    sheet = book.active
    assert sheet is not None
    sheet.merge_cells("C1:D1")
    text = suggestion("t.xlsx", only(saved(book)), None, KNOWN, values=True)
    assert "header: 1-2" in text and "first: 3" in text
    assert "{column: Titration 1 (mL), key: titration.readings.0, unit: mL}" in text
    assert "{column: Titration 2 (mL), key: titration.readings.1, unit: mL}" in text
    assert "{column: Soap (ppm), key: tests.0.value, unit: ppm}" in text


def test_hidden_sheets_are_not_looked_at_and_hidden_rows_are_told() -> None:
    book = book_of([["x"]], "Cover")
    hidden, shown = book.create_sheet("Old"), book.create_sheet("New")
    for sheet in (hidden, shown):
        for row in (HEADINGS, ["1", date(2026, 3, 14), 190]):
            sheet.append(row)
    hidden.sheet_state = "hidden"
    shown.column_dimensions["C"].hidden = True
    shown.row_dimensions[2].hidden = True
    raw = saved(book)
    sheet, form = best_sheet("t.xlsx", raw, "", "EUR")
    assert (sheet.name, form) == ("New", None)
    assert sheet.remarks == (
        "hidden columns are read like the others: C",
        "hidden rows are read like the others: 2",
        "other sheets, shown or hidden, are not looked at: 'Cover', 'Old' (--sheet NAME)",
    )
    assert best_sheet("t.xlsx", raw, "Old", "EUR")[0].name == "Old"
    with pytest.raises(NotASheetError, match="no sheet 'Olt'"):
        best_sheet("t.xlsx", raw, "Olt", "EUR")


def test_formats_far_below_the_table_are_no_rows() -> None:
    book = book_of([HEADINGS, ["1", date(2026, 3, 14), 190]])
    sheet = book.active
    assert sheet is not None
    sheet["C1048576"].number_format = "0.0"
    sheet["XFD9"].number_format = "0.0"
    assert (len(only(saved(book)).rows), only(saved(book)).width) == (2, len(HEADINGS))
    sheet.cell(MAX_ROWS + 1, 1, "x")
    with pytest.raises(NotASheetError, match=f"reaches to row {MAX_ROWS + 1}"):
        sheets_of(saved(book))


def bomb(size: int) -> bytes:
    """A workbook with a part of so many blanks, a thousandth of it on disk."""
    return changed(saved(book_of([["x"]])), {"xl/media/x.bin": b" " * size})


@pytest.mark.parametrize(
    ("make", "message"),
    [
        (lambda: bomb(workbook.MAX_UNPACKED), "it unpacks to"),
        (lambda: changed(saved(book_of([["x"]])), {f"x/{n}.bin": b"" for n in range(workbook.MAX_PARTS)}), "parts, and at most"),
        (lambda: changed(saved(book_of([["x"]])), {"xl/workbook.xml": b"<!DOCTYPE x><x/>"}), "declares what no workbook needs"),
        (lambda: changed(saved(book_of([["x"]])), {"xl/workbook.xml": b'<!DOCTYPE x [<!ENTITY a "aa">]><x>&a;</x>'}), "declares what no workbook needs"),
        (lambda: changed(saved(book_of([["x"]])), {"xl/workbook.xml": "<x/>".encode("utf-16")}), "declares what no workbook needs"),
        (lambda: changed(saved(book_of([["x"]])), {"xl/worksheets/sheet1.xml": b"<c/>" * (workbook.MAX_ELEMENTS + 1)}), "more cells than are read"),
        (lambda: changed(saved(book_of([["x"]])), {"xl/worksheets/sheet1.xml": b"<worksheet><row>"}), "cannot be read as a workbook"),
        (lambda: b"PK\x03\x04 nothing", "no workbook that can be unpacked"),
        (lambda: b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + b"\0" * 600, "no workbook that can be unpacked"),
        (lambda: saved(book_of([["x"]]))[:-200], "no workbook that can be unpacked"),
    ],
    ids=["bomb", "parts", "doctype", "entities", "utf-16", "cells", "cut xml", "no zip", "old or encrypted", "cut zip"],
)  # fmt: skip
def test_hostile_workbooks_are_refused_in_words(make: Any, message: str) -> None:
    with pytest.raises(NotASheetError) as error:
        sheets_of(make())
    assert message in error.value.message and error.value.hint


@pytest.mark.parametrize(
    "area",
    [
        '<mergeCells><mergeCell ref="A1:XFD1048576"/></mergeCells>',
        '<mergeCells><mergeCell ref="&#65;1:XFD1048576"/></mergeCells>',
        "<hyperlinks><hyperlink ref='A1:XFD1048576' location='x'/></hyperlinks>",
        "<mergeCells>" + '<mergeCell ref="A1:CV2000"/>' * 3 + "</mergeCells>",
    ],
)
def test_areas_that_the_library_would_lay_out_cell_by_cell_are_bounded(area: str) -> None:
    raw = saved(book_of([["x"]]))
    xml = sheet_xml(raw).replace("</sheetData>", f"</sheetData>{area}")
    assert area in xml
    with pytest.raises(NotASheetError, match="more cells than are read"):
        sheets_of(changed(raw, {"xl/worksheets/sheet1.xml": xml.encode()}))


def test_a_workbook_without_a_sheet_is_told() -> None:
    raw = changed(saved(book_of([["x"]])), {"xl/workbook.xml": b"<x/>"})
    with pytest.raises(NotASheetError, match="has anything in it"):
        best_sheet("t.xlsx", raw, "", "EUR")


DATA = {
    "batch": "7",
    "date": "2026-03-14",
    "oil": [{"lot": "oil-1", "volume": "190.5 L at 22 °C"}],
    "titration": {"readings": ["2.4 mL", "2.5 mL"]},
    "tests": [{"property": "soap", "value": "< 50 mg/kg"}],
    "note": '=HYPERLINK("x")\nColour: +x\n',
}


def test_a_workbook_that_was_written_holds_numbers_days_and_no_formula() -> None:
    raw = xlsx_bytes("Batches", laid(map_of(), [DATA], "none"))
    sheet = load_workbook(io.BytesIO(raw))["Batches"]
    row = [sheet.cell(2, column) for column in range(1, len(HEADINGS) + 1)]
    assert [cell.value for cell in row] == [
        *(
            "7",
            datetime(2026, 3, 14),
            190.5,
            22,
            "2.4 / 2.5",
            None,
            None,
            "< 50",
            None,
            "+x",
            '=HYPERLINK("x")',
        ),
    ]
    assert {cell.data_type for cell in row} == {"s", "d", "n"}
    assert [letter(number) for number, cell in enumerate(row, 1) if cell.quotePrefix] == ["J", "K"]
    assert [cell.number_format for cell in row[1:4]] == ["yyyy-mm-dd", "0.0", "0"]
    assert "<f>" not in sheet_xml(raw)


def test_out_and_back_through_a_workbook() -> None:
    mapping = map_of()
    plan = planned(only(xlsx_bytes("Batches", laid(mapping, [DATA], "none"))), mapping, NOTHING, CONTEXT)
    assert plan.troubles == []
    back = xlsx_bytes("Batches", laid(mapping, [data for _, data in there_of(plan).records.values()], "none"))
    again = planned(only(back), mapping, NOTHING, CONTEXT)
    assert [each.text for each in again.written] == [each.text for each in plan.written]
    assert planned(only(back), mapping, there_of(plan), CONTEXT).same == ["7"]


def test_a_sheet_name_that_cannot_be_is_told() -> None:
    with pytest.raises(NotASheetError) as error:
        xlsx_bytes("a/b", [["x"]])
    assert "sheet" in error.value.hint


def test_a_part_that_cannot_be_unpacked() -> None:
    """Found by fuzzing: zlib's own error is none of zipfile's."""
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as parts:
        parts.writestr("xl/workbook.xml", "<workbook/>" * 20)
    at = 30 + len("xl/workbook.xml")  # the local header, then the name
    with pytest.raises(NotASheetError, match="unpacked"):
        sheets_of(out.getvalue()[:at] + bytes(8) + out.getvalue()[at + 8 :])


@pytest.mark.parametrize(
    ("form", "unit", "said"),
    [
        ("0%", "L", "'5 %' is a content, and a volume is wanted here"),
        ('0.00" US gal"', "L", "0.05 US gal"),
        ('0.00" L"', "US gal", "0.05 L"),
        ("0.00", "L", "0.05 L"),
    ],
)
def test_the_unit_that_the_format_of_a_cell_shows_is_never_dropped_for_the_columns(
    form: str, unit: str, said: str
) -> None:
    book = book_of([["Batch", "Date", "Oil", "Fuel"], ["c1", "2026-01-20", 20, 0.05]])
    assert book.active is not None
    book.active["D2"].number_format = form
    mapping = map_of(
        "import: batches\nid: '{Batch}'\ncolumns:\n  - {column: Batch, key: batch}\n  - {column: Date, key: date}\n"
        f"  - {{column: Oil, key: oil.0.volume, unit: L}}\n  - {{column: Fuel, key: fuel.volume, unit: {unit}}}\n"
        "always: {oil.0.lot: oil-1}\n"
    )
    plan = planned(only(saved(book)), mapping, NOTHING, CONTEXT)
    shown = [f"{where}: {message}" for where, message in told(plan)] + [each.text for each in plan.written]
    assert len(shown) == 1 and said in shown[0], shown


@pytest.mark.parametrize("form", ["0%", '0.00" £"'])
def test_a_share_or_another_currency_is_no_price(form: str) -> None:
    book = book_of([["Lot", "Day", "Litres", "Paid"], ["oil-9", "2026-01-20", 20, 0.05]])
    assert book.active is not None
    book.active["D2"].number_format = form
    mapping = map_of(
        "import: lots\nid: '{Lot}'\ncolumns:\n  - {column: Lot, key: lot}\n  - {column: Day, key: received}\n"
        "  - {column: Litres, key: quantity, unit: L}\n  - {column: Paid, key: paid, unit: EUR}\n"
        "always: {material: frying-oil}\n"
    )
    plan = planned(only(saved(book)), mapping, NOTHING, CONTEXT)
    assert not plan.written
    assert [where for where, _ in told(plan)] == ["row 2, column D 'Paid'"]
