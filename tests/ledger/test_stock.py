"""Accounts of lots, worked out by hand: everything at the reference temperature unless it says otherwise."""

from __future__ import annotations

from datetime import date, timedelta
from decimal import Decimal
from pathlib import Path

import pytest

from generator.ledger.ledgers import Ledgers
from generator.ledger.oil_store import is_recent, oil_store, recent_days, recent_time
from generator.ledger.stock import accounts
from tests.logbook_files import Changes, codes, log_of, told

B1, B2, OIL, ALCOHOL, BACK, SHED = (
    "batches/b1.yaml", "batches/b2.yaml", "lots/oil-1.yaml", "lots/meoh-1.yaml", "lots/meoh-back.yaml", "columns/shed.yaml",
)  # fmt: skip
D = Decimal


def lines(parent: Path, lot: str, changes: Changes | None = None) -> list[tuple[str, D, D, str]]:
    """What happened, how much, the balance after it, by whom."""
    account = accounts(log_of(parent, changes))[lot]
    return [(line.what, line.amount, line.balance, line.by) for line in account.lines]


def test_receipt_loss_draws_and_a_count(tmp_path: Path) -> None:
    extra = "losses:\n  - {date: 2026-01-05, volume: 20 L at 15 °C}\ncounts:\n  - {date: 2026-01-18, volume: 75 L at 15 °C}\n"
    changes: Changes = {OIL: ("paid:", f"{extra}paid:")}
    assert lines(tmp_path, "oil-1", changes) == [
        ("received", D(300), D(300), ""),
        ("lost", D(20), D(280), ""),
        ("drawn", D(100), D(180), "b1"),
        ("drawn", D(100), D(80), "b2"),
        ("counted", D(-5), D(75), ""),  # the count holds; the difference is what the book did not know
    ]


def test_sums_of_an_account(tmp_path: Path) -> None:
    extra = "losses:\n  - {date: 2026-01-05, volume: 20 L at 15 °C}\ncounts:\n  - {date: 2026-01-18, volume: 75 L at 15 °C}\n"
    account = accounts(log_of(tmp_path, {OIL: ("paid:", f"{extra}paid:")}))["oil-1"]
    assert (account.received, account.usable, account.left) == (D(300), D(280), D(75))
    assert (account.total("drawn"), account.counted_difference) == (D(200), D(-5))
    assert (account.drawn_by("b1"), account.drawn_by("b9")) == (D(100), D(0))


def test_the_day_orders_what_the_file_does_not(tmp_path: Path) -> None:
    extra = "counts:\n  - {date: 2026-01-18, volume: 99 L at 15 °C}\n  - {date: 2026-01-12, volume: 201 L at 15 °C}\n"
    assert lines(tmp_path, "oil-1", {OIL: ("paid:", f"{extra}paid:")}) == [
        ("received", D(300), D(300), ""),
        ("drawn", D(100), D(200), "b1"),
        ("counted", D(1), D(201), ""),
        ("drawn", D(100), D(101), "b2"),
        ("counted", D(-2), D(99), ""),
    ]


def test_on_one_day_what_comes_in_comes_first_and_a_count_last(tmp_path: Path) -> None:
    extra = "losses:\n  - {date: 2026-01-10, volume: 5 L at 15 °C}\ncounts:\n  - {date: 2026-01-10, volume: 195 L at 15 °C}\n"
    changes: Changes = {OIL: ("received: 2026-01-02", f"received: 2026-01-10\n{extra.rstrip()}")}
    assert [what for what, *_ in lines(tmp_path, "oil-1", changes)] == [
        "received",
        "lost",
        "drawn",
        "counted",
        "drawn",
    ]


def test_recovered_methanol_is_drawn_by_name(tmp_path: Path) -> None:
    changes: Changes = {
        B1: ("polish:", "methanol_recovered: {volume: 4 L at 15 °C, into: meoh-back}\npolish:"),
        B2: (
            "{lot: meoh-1, volume: 20 L at 15 °C}",
            "{lot: meoh-1, volume: 17 L at 15 °C}, {lot: meoh-back, volume: 3 L at 15 °C}",
        ),
    }
    log = log_of(tmp_path, changes)
    found = accounts(log)
    assert [(line.what, line.amount, line.balance) for line in found["meoh-back"].lines] == [
        ("recovered", D(4), D(4)),
        ("drawn", D(3), D(1)),
    ]
    assert found["meoh-1"].left == D(100 - 20 - 17)
    assert found["meoh-back"].received == D(4)


