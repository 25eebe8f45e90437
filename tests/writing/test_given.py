"""What is given to `new` at once, by flags and as JSON: judged as any record is, and refused where it is said twice."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.writing.test_commands import DAY, run

PLAN = '{"plan": {"catalyst": "koh-1", "methanol": ["meoh-1"]}}'


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ('{"plan": []}', "error: a group of keys is wanted here (not-a-group)\n    plan: []\n"),
        ('{"plan": "x"}', "error: a group of keys is wanted here (not-a-group)\n    plan: x\n"),
        ('{"oil": "x"}', "error: "),
        ('{"plan": {"methanol": 5}}', "'catalyst' is missing"),
        ('{"plan": {}}', "error: a group of keys is wanted here (not-a-group)\n    plan:\n"),
        ('{"plan": {"catalyst": []}}', "error: "),
    ],
)
def test_what_is_said_of_oil_and_plan_is_judged_as_any_record(shed: Path, text: str, told: str) -> None:
    done = run(shed, "new", "batch", "n1", "--from", "-", "--dry-run", DAY, typed=text)
    assert (done.returncode, told in done.stderr) == (1, True), done.stderr[-800:]
    assert "has stock left" not in done.stderr and "Traceback" not in done.stderr


def test_a_plan_of_nothing_is_judged_too(shed: Path) -> None:
    done = run(shed, "new", "batch", "n1", "--set", "plan=null", "--dry-run", DAY)
    assert (
        done.returncode,
        "error: a group of keys is wanted here (not-a-group)\n    plan: null\n" in done.stderr,
    ) == (1, True), done.stderr[-800:]


def test_a_batch_that_is_said_to_be_of_no_lot_yet_is_written_as_such(shed: Path) -> None:
    """The check takes an empty list: what it was made of is unknown."""
    done = run(shed, "new", "batch", "n1", "--from", "-", "--dry-run", DAY, typed='{"oil": []}')
    assert (done.returncode, "\noil: []\n" in done.stdout) == (0, True), done.stderr


def test_where_nothing_was_said_the_stock_that_is_missing_is_told(shed: Path) -> None:
    (shed / "logbook/lots/koh-1.yaml").unlink()
    done = run(shed, "new", "batch", "n1", "--set", "note=Clear.", "--dry-run", DAY)
    assert (done.returncode, "no lot of catalyst has stock left" in done.stderr) == (1, True), done.stderr
    said = run(shed, "new", "batch", "n1", "--set", "plan.catalyst=koh-1", "--dry-run", DAY)
    assert (said.returncode, "has stock left" in said.stderr) == (1, False), said.stderr


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (["lot", "yy", "--set", "lot=zz"], "the id is given twice: 'yy', and 'zz' for the key lot"),
        (
            ["batch", "--purifier", "shed", "--set", "plan.purifier=other"],
            "the purifier is given twice: 'shed', and 'other' for the key plan.purifier",
        ),
        (
            ["lot", "yy", "--set", "paid=3 EUR", "--set", "paid=4 EUR"],
            "--set paid is given twice: '3 EUR', and '4 EUR'",
        ),
    ],
)
def test_what_is_said_twice_by_flags_is_refused(shed: Path, words: list[str], told: str) -> None:
    done = run(shed, "new", *words, "--dry-run", DAY)
    assert (done.returncode, told in done.stderr) == (2, True), done.stderr


@pytest.mark.parametrize(
    "words", [["lot", "yy", "--set=lot=yy"], ["batch", "--purifier=shed", "--set=plan.purifier=shed"]]
)
def test_the_same_may_be_said_in_both_places(shed: Path, words: list[str]) -> None:
    assert "given twice" not in run(shed, "new", *words, "--dry-run", DAY).stderr


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ('{"note": "a",\n "note": "b"}', "in.json:2:2: 'note' stands twice"),
        ('{"plan": {"catalyst": "koh-1", "catalyst": "x"}}', "in.json:1:32: 'catalyst' stands twice"),
        ('{"note": NaN}', "in.json: NaN is no number"),
        ('{"note": [-Infinity]}', "in.json: -Infinity is no number"),
        ('{"note": 1e400}', "in.json: 1e400 is no number"),
    ],
)
def test_json_that_says_a_thing_twice_or_no_number_is_refused(shed: Path, text: str, told: str) -> None:
    (shed / "in.json").write_text(text, encoding="utf-8")
    done = run(shed, "new", "batch", "--from", "in.json", "--dry-run", DAY)
    assert (done.returncode, told in done.stderr) == (2, True), done.stderr


def test_a_number_of_the_json_keeps_its_digits(shed: Path) -> None:
    text = '{"public_note": 0.10, "other_costs": [{"for": 1.50, "paid": "3 EUR"}]}'
    done = run(shed, "new", "batch", "--from", "-", "--dry-run", DAY, typed=text)
    assert ("\npublic_note: 0.10\n" in done.stdout, "for: 1.50" in done.stdout) == (True, True), done.stderr
