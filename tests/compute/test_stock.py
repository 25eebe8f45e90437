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
    return {row["kind"]: row for row in plain_rows(stock(Ledgers(log)))}


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
    oil = next(row for row in plain_rows(stock(Ledgers(log))) if row["kind"] == "oil")
    assert oil["left"] == pytest.approx(10)
    assert (oil["oldest"], oil["oldest_days"]) == (None, None)


def test_vessels_and_room_add_up_over_oil_and_fuel(tmp_path: Path) -> None:
    """Oil: 100 of 400 L. Fuel: what the tank's book says, in the shell that its shape gives; a year on neither is used."""
    log = log_of(tmp_path, {"logbook.yaml": ("title:", "oil_storage: 400 L\ntitle:")})
    ledgers = Ledgers(log)
    found = {row["kind"]: row for row in plain_rows(stock(ledgers))}
    (book,) = ledgers.tanks.values()
    oil, fuel, both = found["oil"], found["fuel"], found["oil and fuel"]
    assert (oil["room_l"], oil["vessels_l"]) == (pytest.approx(300), 400)
    assert fuel["left"] == pytest.approx(float(book.content)) and fuel["left"] > 0
    assert (
        fuel["left"] + fuel["room_l"]
        == pytest.approx(fuel["vessels_l"])
        == pytest.approx(book.shell.capacity_l)
    )
    for name in ("left", "room_l", "vessels_l"):
        assert both[name] == pytest.approx(oil[name] + fuel[name])
    assert fuel["oldest"] == "b1"


def test_without_the_vessels_for_oil_the_room_of_all_is_unknown(tmp_path: Path) -> None:
    both = next(row for row in plain_rows(stock(Ledgers(log_of(tmp_path)))) if row["kind"] == "oil and fuel")
    assert both["left"] > 0
    assert (both["room_l"], both["vessels_l"]) == (None, None)


def test_the_oil_in_a_vat_is_as_old_as_its_lots(tmp_path: Path) -> None:
    """The vat stands since June; what is in it came on the second of January, but for one part in a hundred."""
    lots = {
        "lots/old.yaml": "lot: old\nmaterial: frying-oil\nreceived: 2025-12-01\nquantity: 1 L at 15 °C\npaid: 0 EUR\n",
        "lots/vat.yaml": "lot: vat\nmaterial: frying-oil\nreceived: 2025-06-01\nvat: true\nfilled:\n"
        "  - {date: 2026-01-20, lot: oil-1, volume: 100 L at 15 °C}\n  - {date: 2026-01-20, lot: old, volume: 1 L at 15 °C}\n",
    }
    log = replace(log_of(tmp_path, lots), as_of=date(2026, 2, 1))
    oil = next(row for row in plain_rows(stock(Ledgers(log))) if row["kind"] == "oil")
    assert (oil["left"], oil["oldest"], oil["oldest_days"]) == (pytest.approx(101), "oil-1", 30)
