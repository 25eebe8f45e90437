"""A trend of cost is told by its slope and by how likely chance makes as much; of too few batches nothing is."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Any

import pandas as pd
import pytest

from generator.compute.frames import plain_rows
from generator.compute.trends import trends


def rows(*costs: float | None, days: int = 10) -> list[dict[str, Any]]:
    start = date(2026, 1, 5)
    data = [
        {
            "date": (start + timedelta(days=days * place)).isoformat(),
            "with_media_per_l": cost,
            "oil_per_l": None,
        }
        for place, cost in enumerate(costs)
    ]
    return plain_rows(trends(pd.DataFrame(data).astype({"with_media_per_l": float, "oil_per_l": float})))


def test_a_row_that_rises_by_a_cent_a_batch() -> None:
    """Every ten days a cent more: 0.36525 a year; one odd batch does not turn it. A part that is not known has no trend."""
    (found,) = rows(*(0.60 + 0.01 * place for place in range(12)), None, 5.0)
    assert found["of"] == "cost with media"
    assert found["batches"] == 13
    assert found["per_l_per_year"] == pytest.approx(0.36525, rel=0.02)
    assert found["by_chance"] < 0.001


def test_a_row_without_a_trend_says_so() -> None:
    (found,) = rows(*[0.6, 0.7] * 6)
    assert found["by_chance"] > 0.3


def test_nine_batches_say_nothing() -> None:
    assert rows(*(0.60 + 0.01 * place for place in range(9))) == []


def test_a_cost_that_never_moved_has_no_trend() -> None:
    assert rows(*[0.6] * 12) == []
