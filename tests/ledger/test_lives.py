"""The lives of a regenerated charge are told apart: nothing of an earlier one speaks for the bed as it is now."""

from __future__ import annotations

from pathlib import Path

from generator.ledger.charges import Charge
from generator.ledger.states import passing_pct
from tests.ledger.test_columns import BETWEEN, FEED, LAG_G, PRODUCT, batch, folded, near
from tests.ledger.test_runs import REGENERATED, TWO, lines

REGENERATE = "date: 2026-01-15, event: regenerate, vessel: B"


def lag(parent: Path, *events: str, after: bool = True) -> Charge:
    days = ((1, 11), (2, 14), *(((3, 16),) if after else ()))
    batches = {f"b{n}": batch(f"b{n}", day, FEED, BETWEEN, PRODUCT) for n, day in days}
    materials = {"materials/all.yaml": REGENERATED}
    return folded(parent, lines(TWO, *events), batches, **materials).charges[1]


def test_a_regeneration_begins_a_life(tmp_path: Path) -> None:
    bed = lag(tmp_path, REGENERATE)
    assert (bed.life, bed.since.day) == (2, 15)
    assert [run.life for run in bed.runs] == [1, 1, 2]
    assert [run.batch for run in bed.present] == ["b3"]
    assert bed.soap.estimate == near(LAG_G)


def test_a_rinse_begins_none(tmp_path: Path) -> None:
    """A methanol rinse gives no exchange back."""
    bed = lag(tmp_path, "date: 2026-01-15, event: rinse, vessel: B")
    assert (bed.life, bed.since.day, len(bed.present)) == (1, 3, 3)


def test_what_passed_before_a_regeneration_says_nothing_of_the_bed_behind_it(tmp_path: Path) -> None:
    bed = lag(tmp_path, REGENERATE, after=False)
    assert (bed.life, bed.present) == (2, [])
    assert passing_pct(bed) is None
