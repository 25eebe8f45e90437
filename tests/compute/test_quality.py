"""Results beside their limits: within, outside, cannot tell, and nothing more than that."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from generator.compute.quality import verdict
from generator.compute.tally import tally
from generator.ledger.ledgers import Ledgers
from tests.logbook_files import Changes, log_of

B1 = "batches/b1.yaml"


@pytest.mark.parametrize(
    ("value", "sign", "low", "high", "expected"),
    [
        # an upper limit of 500
        (499, "", None, 500, "within"),
        (500, "", None, 500, "within"),
        (501, "", None, 500, "outside"),
        (0, "", None, 500, "within"),
        (50, "<", None, 500, "within"),
        (500, "<", None, 500, "within"),
        (501, "<", None, 500, "cannot tell"),
        (499, ">", None, 500, "cannot tell"),
        (500, ">", None, 500, "outside"),
        (2000, ">", None, 500, "outside"),
        # a lower limit of 101
        (101, "", 101, None, "within"),
        (100.9, "", 101, None, "outside"),
        (130, ">", 101, None, "within"),
        (101, ">", 101, None, "within"),
        (90, ">", 101, None, "cannot tell"),
        (130, "<", 101, None, "cannot tell"),
        (101, "<", 101, None, "outside"),
        (90, "<", 101, None, "outside"),
        # between 860 and 900
        (880, "", 860, 900, "within"),
        (860, "", 860, 900, "within"),
        (900, "", 860, 900, "within"),
        (859, "", 860, 900, "outside"),
        (901, "", 860, 900, "outside"),
        (880, "<", 860, 900, "cannot tell"),
        (880, ">", 860, 900, "cannot tell"),
        (860, "<", 860, 900, "outside"),
        (900, ">", 860, 900, "outside"),
        (950, "<", 860, 900, "cannot tell"),
        (800, ">", 860, 900, "cannot tell"),
        # nothing to hold it to
        (880, "", None, None, "no limit"),
        (None, "", 860, 900, "no limit"),
    ],
)
def test_the_table_of_verdicts(
    value: float | None, sign: str, low: float | None, high: float | None, expected: str
) -> None:
    """`< 500` means below 500, so it is within a limit of 500 at most and outside one of 500 at least."""
    assert verdict(value, sign, low, high) == expected


def rows(parent: Path, *tests: str, more: Changes | None = None) -> list[dict[str, Any]]:
    """The rows of the first batch with these tests."""
    text = "  - {property: water, value: 310 mg/kg, method: water test kit}\n"
    log = log_of(parent, {B1: (text, "".join(f"  - {{{test}}}\n" for test in tests)), **(more or {})})
    return [row for row in tally(Ledgers(log)).rows("tests") if row["subject"] == "b1"]


def test_limits_come_from_the_chosen_edition(tmp_path: Path) -> None:
    """EN 14214, 2012+A1 2014 (secondary copy): water at most 500 mg/kg, acid value 0.50, flash point at least 101 °C."""
    found = rows(
        tmp_path, "property: water, value: < 600 mg/kg", "property: acid value, value: 0.51 mg KOH/g",
        "property: flash point, value: 214 °F", "property: cloud point, value: 4 °C",
        "property: copper strip, value: class 1", "property: copper strip, value: class 3",
    )  # fmt: skip
    assert [(row["property"], row["limit_low"], row["limit_high"], row["verdict"]) for row in found] == [
        ("water", None, 500.0, "cannot tell"),
        ("acid value", None, 0.5, "outside"),
        ("flash point", 101.0, None, "within"),  # 214 °F are 101.1 °C
        ("cloud point", None, None, "no limit"),
        ("copper strip", None, None, "within"),
        ("copper strip", None, None, "outside"),
    ]


def test_without_a_specification_nothing_is_judged(tmp_path: Path) -> None:
    settings = ("specification: {standard: EN 14214, edition: 2012+A1 2014}\n", "")
    (row,) = rows(tmp_path, "property: water, value: 9000 mg/kg", more={"logbook.yaml": settings})
    assert (row["verdict"], row["limit_high"]) == ("no limit", None)


def test_a_retest_stands_below_what_it_repeats(tmp_path: Path) -> None:
    found = rows(
        tmp_path, "property: water, value: 0.09 %", "property: water, value: 300 ppm, date: 2026-01-15"
    )
    assert [(row["repeat"], row["value"], row["date"], row["verdict"]) for row in found] == [
        (1, 900.0, "2026-01-10", "outside"),
        (2, 300.0, "2026-01-15", "within"),
    ]


def test_what_was_censored_keeps_its_sign(tmp_path: Path) -> None:
    (row,) = rows(tmp_path, "property: water, value: <50 mg/kg")
    assert (row["value"], row["qualifier"], row["written"]) == (50.0, "<", "<50 mg/kg")


def product(parent: Path, acid: str) -> dict[str, Any]:
    """The soap of the product, 100 g titrated with 0.01 N acid, burette of 0.05 mL."""
    log = log_of(parent, {B1: ("sample: 100 g, acid: 0.3 mL", f"sample: 100 g, acid: {acid}")})
    row = next(row for row in tally(Ledgers(log)).rows("batches") if row["batch"] == "b1")
    return {key: row[f"soap_product_{key}"] for key in ("mg_per_kg", "limit_mg_per_kg", "detected")}


LIMIT = 3 * 2**0.5 * 0.05 * 0.01 * 320.56 * 1000 / 100  # 6.8001 mg/kg; potassium soap


def test_soap_above_its_limit_is_a_value(tmp_path: Path) -> None:
    assert product(tmp_path, "0.3 mL") == {
        "mg_per_kg": pytest.approx(9.6168, rel=1e-12), "limit_mg_per_kg": pytest.approx(LIMIT, rel=1e-12), "detected": "yes",
    }  # fmt: skip


@pytest.mark.parametrize("acid", ["0.2 mL", "0.0 mL"])
def test_soap_below_its_limit_carries_the_limit_not_zero(tmp_path: Path, acid: str) -> None:
    assert product(tmp_path, acid) == {
        "mg_per_kg": pytest.approx(LIMIT, rel=1e-12), "limit_mg_per_kg": pytest.approx(LIMIT, rel=1e-12), "detected": "no",
    }  # fmt: skip


def test_soap_read_as_less_than_so_much_carries_that_as_its_bound(tmp_path: Path) -> None:
    """< 0.5 mL: less than 16.028 mg/kg, which is above the limit of the burette."""
    found = product(tmp_path, "< 0.5 mL")
    assert (found["mg_per_kg"], found["detected"]) == (pytest.approx(16.028, rel=1e-12), "no")
