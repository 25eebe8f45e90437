"""Days and times as people type them."""

from __future__ import annotations

from datetime import date, datetime, time

import pytest

from generator.exchange.numbers import clock_of, day_of
from generator.validate.answer import Fault

from .sheets import MAP, map_of


@pytest.mark.parametrize(
    ("value", "told"),
    [
        ("9:10", "09:10"),
        ("09.10", "09:10"),
        ("9h10", "09:10"),
        ("2:05 PM", "14:05"),
        ("12:05 am", "00:05"),
        ("12:05pm", "12:05"),
        ("3/4/2025 2:05:30 PM", "14:05"),
        ("2025-03-04T14:05:30", "14:05"),
        (time(14, 5), "14:05"),
        (datetime(2025, 3, 4, 14, 5), "14:05"),
        ("noon", ""),
        ("PM", ""),
        ("14", ""),
    ],
    ids=str,
)
def test_times(value: object, told: str) -> None:
    assert clock_of(value) == told


@pytest.mark.parametrize(
    ("text", "day"),
    [
        ("3.4.26", date(2026, 4, 3)),
        ("3. 4. 2026", date(2026, 4, 3)),
        ("3-4-2026", date(2026, 4, 3)),
        ("3 April 2026", date(2026, 4, 3)),
        ("3 apr. 26", date(2026, 4, 3)),
        ("3-Apr-26", date(2026, 4, 3)),
        ("2026/4/3", date(2026, 4, 3)),
        ("2026-04-03 14:05", date(2026, 4, 3)),
        ("3.4.2026 2:05 PM", date(2026, 4, 3)),
        ("31.4.2026", None),
        ("3 Avril 2026", None),
        ("spring", None),
        ("3.4", None),
        ("99999999", None),
        ("3.4.026", None),
        ("3.4.6", None),
    ],
)
def test_days_with_the_day_first(text: str, day: date | None) -> None:
    settings = map_of(MAP.replace("id:", "dates: day-month-year\nid:", 1)).settings
    found = day_of(text, settings, None)
    assert isinstance(found, Fault) if day is None else found == day
