"""Out of a sheet and back into one: the values of the mapped columns stay what they are, whatever they are."""

from __future__ import annotations

import csv
import io
from collections.abc import Mapping
from datetime import date
from decimal import Decimal

from hypothesis import given
from hypothesis import strategies as st

from generator.exchange.delimited import DELIMITERS, Form, read_csv
from generator.exchange.importing import planned
from generator.exchange.laying import csv_bytes as laid_csv
from generator.exchange.laying import laid
from generator.exchange.workbook import sheets_of, xlsx_bytes
from tests.properties.law import LAW

from .sheets import CONTEXT, HEADINGS, MAP, NOTHING, csv_bytes, exported, map_of, plan_of, row, there_of

UNITS = {
    "oil": "Oil (L)",
    "oil_c": "Oil °C",
    "koh": "KOH (g)",
    "methanol": "Methanol (L)",
    "soap": "Soap (ppm)",
    "fuel": "Fuel (L)",
}
amounts = st.decimals(min_value=Decimal("0.001"), max_value=5000, places=3) | st.integers(1, 5000).map(
    Decimal
)
readings = st.lists(st.decimals(min_value=0, max_value=50, places=2), min_size=1, max_size=4)
# what a person can type into a cell; line ends and blanks at its ends are tidied, and so are not asked for here
texts = st.text(
    st.characters(codec="utf-8", categories=("L", "N", "P", "S", "Zs"), exclude_characters="\u00a0\u2007\u2009\u202f"), min_size=1, max_size=30
).map(str.strip).filter(lambda text: text != "" and ": " not in text and not text.startswith("'"))  # fmt: skip


@st.composite
def rows(draw: st.DrawFn) -> list[dict[str, object]]:
    """Rows of a sheet with holes: numbers, days and texts by the short names of the columns."""
    out: list[dict[str, object]] = []
    for number in range(draw(st.integers(1, 4))):
        made: dict[str, object] = {
            "batch": f"b{number}",
            "date": draw(st.dates(date(1990, 1, 1), date(2099, 12, 31))),
        }
        made["oil"] = draw(amounts)
        for key in ("koh", "methanol", "soap", "fuel"):
            made[key] = draw(st.none() | amounts)
        made["oil_c"] = draw(st.none() | st.decimals(min_value=-20, max_value=90, places=1))
        made["titration"] = draw(st.none() | readings)
        made["colour"], made["notes"] = draw(st.none() | texts), draw(st.none() | texts)
        out.append(made)
    return out


def typed(cell: object, mark: str, order: str) -> str:
    """A value as a person with this decimal mark and order of dates types it."""
    if cell is None:
        return ""
    if isinstance(cell, Decimal):
        return f"{cell:f}".replace(".", mark)
    if isinstance(cell, date):
        return cell.strftime(order)
    if isinstance(cell, list):
        return " / ".join(typed(item, mark, order) for item in cell)
    text = str(cell)
    return f"'{text}" if text[:1] in "=+-@|%\u2212" or text.lstrip(" \"'")[:1] in "=+-@|%\u2212" else text


def said(text: str, mark: str) -> object:
    """A cell of a sheet as a value, for comparison."""
    parts = [part.strip().replace(mark, ".") for part in text.split("/")]
    try:
        return [Decimal(part) for part in parts]
    except ArithmeticError:
        return text


SETTINGS = st.fixed_dictionaries(
    {
        "delimiter": st.sampled_from(list(DELIMITERS)),
        "decimal": st.sampled_from(["point", "comma"]),
        "dates": st.sampled_from(["day-month-year", "month-day-year", "year-month-day"]),
        "encoding": st.sampled_from(["utf-8", "utf-16"]),
    }
)
ORDERS = {"day-month-year": "%d.%m.%Y", "month-day-year": "%m/%d/%Y", "year-month-day": "%Y-%m-%d"}


