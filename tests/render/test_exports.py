"""Files for other programs: numbers as they are, unknown as nothing, no cell that a spreadsheet would run."""

from __future__ import annotations

import csv
import io
import json
import math
from dataclasses import replace
from decimal import Decimal
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.render.exports import AT_ONCE, csv_bytes, dictionary_bytes, guarded, json_bytes
from generator.tables import ALL, Column, Table

TABLE = Table(
    "things",
    "one thing",
    (Column("name", "", "its name"), Column("size_l", "L", "how much", needs=("name",), method="size")),
)


def cell(value: Any) -> str:
    text = csv_bytes(TABLE, {"name": [value], "size_l": [1]}).decode("utf-8")
    return next(iter(list(csv.reader(io.StringIO(text, newline="")))[1:]))[0]


@pytest.mark.parametrize(
    "text",
    [
        "=1+1",
        "+1",
        "-1",
        "@SUM(A1)",
        "|calc",
        "%x",
        "\tx",
        "\rx",
        "\nx",
        "\0x",
        "＝1+1",
        "＋1",
        "－1",
        "＠x",
        "｜x",
        "％x",
        "−1",
        "  =1+1",
        "\u00a0=1",
        '"=1"',
        "'=1",
        "\ufeff=1",
        "\u200b=1",
        "  \"'=1",
    ],
)
def test_text_that_could_be_a_formula_is_prefixed(text: str) -> None:
    assert guarded(text) == f"'{text}"
    assert cell(text) == f"'{text}"


@pytest.mark.parametrize("text", ["2026-014", "a=b", "7 g/L", "", " ", "'quoted'", "member-07", "< 6.8"])
def test_other_text_is_left_alone(text: str) -> None:
    assert guarded(text) == text


@pytest.mark.parametrize(
    ("value", "text"),
    [
        (-1.5, "-1.5"),
        (0.1 + 0.2, "0.30000000000000004"),
        (3, "3"),
        (Decimal("1.20"), "1.20"),
        (None, ""),
        (float("nan"), ""),
        (True, "yes"),
    ],
)
def test_numbers_stay_numbers_and_unknown_is_empty(value: Any, text: str) -> None:
    assert cell(value) == text


def test_csv_is_rfc_4180() -> None:
    data = csv_bytes(TABLE, {"name": ['a "b", c\nd'], "size_l": [1.5], "ignored": [1]})
    assert data == b'name,size_l\r\n"a ""b"", c\nd",1.5\r\n'


@pytest.mark.parametrize("nothing", [None, "", float("nan")])
def test_a_line_of_one_column_with_nothing_in_it_is_a_line(nothing: Any) -> None:
    """As the csv module writes it: what reads a file leaves an empty line out."""
    data = csv_bytes(replace(TABLE, columns=TABLE.columns[:1]), {"name": ["a", nothing, "b"]})
    assert list(csv.reader(io.StringIO(data.decode(), newline=""))) == [["name"], ["a"], [""], ["b"]]


VALUES = st.one_of(
    st.none(),
    st.booleans(),
    st.integers(),
    st.floats(),
    st.decimals(allow_nan=False, allow_infinity=False),
    st.text(),
)


@given(st.lists(st.tuples(VALUES, VALUES)))
def test_a_column_is_written_as_the_library_writes_each_cell_of_it(rows: list[tuple[Any, Any]]) -> None:
    """Whatever kinds of values stand in one column: what is written for all at once is what is written for each."""
    columns = {"name": [name for name, _ in rows], "size_l": [size for _, size in rows]}
    texts = [[_cell(value) for value in row] for row in rows]
    out = io.StringIO(newline="")
    csv.writer(out, lineterminator="\r\n").writerows([TABLE.names, *texts])
    assert csv_bytes(TABLE, columns).decode() == out.getvalue()
    read = json.loads(json_bytes(TABLE, columns))
    assert read["rows"] == [dict(zip(TABLE.names, map(_value, row), strict=True)) for row in rows]


def _cell(value: Any) -> Any:
    if isinstance(value, float) and math.isnan(value):
        return None
    return (
        {True: "yes", False: "no"}[value]
        if isinstance(value, bool)
        else guarded(value)
        if isinstance(value, str)
        else value
    )


def _value(value: Any) -> Any:
    if isinstance(value, float) and not math.isfinite(value):
        return None
    return float(value) if isinstance(value, Decimal) else value


def test_json_has_null_for_unknown_and_no_nan() -> None:
    data = json_bytes(
        TABLE,
        {"name": [None, "é", "x"], "size_l": [float("nan"), float("inf"), Decimal("1.5")]},
    )

    def refuse(name: str) -> None:
        raise AssertionError(name)

    read = json.loads(data, parse_constant=refuse)
    assert read["rows"] == [
        {"name": None, "size_l": None},
        {"name": "é", "size_l": None},
        {"name": "x", "size_l": 1.5},
    ]
    assert read["columns"][1] == {"name": "size_l", "unit": "L", "meaning": "how much"}
    assert (read["table"], read["row"]) == ("things", "one thing")


def test_rows_that_are_written_many_at_once_are_all_there() -> None:
    names = [str(number) for number in range(2 * AT_ONCE + 1)]
    data = csv_bytes(TABLE, {"name": names, "size_l": [1.5] * len(names)})
    assert [row["name"] for row in csv.DictReader(io.StringIO(data.decode(), newline=""))] == names


def test_json_has_a_row_a_line_whatever_a_text_holds() -> None:
    """Rows are encoded many at once: where a text looks like the seam between two, nothing is parted."""
    texts = ['}, {"name": ', "}, {", '"}, {"name": "', "\\", "a\nb", '}, {"name'] * (AT_ONCE // 4)
    data = json_bytes(TABLE, {"name": texts, "size_l": [1] * len(texts)}).decode()
    assert [row["name"] for row in json.loads(data)["rows"]] == texts
    lines = [line for line in data.splitlines() if line.startswith('  {"name": ') and "size_l" in line]
    assert [json.loads(line.rstrip(","))["name"] for line in lines] == texts


def test_a_column_that_lacks_is_an_error() -> None:
    with pytest.raises(KeyError):
        csv_bytes(TABLE, {"name": ["x"]})


def test_the_dictionary_describes_every_column_of_every_table() -> None:
    read = json.loads(dictionary_bytes(ALL))
    assert [table["table"] for table in read["tables"]] == [table.name for table in ALL]
    assert all(column["meaning"] for table in read["tables"] for column in table["columns"])
    assert json.loads(dictionary_bytes([TABLE]))["tables"][0]["columns"][1]["made_from"] == ["name"]
