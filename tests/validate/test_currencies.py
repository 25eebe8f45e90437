"""Prices in another currency count at the rate of their day, exactly, wherever a price of a day is written."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from pathlib import Path

import pytest

from generator.compute.tally import tally
from generator.ledger.ledgers import Ledgers
from tests.compute.test_offers import LOG
from tests.logbook_files import BASE, Changes, codes, log_of, told

D = Decimal
RATES = "rates: [{currency: USD, from: 2026-01-01, value: 0.9 EUR}, {currency: USD, from: 2026-01-10, value: 0.8 EUR}]\n"
HEAD: Changes = {"logbook.yaml": ("title:", f"{RATES}title:")}
POWER = "price: electricity\nseries: [{date: 2026-01-01, value: 0.25 USD/kWh}, {date: 2026-02-01, value: 0.30 EUR/kWh}]\n"


def test_a_price_counts_at_the_rate_of_its_day(tmp_path: Path) -> None:
    """Received on 2 January: 0.40 USD at 0.9 are 0.36 EUR a litre, and 10 USD of freight 9 EUR; 300 L: 117 EUR."""
    paid = ("paid: 0.40 EUR/L", "paid: 0.40 USD/L\nfreight: 10.00 USD")
    log = log_of(tmp_path, {**HEAD, "lots/oil-1.yaml": paid})
    lot = log.lots["oil-1"].record
    assert lot.paid is not None and lot.freight is not None
    assert (lot.paid.amount, lot.paid.currency, lot.paid.text) == (D("0.360"), "EUR", "0.40 USD/L")
    assert Ledgers(log).unit_costs["oil-1"] == D(117) / 300


@pytest.mark.parametrize(
    ("name", "change", "read", "expected"),
    [
        ("offers/school.yaml", ("0.50 EUR/L", "0.50 USD/L"), lambda log: log.offers["school"].record.asked, "0.40"),
        ("batches/b1.yaml", ("tests:", "credits: [{for: glycerol, amount: 5 USD}]\ntests:"),
         lambda log: log.batches["b1"].record.credits[0].amount, "4.0"),
        ("batches/b1.yaml", ("tests:", "other_costs: [{for: laboratory, paid: 5 USD}]\ntests:"),
         lambda log: log.batches["b1"].record.other_costs[0].paid, "4.0"),
        ("prices/electricity.yaml", POWER, lambda log: log.prices["electricity"].record.series[0].value, "0.225"),
        ("prices/electricity.yaml", POWER, lambda log: log.prices["electricity"].record.series[1].value, "0.30"),
    ],
)  # fmt: skip
def test_every_price_with_a_day_is_carried(tmp_path: Path, name, change, read, expected: str) -> None:  # type: ignore[no-untyped-def]
    """The offer is of 20 January and the batch of the tenth: 0.8 from that day on."""
    found = read(log_of(tmp_path, {**HEAD, name: change}))
    assert (found.amount, found.currency) == (D(expected), "EUR")


def test_a_price_before_the_first_rate_is_a_problem_at_its_place(tmp_path: Path) -> None:
    changes: Changes = {"logbook.yaml": ("title:", f"{RATES.replace('2026-01-01', '2026-01-05')}title:"),
                        "lots/oil-1.yaml": ("0.40 EUR/L", "0.40 USD/L")}  # fmt: skip
    (problem,) = told(tmp_path, changes)
    assert (problem.code, str(problem.place)) == ("price-currency", "lots/oil-1.yaml:5:7")
    assert "no rate of USD holds on that day; the first one is of 2026-01-05" in problem.message


def test_a_currency_without_a_rate_is_refused(tmp_path: Path) -> None:
    problems = told(tmp_path, {**HEAD, "lots/oil-1.yaml": ("0.40 EUR/L", "0.40 GBP/L")})
    assert codes(problems) == ["price-currency"]


@pytest.mark.parametrize(
    "line", ["labour_rate: 12 USD/h", "collection_rate: 0.3 USD/km", "target_cost: 1.2 USD/L"]
)
def test_a_price_without_a_day_is_in_the_currency_of_the_logbook(tmp_path: Path, line: str) -> None:
    problems = told(tmp_path, {"logbook.yaml": ("title:", f"{line}\n{RATES}title:")})
    assert codes(problems) == ["price-currency"]


def test_a_rate_is_told_in_the_currency_of_the_logbook(tmp_path: Path) -> None:
    problems = told(tmp_path, {"logbook.yaml": ("title:", f"{RATES.replace('0.8 EUR', '0.8 GBP')}title:")})
    assert codes(problems) == ["price-currency"]


def test_settings_that_cannot_be_read_bring_no_error_of_prices(tmp_path: Path) -> None:
    """Neither a currency of one's own nor a rate is known then; the one mistake is told, and no price beside it."""
    settings = (BASE / "logbook.yaml").read_text(encoding="utf-8").replace("EUR", "USD")
    home = {
        path.relative_to(BASE).as_posix(): path.read_text(encoding="utf-8").replace("EUR", "USD")
        for path in BASE.glob("*/*.yaml")
    }
    changes: Changes = {**home, "logbook.yaml": f"{settings}recipe: own\n"}
    assert codes(told(tmp_path / "home", changes)) == ["unknown-key"]
    other: Changes = {
        "logbook.yaml": ("title:", f"{RATES}recipe: own\ntitle:"),
        "lots/oil-1.yaml": ("0.40 EUR/L", "0.40 USD/L"),
    }
    assert codes(told(tmp_path / "rates", other)) == ["unknown-key"]