def test_a_recovered_lot_that_nobody_filled_is_empty(tmp_path: Path) -> None:
    account = accounts(log_of(tmp_path))["meoh-back"]
    assert (account.lines, account.left, account.received) == ([], D(0), D(0))


def test_packing_and_rinsing_draw_from_their_lots(tmp_path: Path) -> None:
    rinse = "  - {date: 2026-01-12, event: rinse, vessel: B, with: {lot: meoh-1, volume: 5 L at 15 °C}}\n"
    found = accounts(log_of(tmp_path, {SHED: ("bed: 20 L}\n", f"bed: 20 L}}\n{rinse}")}))
    assert [(line.by, line.amount) for line in found["chips-1"].lines] == [("", D(20)), ("shed pack", D(14))]
    assert found["beads-1"].left == 0
    assert [(line.by, line.amount) for line in found["meoh-1"].lines if line.what == "drawn"] == [
        ("b1", D(20)), ("shed rinse", D(5)), ("b2", D(20)),
    ]  # fmt: skip


def test_litres_are_carried_to_the_reference_temperature(tmp_path: Path) -> None:
    """100 L at 25 °C: oil falls by 0.64 kg/m³ per kelvin from 920 at 15 °C, so 913.6/920 of the volume at 15 °C."""
    changes: Changes = {B1: ("volume: 100 L at 15 °C}", "volume: 100 L at 25 °C}")}
    amount = accounts(log_of(tmp_path, changes))["oil-1"].drawn_by("b1")
    assert amount == D("99.304347826")  # 100 * 913.6 / 920 = 99.30434782608...


def test_a_mass_is_carried_to_the_litres_of_its_lot(tmp_path: Path) -> None:
    changes: Changes = {B1: ("{lot: oil-1, volume: 100 L at 15 °C}", "{lot: oil-1, mass: 92 kg}")}
    assert accounts(log_of(tmp_path, changes))["oil-1"].drawn_by("b1") == D(100)  # 92 kg at 0.920 kg/L


def test_litres_are_carried_to_the_kilograms_of_their_lot(tmp_path: Path) -> None:
    changes: Changes = {OIL: ("300 L at 15 °C\npaid: 0.40 EUR/L", "276 kg\npaid: 0.40 EUR/kg")}
    account = accounts(log_of(tmp_path, changes))["oil-1"]
    assert (account.unit, account.received, account.drawn_by("b1"), account.left) == (
        "kg",
        D(276),
        D(92),
        D(92),
    )


def test_a_volume_without_temperature_is_taken_at_the_assumed_one(tmp_path: Path) -> None:
    """At an assumed 25 °C, 100 L are 99.304... L at 15 °C, as above."""
    changes: Changes = {
        "logbook.yaml": ("title:", "assumed_temperature: 25 °C\ntitle:"),
        B1: ("volume: 100 L at 15 °C}", "volume: 100 L}"),
    }
    assert accounts(log_of(tmp_path, changes))["oil-1"].drawn_by("b1") == D("99.304347826")


def test_gallons_and_pounds_are_counted_exactly(tmp_path: Path) -> None:
    changes: Changes = {
        OIL: ("300 L at 15 °C\npaid: 0.40 EUR/L", "100 US gal at 15 °C\npaid: 0.40 EUR/L"),
        B1: ("volume: 100 L at 15 °C}", "volume: 25 US gal at 15 °C}"),
        "lots/koh-1.yaml": ("10 kg", "20 lb"),
    }
    found = accounts(log_of(tmp_path, changes))
    assert found["oil-1"].received == D("378.5411784")
    assert found["oil-1"].drawn_by("b1") == D("94.6352946")
    assert found["koh-1"].received == D("9.0718474")


def test_an_amount_that_no_density_can_carry_is_not_counted(tmp_path: Path) -> None:
    """It stands apart with its place, and the check tells it."""
    problems = told(tmp_path, {B1: ("{lot: koh-1, mass: 1.0 kg}", "{lot: koh-1, volume: 1.0 L}")})
    assert codes(problems) == ["stock-unit"]
    assert problems[0].place.file == B1


def test_the_tolerance_parts_a_warning_from_an_error(tmp_path: Path) -> None:
    """2 % of 196 L is 3.92 L: 200 L drawn are 4 L too many; of 196.1 L it is 3.922 L, and 3.9 L are too many."""
    assert codes(told(tmp_path / "a", {OIL: ("300 L", "196 L")})) == ["stock-overdrawn"]
    assert codes(told(tmp_path / "b", {OIL: ("300 L", "196.1 L")})) == ["stock-short"]
    assert codes(told(tmp_path / "c", {OIL: ("300 L", "200 L")})) == []


