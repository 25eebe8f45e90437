"""Days of cover: what is left over what was drawn a day, worked out by hand."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from pathlib import Path
from typing import Any

import pytest

from generator.compute.frames import plain_rows
from generator.compute.stock import stock
from generator.ledger.ledgers import Ledgers
from tests.logbook_files import log_of


def rows(parent: Path, today: date) -> dict[str, dict[str, Any]]:
    log = replace(log_of(parent), as_of=today)
    return {row["kind"]: row for row in plain_rows(stock(log, Ledgers(log).accounts))}


def test_what_is_left_lasts_as_long_as_the_recent_use_says(tmp_path: Path) -> None:
    """300 L came; two batches of 100 L drew of it on 10 and 17 January: 100 L are left 30 days after the first."""
    oil = rows(tmp_path, date(2026, 2, 9))["oil"]
    assert oil["left"] == pytest.approx(100)
    assert oil["used_per_day"] == pytest.approx(200 / 30)
    assert oil["cover_days"] == pytest.approx(15)
    assert (oil["oldest"], oil["oldest_days"]) == ("oil-1", 38)


def test_what_was_not_used_for_ninety_days_has_no_cover(tmp_path: Path) -> None:
    oil = rows(tmp_path, date(2026, 9, 1))["oil"]
    assert oil["left"] == pytest.approx(100)
    assert oil["used_per_day"] == 0
    assert oil["cover_days"] is None


def test_stock_of_a_day_before_any_batch_has_no_use(tmp_path: Path) -> None:
    assert rows(tmp_path, date(2026, 1, 10))["oil"]["used_per_day"] is None


def test_dregs_are_not_the_oldest_of_the_stock(tmp_path: Path) -> None:
    """Counted down to 10 of 300 L, the lot is as good as used."""
    log = log_of(
        tmp_path, {"lots/oil-1.yaml": ("paid:", "counts: [{date: 2026-01-20, volume: 10 L at 15 °C}]\npaid:")}
    )
    oil = next(row for row in plain_rows(stock(log, Ledgers(log).accounts)) if row["kind"] == "oil")
    assert oil["left"] == pytest.approx(10)
    assert (oil["oldest"], oil["oldest_days"]) == (None, None)
