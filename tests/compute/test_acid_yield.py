"""Acidity against yield is told for batches that were worked alike: put together, two purifiers turn the slope."""

from __future__ import annotations

from pathlib import Path
from random import Random
from typing import Any

import pandas as pd
import pytest

from generator.compute.acid_yield import acid_slopes
from generator.compute.frames import plain_rows
from generator.compute.tally import tally
from generator.formulas.statistics import theil_sen_slope
from generator.ledger.ledgers import Ledgers
from tests.logbook_files import log_of


def points(purifier: str, count: int, acid: float, level: float) -> list[dict[str, Any]]:
    """Batches around an acid value, 0.5 % less fuel for each mg KOH/g more."""
    draw = Random(purifier)
    found = []
    for place in range(count):
        off = draw.uniform(-1, 1)
        found.append(
            {
                "batch": f"{purifier}-{place}",
                "purifier": purifier,
                "catalyst_of": "KOH",
                "stages": 1,
                "pretreated": "no",
                "acid_value_mg_koh_per_g": acid + off,
                "yield_mass_pct": level - 0.5 * off + draw.uniform(-0.05, 0.05),
            }
        )
    return found


def slopes(rows: list[dict[str, Any]]) -> list[dict[str, Any]]:
    return plain_rows(acid_slopes(pd.DataFrame(rows)))


def test_each_way_of_working_has_its_own_slope() -> None:
    """The barn gets the sweeter oil and loses more: together the slope is above zero, apart both are -0.5."""
    rows = [*points("shed", 12, 4.0, 97.0), *points("barn", 11, 1.5, 92.0)]
    acids, yields = ([row[name] for row in rows] for name in ("acid_value_mg_koh_per_g", "yield_mass_pct"))
    assert theil_sen_slope(acids, yields) > 0.5
    shed, barn = slopes(rows)
    assert (shed["purifier"], shed["batches"], barn["purifier"]) == ("shed", 12, "barn")
    for row in (shed, barn):
        assert row["pct_per_mg"] == pytest.approx(-0.5, abs=0.05)
        assert row["pct_per_mg_low"] <= row["pct_per_mg"] <= row["pct_per_mg_high"] < 0
        assert row["by_chance"] < 0.001


def test_nine_batches_tell_no_slope() -> None:
    (row,) = slopes(points("shed", 9, 4.0, 97.0))
    assert (row["batches"], row["pct_per_mg"], row["by_chance"]) == (9, None, None)


def test_another_base_is_another_way(tmp_path: Path) -> None:
    """The two batches of the good logbook, and what they were worked with."""
    results = tally(Ledgers(log_of(tmp_path)))
    rows = results.rows("acid_yield")
    assert [(row["batch"], row["purifier"], row["catalyst_of"], row["stages"]) for row in rows] == [
        ("b1", "shed", "KOH", 1),
        ("b2", "shed", "KOH", 1),
    ]
    assert sum(row["batches"] for row in results.rows("acid_slopes")) == len(rows)
