"""Planned batches and pre-treatments are checked like records: lots, dates, titrations, stock over all plans."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.ledger.test_dose import B3, FULL, changes
from tests.ledger.test_pretreatment import DONE, PLANNED, RULE
from tests.logbook_files import codes, told


def problems(tmp_path: Path, batch: str, rule: str = FULL, **more: str) -> list[tuple[str, str]]:
    """Codes and messages of a logbook with one more batch, and files by name without their ending."""
    files = {**dict(changes(batch, rule)), **{f"batches/{name}.yaml": text for name, text in more.items()}}
    return [(problem.code, problem.message) for problem in told(tmp_path, files)]


def test_a_good_plan_is_told_nothing(tmp_path: Path) -> None:
    assert problems(tmp_path, B3) == []


def test_a_good_pretreatment_is_told_nothing(tmp_path: Path) -> None:
    assert problems(tmp_path, PLANNED + DONE, RULE) == []


@pytest.mark.parametrize(
    ("batch", "code", "words"),
    [
        (PLANNED.replace("acid: acid-1", "acid: koh-1"), "wrong-kind", "kind acid is wanted here"),
        (PLANNED + DONE.replace("lot: acid-1", "lot: meoh-1"), "wrong-kind", "kind acid is wanted here"),
        (PLANNED + DONE.replace("lot: meoh-1", "lot: koh-1"), "wrong-kind", "kind alcohol is wanted here"),
        (PLANNED + DONE.replace("lot: acid-1", "lot: acid-9"), "unknown-id", "there is no lot 'acid-9'"),
        (PLANNED + DONE.replace("blank: 0 mL", "blank: 10 mL"), "blank-above-reading", "lie below the blank"),
        (B3.replace("[2.5 mL]", "[2.5 mL, 3.5 mL]"), "replicate-spread", "spread over"),
        (B3.replace("blank: 0 mL", "blank: 3 mL"), "blank-above-reading", "lie below the blank"),
        (B3.replace("[2.5 mL]", "[40 mL]"), "acidity-high", "more than kitchen oil usually has"),
        (B3[: B3.index("titration")] + B3[B3.index("plan:") :], "no-titration", "dose cannot be judged"),
    ],
)
def test_what_is_wrong_is_told_once(tmp_path: Path, batch: str, code: str, words: str) -> None:
    found = problems(tmp_path, batch, RULE)
    assert [name for name, _ in found] == [code]
    assert words in found[0][1]


def test_plans_share_what_is_left(tmp_path: Path) -> None:
    """100 L of oil are left: the first plan may have 60 L of them, the second falls short."""
    first = B3.replace("100 L", "60 L")
    second = first.replace("b3", "b4").replace("2026-01-24", "2026-01-31")
    found = problems(tmp_path, first, b4=second)
    assert found == [("plan-short", "batch b4 takes 60.0 L of lot 'oil-1', which holds 40.0")]


def test_the_order_of_dates_counts_and_not_that_of_ids(tmp_path: Path) -> None:
    late = B3.replace("100 L", "60 L").replace("2026-01-24", "2026-02-07")
    early = B3.replace("100 L", "60 L").replace("b3", "b4")
    found = problems(tmp_path, late, b4=early)
    assert [message for _, message in found] == ["batch b3 takes 60.0 L of lot 'oil-1', which holds 40.0"]


def test_methanol_of_the_pretreatment_is_part_of_what_a_plan_takes(tmp_path: Path) -> None:
    """60 L are left. 31 L go into the pre-treatment; what the rule still wants after it goes on top."""
    drained = PLANNED.replace("target:", "acid_drained: true, target:")
    found = problems(tmp_path, drained, RULE.replace("22 %", "35 %"))
    assert [code for code, _ in found] == ["plan-short"]
    assert "of lot 'meoh-1'" in found[0][1]


def test_acid_by_volume_without_a_density_cannot_be_counted(tmp_path: Path) -> None:
    files = dict(changes(B3[: B3.index("plan:")] + DONE.replace("mass: 0.575 kg", "volume: 300 mL"), RULE))
    text = files["materials/all.yaml"]
    assert isinstance(text, str)
    files["materials/all.yaml"] = text.replace(", density: 1.84 kg/L", "")
    assert codes(told(tmp_path, files)) == ["stock-unit"]


def test_a_logbook_of_plans_alone_is_no_empty_logbook(tmp_path: Path) -> None:
    files = {**dict(changes(B3)), "batches/b1.yaml": None, "batches/b2.yaml": None, "tanks/tank-1.yaml": None}
    assert "no-batches" not in codes(told(tmp_path, files))