def test_a_count_mends_the_book(tmp_path: Path) -> None:
    """150 L were delivered and 100 drawn; a count of 105 L covers the next 100 L."""
    changes: Changes = {
        OIL: ("300 L at 15 °C", "150 L at 15 °C\ncounts:\n  - {date: 2026-01-12, volume: 105 L at 15 °C}")
    }
    assert codes(told(tmp_path, changes)) == ["count-differs"]


def test_lines_keep_their_day_and_place(tmp_path: Path) -> None:
    line = accounts(log_of(tmp_path))["oil-1"].lines[1]
    assert (line.day, str(line.place)) == (date(2026, 1, 10), "batches/b1.yaml:4:26")


def test_what_was_drawn_until_a_day_counts_that_day(tmp_path: Path) -> None:
    """The beds before b1, the draws of b1 from its day on, and those of b2 from the day of b2 on."""
    ledgers = Ledgers(log_of(tmp_path))
    days = [entry.record.date for entry in ledgers.log.batches.values()]
    inventory, one = ledgers.inventory, timedelta(days=1)
    first, both = inventory.drawn_until(days[0]), inventory.drawn_until(days[1])
    assert inventory.drawn_until(days[0] - one) < first < both
    assert inventory.drawn_until(days[1] - one) == first
    assert inventory.drawn_until(days[1] + one) == both


def test_the_room_for_oil_is_what_the_vessels_hold_less_what_is_there(tmp_path: Path) -> None:
    """Of 300 L two batches drew 100 L each; from the first to the last day of the logbook."""
    ledgers = Ledgers(log_of(tmp_path, {"logbook.yaml": ("title:", "oil_storage: 400 L\ntitle:")}))
    found, days = oil_store(ledgers.log, ledgers.accounts), recent_days(ledgers.log, recent_time(ledgers.log))
    assert days > 0
    assert (found.left_l, found.room_l) == (pytest.approx(100), pytest.approx(300))
    assert found.used_l_per_day == pytest.approx(200 / days)


def test_a_plan_that_was_carried_out_draws_nothing_more(tmp_path: Path) -> None:
    plan = "plan:\n  catalyst: koh-1\n  methanol: [{lot: meoh-back, volume: 2 L at 15 °C}, meoh-1]\n  stages: [100 %]\n"
    planned = lines(tmp_path, "meoh-back", {B1: ("reaction:", f"{plan}reaction:")})
    assert planned == lines(tmp_path / "bare", "meoh-back")
    assert "b1" not in {by for what, _, _, by in planned if what == "drawn"}


def test_a_batch_that_keeps_its_plan_draws_what_it_poured(tmp_path: Path) -> None:
    """30 L were planned of a lot that 20 L were poured of."""
    plan = "plan: {catalyst: koh-1, methanol: [{lot: meoh-1, volume: 30 L at 15 °C}]}\nreaction:"
    drawn = [line for line in lines(tmp_path, "meoh-1", {B1: ("reaction:", plan)}) if line[3] == "b1"]
    assert [(what, amount) for what, amount, _, _ in drawn] == [("drawn", D(20))]


def test_oil_that_is_kept_by_weight_takes_its_room_by_volume(tmp_path: Path) -> None:
    """92 kg at 0.920 kg/L are 100 L, beside 100 L that are left."""
    heavy = "lot: oil-2\nmaterial: frying-oil\nreceived: 2026-01-02\nquantity: 92 kg\npaid: 0.40 EUR/kg\n"
    ledgers = Ledgers(log_of(tmp_path, {"lots/oil-2.yaml": heavy}))
    assert oil_store(ledgers.log, ledgers.accounts).left_l == pytest.approx(200, rel=1e-3)


@pytest.mark.parametrize(
    ("day", "recent"),
    [("2025-12-31", False), ("2026-01-01", False), ("2026-01-02", True), ("2026-04-01", True), ("2026-04-02", False)],
)  # fmt: skip
def test_recent_use_is_of_ninety_days_with_the_last(day: str, recent: bool) -> None:
    """From 2 January to 1 April 2026 there are 30 + 28 + 31 + 1 days."""
    assert is_recent(date.fromisoformat(day), (date(2026, 1, 1), date(2026, 4, 1))) is recent