@LAW
@given(rows(), SETTINGS)
def test_import_then_export_gives_the_same_values(
    made: list[dict[str, object]], settings: Mapping[str, str]
) -> None:
    mark = {"point": ".", "comma": ","}[settings["decimal"]]
    mapping = map_of("".join(f"{key}: {value}\n" for key, value in settings.items()) + MAP)
    sheet = [
        HEADINGS,
        *(
            row(**{key: typed(cell, mark, ORDERS[settings["dates"]]) for key, cell in each.items()})
            for each in made
        ),
    ]
    form = Form(settings["encoding"], settings["delimiter"])
    raw = csv_bytes(sheet, settings["encoding"], delimiter=DELIMITERS[settings["delimiter"]])
    plan = planned(read_csv("t.csv", raw, form), mapping, NOTHING, CONTEXT)
    assert plan.troubles == []
    back = exported(plan, mapping)
    found = [
        *csv.reader(
            io.StringIO(back.decode("utf-8-sig" if form.encoding == "utf-8" else form.encoding)),
            delimiter=DELIMITERS[form.delimiter],
        )
    ]
    assert found[0] == HEADINGS
    for cells, each in zip(found[1:], made, strict=True):
        by_name = dict(zip(HEADINGS, cells, strict=True))
        assert by_name["Date"] == str(each["date"])
        for key, heading in UNITS.items():
            assert said(by_name[heading], mark) == ("" if each[key] is None else [each[key]]), heading
        assert said(by_name["Titration (mL)"], mark) == (each["titration"] or "")
        for key, heading in (("colour", "Colour"), ("notes", "Notes")):
            assert by_name[heading] == typed(each[key], mark, "")
    again = planned(read_csv("t.csv", back, form), mapping, NOTHING, CONTEXT)
    assert [each.text for each in again.written] == [each.text for each in plan.written]
    assert planned(read_csv("t.csv", back, form), mapping, there_of(plan), CONTEXT).same == [
        each["batch"] for each in made
    ]


@LAW
@given(rows())
def test_a_workbook_that_was_exported_says_the_same(made: list[dict[str, object]]) -> None:
    mapping = map_of()
    plan = plan_of(
        *(row(**{key: typed(cell, ".", "%Y-%m-%d") for key, cell in each.items()}) for each in made)
    )
    assert plan.troubles == []
    there = there_of(plan)
    raw = xlsx_bytes("Batches", laid(mapping, [data for _, data in there.records.values()], "none"))
    ((sheet, _),) = sheets_of(raw)
    again = planned(
        sheet, mapping, NOTHING, CONTEXT
    )  # a number there is 2.5 where 2.50 was written, and shown with both digits
    assert laid(mapping, [data for _, data in there_of(again).records.values()], "none") == laid(
        mapping, [data for _, data in there.records.values()], "none"
    )
    assert planned(sheet, mapping, there, CONTEXT).same == [each["batch"] for each in made]


def test_values_are_given_in_the_units_of_the_columns() -> None:
    mapping = map_of()
    data = {
        "batch": "7",
        "date": "2026-03-14",
        "oil": [{"lot": "x", "volume": "50 US gal at 72 °F"}],
        "reaction": [
            {"catalyst": [{"lot": "koh-1", "mass": "1.92 kg"}], "methanol": [{"lot": "a", "mass": "30 kg"}]}
        ],
        "tests": [{"property": "water", "value": "300 mg/kg"}, {"property": "soap", "value": "< 0.05 g/kg"}],
        "fuel": {"mass": "100.5 kg"},
    }
    cells = dict(zip(HEADINGS, laid(mapping, [data], "none")[1], strict=True))
    assert cells["Oil (L)"] == Decimal("189.2705892")  # U1: 3.785411784 L, NIST Handbook 44 App. C, published
    assert cells["KOH (g)"] == Decimal(1920)
    assert cells["Methanol (L)"] == "30 kg" and cells["Fuel (L)"] == "100.5 kg"
    assert cells["Soap (ppm)"] == "< 50"
    assert cells["Oil °C"] == Decimal("22.2222222222222")  # (72 - 32) x 5/9, derived


