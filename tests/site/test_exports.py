"""The tables under data/: stable names, unrounded numbers, unknown empty, censored results with their bound."""

from __future__ import annotations

import csv
import json
from pathlib import Path

import pytest

NAMES = ("batches", "lots", "charges", "runs", "tests", "costs", "offers", "tanks")


@pytest.mark.parametrize("name", NAMES)
def test_csv_and_json_say_the_same(demo: Path, name: str) -> None:
    with (demo / "data" / f"{name}.csv").open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    table = json.loads((demo / "data" / f"{name}.json").read_text(encoding="utf-8"))
    assert len(rows) == len(table["rows"]) > 0
    for row, other in zip(rows, table["rows"], strict=True):
        assert list(row) == list(other)
        for column, value in other.items():
            if value is None:
                assert row[column] == ""
            elif isinstance(value, int | float):
                assert float(row[column]) == value
            else:
                assert row[column].lstrip("'") == value.lstrip("'")


def test_the_dictionary_explains_every_column(demo: Path) -> None:
    dictionary = json.loads((demo / "data" / "dictionary.json").read_text(encoding="utf-8"))
    told = {
        (table["table"], column["name"]): column
        for table in dictionary["tables"]
        for column in table["columns"]
    }
    for name in NAMES:
        table = json.loads((demo / "data" / f"{name}.json").read_text(encoding="utf-8"))
        for column in table["rows"][0]:
            assert told[name, column]["meaning"]


def test_a_censored_soap_result_carries_its_bound(demo: Path) -> None:
    table = json.loads((demo / "data" / "batches.json").read_text(encoding="utf-8"))
    below = [row for row in table["rows"] if row["soap_product_detected"] == "no"]
    assert below
    for row in below:
        assert row["soap_product_mg_per_kg"] == row["soap_product_limit_mg_per_kg"] > 0


def test_numbers_are_not_rounded(demo: Path) -> None:
    table = json.loads((demo / "data" / "batches.json").read_text(encoding="utf-8"))
    digits = [
        len(repr(row["yield_volume_pct"]).partition(".")[2])
        for row in table["rows"]
        if row["yield_volume_pct"]
    ]
    assert max(digits) > 8
