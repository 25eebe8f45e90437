"""Whatever stands in the cells: a map is proposed that can be read, and an import ends in words."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from generator.exchange.delimited import Form, form_of, read_csv
from generator.exchange.importing import planned
from generator.exchange.mapping import read_map
from generator.exchange.sheet import NotASheetError
from generator.exchange.suggesting import suggestion
from generator.read.document import parse
from generator.records import Batch
from generator.validate.grammar import record_of
from tests.properties.law import LAW

from .sheets import CONTEXT, HEADINGS, KNOWN, MAP, NOTHING, csv_bytes, map_of, there_of

PIECES = (
    "12",
    "²",
    "3.4.26",
    "1,234.5",
    "\u202e",
    "\x07",
    "\n",
    '"',
    "#",
    ": ",
    "- ",
    "?",
    "{",
    "]",
    "€/L",
    "mL",
    "gal",
    "'",
    "=",
    "%",
    "\ufeff",
    "\x85",
    "é",
    "|",
    ">",
)
cells = st.lists(st.sampled_from(PIECES) | st.text(max_size=6), max_size=4).map("".join)
words = (
    st.sampled_from([*HEADINGS, "Batch", "Date", "Price (€/L)", "kWh", "mL", "Water ppm", "Oil 2 (kg)"])
    | cells
)


@LAW
@given(st.lists(words, min_size=1, max_size=8), st.lists(st.lists(cells, max_size=8), max_size=5))
def test_a_proposal_is_always_a_text_that_can_be_read(headings: list[str], rows: list[list[str]]) -> None:
    raw = csv_bytes([headings, *rows])
    form = Form("utf-8", "comma")
    try:
        text = suggestion("t.csv", read_csv("t.csv", raw, form), form, KNOWN, values=True)
    except NotASheetError:
        return
    reading = parse("map.yaml", text)
    assert reading.document is not None, (text, reading.problems)
    assert reading.document.data["import"] in ("batches", "lots")
    found, problems, troubles = read_map("map.yaml", text.encode(), CONTEXT)
    assert found is not None or problems or troubles


@LAW
@given(
    st.lists(
        st.lists(cells | st.sampled_from(["1", "2026-03-14", "190 L"]), min_size=11, max_size=11), max_size=4
    )
)
def test_an_import_writes_what_can_be_read_or_says_why_not(rows: list[list[str]]) -> None:
    mapping = map_of(MAP)
    raw = csv_bytes([HEADINGS, *rows])
    try:
        sheet = read_csv("t.csv", raw, Form("utf-8", "comma"))
    except NotASheetError:
        return
    plan = planned(sheet, mapping, NOTHING, CONTEXT)
    again = planned(sheet, mapping, there_of(plan), CONTEXT)
    assert again.written == []
    assert len(again.same) == len(plan.written)
    assert all(trouble.message for trouble in plan.troubles)
    for each in plan.written:
        document = parse(each.file, each.text).document
        assert document is not None
        assert record_of(Batch, document, CONTEXT)[1] == []


@LAW
@given(st.binary(max_size=400))
def test_any_bytes_are_a_sheet_or_refused(raw: bytes) -> None:
    try:
        read_csv("t.csv", raw, form_of(raw))
    except NotASheetError as error:
        assert error.message and error.hint