def test_a_temperature_is_given_in_the_degrees_of_its_column() -> None:
    mapping = map_of(MAP.replace("oil.0.volume.at, unit: °C", "oil.0.volume.at, unit: °F"))
    cells = laid(mapping, [{"batch": "1", "oil": [{"volume": "1 L at 20 °C"}]}], "none")[1]
    assert cells[HEADINGS.index("Oil °C")] == Decimal(68)  # 20 x 9/5 + 32, derived


def test_entries_that_have_no_column_of_their_own_are_shown_and_not_dropped() -> None:
    mapping = map_of()
    data = {
        "batch": "7",
        "oil": [{"lot": "a", "volume": "66 L at 22 °C"}, {"lot": "b", "volume": "109 L"}],
        "tests": [
            {"property": "soap", "value": "60 mg/kg"},
            {"property": "water", "value": "1 mg/kg"},
            {"property": "soap", "value": "40 mg/kg"},
        ],
    }
    cells = dict(zip(HEADINGS, laid(mapping, [data], "none")[1], strict=True))
    assert (cells["Oil (L)"], cells["Oil °C"], cells["Soap (ppm)"]) == ("66; 109", Decimal(22), "60; 40")


def test_entries_are_told_apart_by_their_lots_where_the_map_names_several() -> None:
    text = MAP.replace("{column: Colour, key: note.line}", "{column: Colour, key: oil.1.volume, unit: L}")
    mapping = map_of(text.replace("always:", "always:\n  oil.1.lot: oil-2"))
    cells = laid(mapping, [{"batch": "7", "oil": [{"lot": "oil-2", "volume": "9 L"}]}], "none")[1]
    assert (cells[HEADINGS.index("Oil (L)")], cells[HEADINGS.index("Colour")]) == (None, Decimal(9))


def test_a_single_run_is_found_with_and_without_its_list() -> None:
    text = MAP.replace(
        "{column: Colour, key: note.line}", "{column: Colour, key: polish.0.soap.1.acid, unit: mL}"
    )
    text = text.replace("always:", "always:\n  polish.0.soap.1.point: product\n  polish.0.soap.0.point: feed")
    mapping = map_of(text)
    run = {"soap": [{"point": "feed", "acid": "9 mL"}, {"point": "product", "acid": "0.2 mL"}]}
    for polish in (run, [run]):
        rows = laid(mapping, [{"batch": "1", "polish": polish}], "none")
        assert rows[1][HEADINGS.index("Colour")] == Decimal("0.2")


def test_a_text_that_could_be_a_formula_is_guarded_and_comes_back() -> None:
    mapping = map_of()
    plan = plan_of(row(batch="1", date="2026-03-14", oil="1", notes="'=HYPERLINK(1)", colour="'@x"))
    assert plan.written[0].text.endswith("note: |\n  =HYPERLINK(1)\n  Colour: @x\n")
    back = exported(plan, mapping)
    assert b",'@x,'=HYPERLINK(1)\r\n" in back
    assert planned(
        read_csv("t.csv", back, Form("utf-8", "comma")), mapping, there_of(plan), CONTEXT
    ).same == ["1"]


def test_headings_and_units_stand_where_the_map_wants_them() -> None:
    mapping = map_of(MAP.replace("id:", "header: 3\nfirst: 5\nid:"))
    rows = (
        laid_csv(mapping, laid(mapping, [{"batch": "1", "date": "2026-03-14"}], "none"))
        .decode("utf-8-sig")
        .split("\r\n")
    )
    assert rows[:2] == ["", ""] and rows[2].startswith("Batch,Date") and rows[3].startswith(",,L,°C,mL,g")


def test_ids_are_read_backwards_through_their_rule() -> None:
    mapping = map_of(MAP.replace('"{Batch}"', '"{year}-{Batch:3}"'))
    rows = laid(mapping, [{"batch": "2026-007"}, {"batch": "other"}], "none")
    assert [each[0] for each in rows[1:]] == ["7", "other"]