def test_the_same_lot_in_either_currency_costs_its_batches_the_same(tmp_path: Path) -> None:
    """A law: at a rate of one nothing but the letters differ."""
    one = {
        **LOG,
        "logbook.yaml": ("title:", "rates: [{currency: USD, from: 2025-01-01, value: 1 EUR}]\ntitle:"),
    }
    other = {**one, "lots/oil-1.yaml": ("EUR", "USD")}
    first, second = (
        tally(Ledgers(log_of(tmp_path / str(n), each))).rows("costs") for n, each in enumerate((one, other))
    )
    assert first == second
    assert any(row["oil"] for row in first)


def test_how_old_a_rate_is_stands_beside_what_rests_on_it(tmp_path: Path) -> None:
    """Received on 2 January at a rate of the first; asked on 20 January at one of the tenth, told in 0.8 of it."""
    paid = ("paid: 0.40 EUR/L", "paid: 0.40 EUR/L\nfreight: 10.00 USD")
    asked = ("0.50 EUR/L", "0.50 USD/L")
    home = LOG["logbook.yaml"]
    assert isinstance(home, tuple)
    head: Changes = {
        **LOG,
        "logbook.yaml": (home[0], f"{RATES}{home[1]}"),
        "lots/oil-1.yaml": paid,
        "offers/school.yaml": asked,
    }
    found = tally(Ledgers(log_of(tmp_path, head)))
    days = {row["lot"]: row["rate_days"] for row in found.rows("lots")}
    assert days["oil-1"] == 1
    assert set(days.values()) == {1, None}
    assert [row["rate_days"] for row in found.rows("offers")] == [10]


def test_how_old_a_reference_price_is_stands_beside_what_rests_on_it(tmp_path: Path) -> None:
    """Electricity of 1 January for batches of the tenth of each month from January on; diesel of the third."""
    diesel = "price: diesel\nseries: [{date: 2026-01-03, value: 1.61 EUR/L}]\n"
    found = tally(Ledgers(log_of(tmp_path, {**LOG, "prices/diesel.yaml": diesel})))
    rows = {row["batch"]: row for row in found.rows("costs")}
    assert [rows[f"b{number}"]["electricity_days"] for number in (0, 1, 3)] == [9, 40, 99]
    assert [rows[f"b{number}"]["diesel_days"] for number in (0, 1, 3)] == [7, 38, 97]
    (offer,) = found.rows("offers")
    now = found.as_of
    assert offer["diesel_days"] == (date.fromisoformat(now) - date(2026, 1, 3)).days
