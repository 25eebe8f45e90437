"""Lots of oil are ranked by what an oil decides: a bill of the batch that it met makes none of them dear."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from generator.compute.tally import tally
from generator.ledger.ledgers import Ledgers
from tests.compute.test_hindsight import LOG, batch, lot
from tests.logbook_files import Changes, log_of

BILL = (
    "other_costs: [{for: laboratory, paid: 27.00 EUR}]\ncredits: [{for: glycerol, amount: 2.70 EUR}]\nenergy:"
)
CHEAP = batch(6, "oil-3", 27.0).replace("energy:", BILL)


def lots(parent: Path, **changes: Any) -> dict[str, dict[str, Any]]:
    files: Changes = {**LOG, "batches/b6.yaml": CHEAP, **changes}
    return {row["lot"]: row for row in tally(Ledgers(log_of(parent, files))).rows("lots")}


def test_a_bill_of_its_batch_makes_no_lot_dear(tmp_path: Path) -> None:
    """Oil at 0.20 beside oil at 0.60: cheaper by 0.38 and more a litre, though the 24.30 of its batch are 0.90 a litre."""
    found = lots(tmp_path)
    cheap, dear = found["oil-3"], found["oil-2"]
    assert cheap["fuel_cost_per_l"] > dear["fuel_cost_per_l"]
    assert cheap["compared_per_l"] < dear["compared_per_l"]
    assert cheap["single_per_l"] == pytest.approx(24.30 / 27.0, rel=1e-3)
    assert [found[name]["rank"] for name in ("oil-3", "oil-1", "oil-2")] == [1, 2, 3]
    assert [found[name]["batches"] for name in ("oil-3", "oil-1", "oil-2")] == [1, 5, 1]


def test_both_costs_are_of_the_same_batches(tmp_path: Path) -> None:
    """With media is what is compared, media and single bills, to the last digit; media alone are 0.00 where a batch met no column."""
    for row in lots(tmp_path).values():
        if row["rank"] is not None:
            rest = row["fuel_cost_per_l"] - row["compared_per_l"] - row["single_per_l"]
            assert rest > 0
    (other,) = (
        row for row in tally(Ledgers(log_of(tmp_path / "b", LOG))).rows("lots") if row["lot"] == "oil-3"
    )
    assert other["single_per_l"] == 0
    assert other["compared_per_l"] == pytest.approx(
        lots(tmp_path / "c")["oil-3"]["compared_per_l"], rel=1e-12
    )


def test_a_lot_without_a_known_cost_has_no_rank(tmp_path: Path) -> None:
    unpaid = lot("oil-3", "0.20").replace("paid: 0.20 EUR/L\n", "")
    found = lots(tmp_path, **{"lots/oil-3.yaml": unpaid})
    assert (found["oil-3"]["rank"], found["oil-3"]["compared_per_l"]) == (None, None)
    assert [found[name]["rank"] for name in ("oil-1", "oil-2")] == [1, 2]
