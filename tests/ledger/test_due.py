"""Tests by a rhythm: batches and days since the last, first batches of something new, fuel that stands in tanks."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest

from generator.compute.tally import tally
from generator.ledger.due import Due, dues, rule_text
from generator.ledger.ledgers import Ledgers
from generator.ledger.stored import stored
from generator.records import Rhythm
from tests.logbook_files import Changes, log_of


def due(parent: Path, rule: str, today: date | None = None, more: Changes | None = None) -> list[Due]:
    """What one rule makes due. b1 is of 2026-01-10, b2 of 2026-01-17, each with a bench test of water."""
    settings = ("dose: {base", f"testing:\n  - {{{rule}}}\ndose: {{base")
    log = log_of(parent, {"logbook.yaml": settings, **(more or {})})
    return dues(Ledgers(replace(log, as_of=today) if today is not None else log))


def batches(*tested: bool) -> Changes:
    """Batches on days in February, some with a test of sulfur."""
    out: dict[str, tuple[str, str] | str | None] = {}
    for place, done in enumerate(tested, 1):
        test = "tests:\n  - {property: sulfur, value: 3 mg/kg, laboratory: true}\n" if done else ""
        out[f"batches/w{place:02}.yaml"] = (
            f"batch: w{place:02}\ndate: 2026-02-{place:02}\noil: [{{lot: oil-1, volume: 1 L at 15 °C}}]\n"
            "reaction:\n  - catalyst: [{lot: koh-1, mass: 10 g}]\n    methanol: [{lot: meoh-1, volume: 200 mL at 15 °C}]\n"
            f"{test}"
        )
    return out


def test_a_batch_without_its_test_makes_it_due(tmp_path: Path) -> None:
    (found,) = due(tmp_path, "properties: [water], every: 1")
    assert (found.asked, found.done, found.last, found.batches_since, found.due) == (2, 2, "b2", 0, "")
    (found,) = due(tmp_path / "more", "properties: [water], every: 1", more=batches(False))
    assert (found.asked, found.done, found.last, found.due) == (3, 2, "b2", "1 batch since the last")


def test_one_in_so_many_counts_whole_rows_and_batches_since(tmp_path: Path) -> None:
    """b1, b2 and nine more: of three whole rows of three, the second holds a test; six batches since."""
    rule = "properties: [sulfur], every: 3, laboratory: true"
    (found,) = due(tmp_path, rule, more=batches(False, True, False, False, False, False, False, False))
    assert (found.asked, found.done, found.last) == (3, 1, "w02")
    assert (found.batches_since, found.due) == (6, "6 batches since the last")
    (found,) = due(
        tmp_path / "later", rule, more=batches(False, True, False, False, False, True, False, False)
    )
    assert (found.asked, found.done, found.batches_since, found.due) == (3, 2, 2, "")


def test_a_bench_test_is_none_where_a_laboratory_is_asked_for(tmp_path: Path) -> None:
    bench, laboratory = (
        due(tmp_path / where, f"properties: [water], every: 1{more}")[0]
        for where, more in (("bench", ""), ("laboratory", ", laboratory: true"))
    )
    assert (bench.due, laboratory.due, laboratory.done, laboratory.last) == ("", "never tested", 0, None)


@pytest.mark.parametrize(
    ("today", "told"), [(date(2026, 2, 16), ""), (date(2026, 2, 17), "31 days since the last")]
)
def test_the_longest_time_counts_once_there_was_a_batch_since(tmp_path: Path, today: date, told: str) -> None:
    """The last test of water is of 2026-01-17."""
    rule = "properties: [water], within: 30 d"
    (found,) = due(tmp_path, rule, today, batches(False))
    assert found.due == told
    (found,) = due(tmp_path / "none", rule, today)
    assert found.due == ""  # nothing was made that could be tested


def test_both_reasons_are_told(tmp_path: Path) -> None:
    (found,) = due(
        tmp_path, "properties: [water], every: 2, within: 10 d", date(2026, 3, 1), batches(False, False)
    )
    assert found.due == "2 batches since the last and 43 days since the last"


def test_the_first_batch_of_a_new_lot_is_asked_for(tmp_path: Path) -> None:
    """Both batches take from oil-1; the second, put on another lot, is the first of that one."""
    (found,) = due(tmp_path, "properties: [water], after: new oil")
    assert (found.asked, found.done, found.due) == (1, 1, "")
    other: Changes = {
        "lots/oil-2.yaml": "lot: oil-2\nmaterial: frying-oil\nreceived: 2026-01-02\nquantity: 300 L at 15 °C\npaid: 0.30 EUR/L\n",
        "batches/b2.yaml": ("lot: oil-1", "lot: oil-2"),
    }
    (found,) = due(tmp_path / "other", "properties: [sulfur], after: new oil", more=other)
    assert (found.asked, found.done, found.due) == (2, 0, "batch b2 has none")


def test_the_first_batch_through_a_new_charge_is_asked_for(tmp_path: Path) -> None:
    """Both vessels were packed before b1."""
    (soap,) = due(tmp_path, "properties: [soap], after: new charge")
    assert (soap.asked, soap.done, soap.due) == (1, 1, "")
    (sulfur,) = due(tmp_path / "sulfur", "properties: [sulfur], after: new charge")
    assert (sulfur.asked, sulfur.done, sulfur.due) == (1, 0, "batch b1 has none")


DRAWN: Changes = {
    "tanks/tank-1.yaml": "tank: tank-1\nshape: {vertical cylinder: {diameter: 80 cm, height: 120 cm}}\nhistory:\n  - {date: 2026-02-01, draw: 100 L at 15 °C}\n"
}


def test_what_stands_in_a_tank_is_counted_first_in_first_out(tmp_path: Path) -> None:
    """97 L of each batch came; 40 L were drawn, or 100 L, so 94 L are left, all of b2."""
    both = stored(Ledgers(log_of(tmp_path)).tanks)
    assert [(part.batch, float(part.litres)) for part in both] == [("b1", 57.0), ("b2", 97.0)]
    left = stored(Ledgers(log_of(tmp_path / "drawn", DRAWN)).tanks)
    assert [(part.batch, float(part.litres)) for part in left] == [("b2", 94.0)]


def test_stored_fuel_is_due_by_its_own_age(tmp_path: Path) -> None:
    rule = "properties: [water], stored: 60 d"
    (early,) = due(tmp_path, rule, date(2026, 3, 1), DRAWN)
    assert (early.asked, early.done, early.due) == (1, 1, "")
    (late,) = due(tmp_path / "late", rule, date(2026, 4, 1), DRAWN)
    assert (late.asked, late.done, late.due) == (1, 0, "in tanks: b2")
    again: Changes = {
        **DRAWN,
        "batches/b2.yaml": (
            "tests:\n",
            "tests:\n  - {date: 2026-03-20, property: water, value: 330 mg/kg}\n",
        ),
    }
    (tested,) = due(tmp_path / "again", rule, date(2026, 4, 1), again)
    assert (tested.done, tested.due) == (1, "")


def test_the_age_and_the_last_results_stand_in_the_table(tmp_path: Path) -> None:
    more: Changes = {
        **DRAWN,
        "batches/b2.yaml": (
            "tests:\n",
            "tests:\n  - {property: acid value, value: 0.2 mg KOH/g}\n  - {date: 2026-03-20, property: acid value, value: 0.3 mg KOH/g}\n",
        ),
    }
    log = replace(log_of(tmp_path, more), as_of=date(2026, 4, 1))
    (row,) = tally(Ledgers(log)).rows("stored")
    assert (row["batch"], row["tank"], row["volume_l"]) == ("b2", "tank-1", 94.0)
    assert (row["age_days"], row["acid_value"], row["acid_day"], row["retests"]) == (
        (date(2026, 4, 1) - date.fromisoformat(row["filled"])).days, "0.3 mg KOH/g", "2026-03-20", 1,
    )  # fmt: skip


@pytest.mark.parametrize(
    ("rule", "text"),
    [
        ({"every": "1"}, "every batch"),
        ({"every": "10", "within": "31 d", "laboratory": "true"}, "one batch in 10 and at least every 31 days, by a laboratory"),
        ({"within": "48 h"}, "at least every 2 days"),
        ({"after": "new oil"}, "the first batch of a new lot of oil"),
        ({"after": "new charge"}, "the first batch of a new charge"),
        ({"stored": "90 d"}, "stored fuel, every 90 days"),
    ],
)  # fmt: skip
def test_a_rule_is_told_in_words(rule: dict[str, str], text: str) -> None:
    assert rule_text(Rhythm.model_validate({"properties": ["water"], **rule})) == text


def test_a_longest_time_asks_of_every_batch(tmp_path: Path) -> None:
    """Of three batches two were tested."""
    (found,) = due(tmp_path, "properties: [water], within: 30 d", more=batches(False))
    assert (found.asked, found.done) == (3, 2)
