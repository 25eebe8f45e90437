"""Rows that are made when they are looked at say what rows say that are all there."""

from __future__ import annotations

import gc
from typing import Any
from weakref import ref

import pandas as pd
import pytest

from generator.build import computed
from generator.compute.frames import Passing, plain_columns, plain_rows
from generator.pages.parts import grouped, newest
from generator.validate.logbook import checked_folder
from tests.site.building import ROOT

DATA = pd.DataFrame(
    {
        "lot": ["oil-1", "oil-2", None, "oil-1"],
        "kg": [1.5, float("nan"), 2.0, 3.0],
        "mixed": [None, 2, "three", float("nan")],
        "count": pd.array([1, None, 3, 4], dtype="Int64"),
    }
)
ROWS: list[dict[str, Any]] = [
    {"lot": "oil-1", "kg": 1.5, "mixed": None, "count": 1},
    {"lot": "oil-2", "kg": None, "mixed": 2, "count": None},
    {"lot": None, "kg": 2.0, "mixed": "three", "count": 3},
    {"lot": "oil-1", "kg": 3.0, "mixed": None, "count": 4},
]


def passing() -> Passing:
    return Passing(plain_columns(DATA))


def test_values_are_plain_and_what_is_unknown_is_none() -> None:
    assert plain_rows(DATA) == ROWS
    assert {type(value) for row in plain_rows(DATA) for value in row.values()} == {
        str,
        float,
        int,
        type(None),
    }


def test_passing_rows_are_the_rows() -> None:
    rows = passing()
    assert (list(rows), len(rows), rows[1], rows[-1]) == (ROWS, 4, ROWS[1], ROWS[3])
    assert (list(rows[1:3]), list(rows[:0]), list(rows[::-1])) == (ROWS[1:3], [], ROWS[::-1])
    assert list(Passing(plain_columns(DATA[:0]))) == []
    with pytest.raises(IndexError):
        rows[4]


def test_pages_group_and_shorten_them_as_they_do_rows() -> None:
    assert (
        dict(grouped(passing(), "lot"))
        == grouped(ROWS, "lot")
        == {"oil-1": [ROWS[0], ROWS[3]], "oil-2": [ROWS[1]]}
    )
    assert grouped(passing(), "lot").get("oil-3", []) == []
    assert newest("Lots", passing(), "data/lots.csv") == newest("Lots", ROWS, "data/lots.csv")
    many: list[dict[str, Any]] = [{"lot": number} for number in range(600)]
    told = newest("Lots", Passing({"lot": list(range(600))}), "data/lots.csv")
    assert (
        told == newest("Lots", many, "data/lots.csv") and len(told[1]) == 500 and told[1][0] == {"lot": 599}
    )


def test_columns_that_nobody_holds_are_dropped() -> None:
    folder, checked = checked_folder(ROOT / "tests" / "logbooks" / "gallons")
    results = computed(folder, checked, "workshop").results
    held = results.passing("standing")
    assert list(held) == results.rows("standing") != []
    assert results.passing("standing") is held
    left = ref(held)
    del held
    gc.collect()
    assert left() is None
