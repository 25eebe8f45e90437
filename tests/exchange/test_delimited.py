"""Bytes of text to cells, in the dialects that the csv module writes and that programs are known to write."""

from __future__ import annotations

import csv
from typing import Any

import pytest

from generator.exchange.delimited import Form, form_of, read_csv
from generator.exchange.sheet import MAX_BYTES, MAX_COLUMNS, MAX_ROWS, NotASheetError, letter

from .sheets import csv_bytes

ROWS = [
    ["Batch", "Öl (L)", "Titration", "Notes"],
    ["1", "100,5", "2,4", 'said "clear",\nthen; hazy'],
    ["2", "99", "2,5", "ça va | ~20 °C"],
    ["3", "98,25", "", "\ttab"],
]
SEEN = [[text.strip() for text in row] for row in ROWS]
DIALECTS: list[dict[str, Any]] = [
    {"delimiter": sign, "quoting": quoting, "lineterminator": end}
    for sign in (";", "\t", ",", "|")
    for quoting in (csv.QUOTE_MINIMAL, csv.QUOTE_ALL)
    for end in ("\r\n", "\n")
]


@pytest.mark.parametrize("dialect", DIALECTS, ids=repr)
@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16", "windows-1252"])
def test_dialects_are_told_apart(dialect: dict[str, Any], encoding: str) -> None:
    raw = csv_bytes(ROWS, encoding, **dialect)
    sheet = read_csv("t.csv", raw, form_of(raw))
    assert [[sheet.cell(row, column).text for column in range(1, 5)] for row in range(1, 5)] == SEEN


def test_the_guess_of_an_encoding_is_shown_by_its_words() -> None:
    form = form_of("Öl;°C\n1;2\n".encode("windows-1252"))
    assert form.encoding == "windows-1252"
    assert "it says Öl °C:" in form.why_encoding and "if that looks wrong" in form.why_encoding


def test_a_first_line_may_name_the_delimiter() -> None:
    assert form_of(b"sep=|\na|b,c,d\n1|2,3,4\n").delimiter == "bar"


@pytest.mark.parametrize(
    ("raw", "told"),
    [
        (b"a,b\n1,\0\n", "NUL"),
        (b'a,b\n1,"open\n2,3\n', "row 2 cannot be cut"),
        (b"a,b\n" * (MAX_ROWS + 1), f"reaches to row {MAX_ROWS + 1}"),
        (b"," * MAX_COLUMNS + b"\n", f"reaches to column {letter(MAX_COLUMNS + 1)}"),
        (b"a" * (MAX_BYTES + 1), f"at most {MAX_BYTES}"),
        (b"\xff\xfea\x00,\x00b", "not utf-16"),
    ],
    ids=["nul", "quote", "rows", "columns", "bytes", "half a letter"],
)
def test_what_is_no_table_is_refused(raw: bytes, told: str) -> None:
    with pytest.raises(NotASheetError) as error:
        read_csv("t.csv", raw, form_of(raw))
    assert told in error.value.message


def test_the_most_rows_are_read() -> None:
    assert len(read_csv("t.csv", b"a,b\n" * MAX_ROWS, Form("utf-8", "comma")).rows) == MAX_ROWS


def test_an_apostrophe_that_guards_is_taken_away_again() -> None:
    sheet = read_csv("t.csv", b"'=1+1,'tis,'-5 x\n", Form("utf-8", "comma"))
    assert [cell.text for cell in sheet.rows[0]] == ["=1+1", "'tis", "-5 x"]


def test_letters() -> None:
    assert [letter(number) for number in (1, 26, 27, 52, 703)] == ["A", "Z", "AA", "AZ", "AAA"]


def test_text_in_utf_16_without_its_mark_is_to_be_saved_in_utf_8() -> None:
    with pytest.raises(NotASheetError) as caught:
        form_of("a;b\n1;ä\n".encode("utf-16-le"))
    assert caught.value.hint == "save it as .csv in UTF-8, or as .xlsx"
