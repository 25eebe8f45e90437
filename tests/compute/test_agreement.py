"""Bench beside laboratory: the differences of the first results of a batch, bounds apart."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from generator.compute.tally import tally
from generator.ledger.ledgers import Ledgers
from tests.logbook_files import Changes, log_of


def batches(*tests: tuple[str, str]) -> Changes:
    """Batches with one bench and one laboratory result of water each, and a later one of both that does not count."""
    out: dict[str, tuple[str, str] | str | None] = {}
    for place, (bench, laboratory) in enumerate(tests, 1):
        rows = [(bench, "false"), (laboratory, "true"), ("900 mg/kg", "false"), ("1 mg/kg", "true")]
        listed = "".join(
            f"  - {{property: water, value: '{value}', laboratory: {word}}}\n" for value, word in rows
        )
        out[f"batches/w{place:02}.yaml"] = (
            f"batch: w{place:02}\ndate: 2026-02-{place:02}\noil: [{{lot: oil-1, volume: 1 L at 15 °C}}]\n"
            "reaction:\n  - catalyst: [{lot: koh-1, mass: 10 g}]\n    methanol: [{lot: meoh-1, volume: 200 mL at 15 °C}]\n"
            f"tests:\n{listed}"
        )
    return out


def water(parent: Path, *tests: tuple[str, str]) -> dict[str, Any]:
    (row,) = tally(Ledgers(log_of(parent, batches(*tests)))).rows("agreement")
    assert row["property"] == "water"
    return row


def pairs(*differences: int) -> list[tuple[str, str]]:
    return [(f"{300 + each} mg/kg", "300 mg/kg") for each in differences]


def test_the_middle_of_the_differences_and_where_it_lies(tmp_path: Path) -> None:
    row = water(tmp_path, *pairs(10, 20, 30, 40, 50, -5))
    assert (row["pairs"], row["median"], row["low"], row["high"]) == (6, 25, -5, 50)
    assert (row["least"], row["most"], row["above"], row["below"]) == (-5, 50, 5, 1)
    assert row["by_chance"] == pytest.approx(2 * 7 / 64)


def test_under_six_pairs_the_middle_has_no_interval(tmp_path: Path) -> None:
    row = water(tmp_path, *pairs(10, 20, 30))
    assert (row["median"], row["low"], row["high"], row["by_chance"]) == (20, None, None, 0.25)


def test_pairs_that_are_alike_count_on_no_side(tmp_path: Path) -> None:
    row = water(tmp_path, *pairs(0, 0, 10))
    assert (row["above"], row["below"], row["median"], row["by_chance"]) == (1, 0, 0, 1.0)


def test_a_bound_is_no_difference_but_can_contradict(tmp_path: Path) -> None:
    row = water(
        tmp_path, ("< 300 mg/kg", "250 mg/kg"), ("< 300 mg/kg", "310 mg/kg"), ("320 mg/kg", "300 mg/kg"), ("> 500 mg/kg", "450 mg/kg")
    )  # fmt: skip
    assert (row["pairs"], row["median"], row["bounds"], row["contradicted"]) == (1, 20, 3, 2)


def test_without_a_pair_there_is_no_row(tmp_path: Path) -> None:
    assert tally(Ledgers(log_of(tmp_path))).rows("agreement") == []
