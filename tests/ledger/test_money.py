"""What a unit of a lot cost, worked out by hand: the price as invoiced against the amount as delivered."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from pathlib import Path

import pytest

from generator.ledger.ledgers import Ledgers
from generator.ledger.money import Fetching, ReferencePrices, fetching, paid_total, unit_cost
from generator.ledger.stock import accounts
from tests.logbook_files import Changes, log_of

OIL, KOH, BACK, DIESEL = "lots/oil-1.yaml", "lots/koh-1.yaml", "lots/meoh-back.yaml", "prices/diesel.yaml"
D = Decimal


def cost(parent: Path, lot: str, changes: Changes) -> tuple[D | None, D | None]:
    """Paid for the lot without freight, and cost per unit it is kept in."""
    log = log_of(parent, changes)
    entry = log.lots[lot]
    return paid_total(log, entry), unit_cost(log, entry, accounts(log)[lot])


def close(value: str) -> object:
    """Equal to twelve digits."""
    return pytest.approx(D(value), rel=D("1e-12"))


def test_a_price_per_pound_on_kilograms(tmp_path: Path) -> None:
    """10 kg are 10 / 0.45359237 = 22.0462262184877... lb."""
    paid, unit = cost(tmp_path, "koh-1", {KOH: ("3.00 EUR/kg", "1.00 EUR/lb")})
    assert (paid, unit) == (close("22.0462262184877"), close("2.20462262184877"))


def test_a_price_per_us_gallon_on_litres(tmp_path: Path) -> None:
    """300 L at 3.785411784 EUR per gallon of 3.785411784 L are 300 EUR."""
    assert cost(tmp_path, "oil-1", {OIL: ("0.40 EUR/L", "3.785411784 EUR/US gal")}) == (
        close("300"),
        close("1"),
    )


def test_a_price_per_litre_on_gallons(tmp_path: Path) -> None:
    changes: Changes = {OIL: ("300 L at 15 °C\npaid: 0.40 EUR/L", "100 US gal at 15 °C\npaid: 0.50 EUR/L")}
    assert cost(tmp_path, "oil-1", changes) == (D("189.2705892"), close("0.5"))


def test_a_price_per_kilogram_on_oil_kept_in_litres(tmp_path: Path) -> None:
    """300 L at 0.920 kg/L are 276 kg; at 0.50 EUR they cost 138 EUR, 0.46 EUR a litre."""
    assert cost(tmp_path, "oil-1", {OIL: ("0.40 EUR/L", "0.50 EUR/kg")}) == (close("138"), close("0.46"))


def test_a_price_per_litre_on_oil_kept_in_kilograms(tmp_path: Path) -> None:
    """276 kg at 0.920 kg/L are 300 L; at 0.46 EUR they cost 138 EUR, 0.50 EUR a kilogram."""
    changes: Changes = {OIL: ("300 L at 15 °C\npaid: 0.40 EUR/L", "276 kg\npaid: 0.46 EUR/L")}
    assert cost(tmp_path, "oil-1", changes) == (close("138"), close("0.5"))


def test_the_material_s_own_density_counts(tmp_path: Path) -> None:
    """At 900 kg/m³, 300 L are 270 kg: 135 EUR."""
    own: Changes = {
        OIL: ("0.40 EUR/L", "0.50 EUR/kg"),
        "materials/all.yaml": (
            "frying-oil: {kind: oil,",
            "frying-oil: {kind: oil, density: 0.900 kg/L at 15 °C,",
        ),
    }
    assert cost(tmp_path, "oil-1", own) == (close("135"), close("0.45"))


def test_a_total_is_spread_over_what_was_usable_with_its_freight(tmp_path: Path) -> None:
    """110 + 30 EUR over 300 - 20 L."""
    text = "110.00 EUR\nfreight: 30.00 EUR\nlosses: [{date: 2026-01-05, volume: 20 L at 15 °C}]"
    assert cost(tmp_path, "oil-1", {OIL: ("0.40 EUR/L", text)}) == (D("110.00"), D("0.5"))


def test_the_invoice_counts_the_litres_as_delivered(tmp_path: Path) -> None:
    """300 L at 25 °C and 0.40 EUR are 120 EUR; at 15 °C they are 300 x 913.6 / 920 = 297.913... L."""
    paid, unit = cost(tmp_path, "oil-1", {OIL: ("300 L at 15 °C", "300 L at 25 °C")})
    assert paid == D("120")
    assert float(unit or 0) == pytest.approx(120 / (300 * 913.6 / 920), rel=1e-9)


def test_a_lot_without_a_price_has_no_cost_and_a_free_one_costs_nothing(tmp_path: Path) -> None:
    assert cost(tmp_path / "a", "oil-1", {OIL: ("paid: 0.40 EUR/L\n", "")}) == (None, None)
    assert cost(tmp_path / "b", "oil-1", {OIL: ("0.40 EUR/L", "0 EUR")}) == (D(0), D(0))


def test_a_lot_of_which_nothing_was_usable_has_no_cost(tmp_path: Path) -> None:
    text = "lot: spilt\nmaterial: chips\nreceived: 2026-01-02\nquantity: 5 kg\npaid: 5.00 EUR\nlosses: [{date: 2026-01-03, mass: 5 kg}]\n"
    assert cost(tmp_path, "spilt", {"lots/spilt.yaml": text}) == (D("5.00"), None)


@pytest.mark.parametrize(
    ("value", "unit"),
    [("", "0"), ("value: 0.20 EUR/L\n", "0.2"), ("value: 0.757082357 EUR/US gal\n", "0.2000000000528")],
)
def test_recovered_methanol_costs_its_stated_value(tmp_path: Path, value: str, unit: str) -> None:
    paid, found = cost(tmp_path, "meoh-back", {BACK: ("recovered: true\n", f"recovered: true\n{value}")})
    assert paid is None
    assert found == pytest.approx(D(unit), rel=D("1e-9"))


def test_a_reference_price_holds_from_its_day_to_the_next(tmp_path: Path) -> None:
    series = "price: diesel\nseries:\n  - {date: 2026-01-05, value: 1.61 EUR/L}\n  - {date: 2026-02-02, value: 1.63 EUR/L}\n"
    log = log_of(tmp_path, {DIESEL: series})
    days = [date(2026, 1, 4), date(2026, 1, 5), date(2026, 2, 1), date(2026, 2, 2), date(2030, 1, 1)]
    assert [ReferencePrices(log).on("diesel", day) for day in days] == [
        None,
        D("1.61"),
        D("1.61"),
        D("1.63"),
        D("1.63"),
    ]
    assert ReferencePrices(log).on("electricity", date(2026, 2, 2)) is None


def test_a_reference_price_per_gallon_is_carried_to_the_litre(tmp_path: Path) -> None:
    log = log_of(tmp_path, {DIESEL: ("1.60 EUR/L", "3.785411784 EUR/US gal")})
    assert ReferencePrices(log).on("diesel", date(2026, 1, 1)) == close("1")


RATES = "collection_rate: [{value: 0.30 EUR/km}, {from: 2026-01-02, value: 0.40 EUR/km}]\nlabour_rate: 12 EUR/h\ntitle:"


def test_a_way_costs_its_kilometres_at_the_rate_of_its_day(tmp_path: Path) -> None:
    """20 km at 0.30 and, from the second on, 30 km at 0.40: 18 EUR beside the 120 that was paid, over 300 L."""
    ways = "paid: 0.40 EUR/L\ncollected:\n  - {date: 2026-01-01, distance: 20 km, time: 45 min}\n  - {distance: 30 km, time: 1.5 h}\n"
    changes: Changes = {"logbook.yaml": ("title:", RATES), OIL: ("paid: 0.40 EUR/L\n", ways)}
    assert cost(tmp_path / "a", "oil-1", changes) == (D("120.00"), D("0.46"))
    log = log_of(tmp_path / "b", changes)
    assert fetching(log, log.lots["oil-1"].record) == Fetching(D(50), D("18.00"), D("2.25"), D(27))


def test_a_way_per_mile_is_the_same_way(tmp_path: Path) -> None:
    """10 mi are 16.09344 km (exact, NIST Handbook 44); 0.50 EUR a mile make 5 EUR."""
    ways = "paid: 0 EUR\ncollected: {distance: 16.09344 km}\n"
    rate = ("title:", "collection_rate: 0.50 EUR/mi\ntitle:")
    _, unit = cost(tmp_path, "oil-1", {"logbook.yaml": rate, OIL: ("paid: 0.40 EUR/L\n", ways)})
    assert unit == close("0.0166666666666667")


def test_a_way_without_a_rate_leaves_the_lot_without_a_cost_and_hours_without_one_do_not(
    tmp_path: Path,
) -> None:
    ways = "paid: 0.40 EUR/L\ncollected: {distance: 20 km}\n"
    assert cost(tmp_path / "a", "oil-1", {OIL: ("paid: 0.40 EUR/L\n", ways)}) == (D("120.00"), None)
    late = ("title:", "collection_rate: [{from: 2026-01-03, value: 0.30 EUR/km}]\ntitle:")
    changes: Changes = {"logbook.yaml": late, OIL: ("paid: 0.40 EUR/L\n", ways)}
    assert cost(tmp_path / "b", "oil-1", changes)[1] is None
    hours = "paid: 0.40 EUR/L\ncollected: {time: 2 h}\n"
    assert cost(tmp_path / "c", "oil-1", {OIL: ("paid: 0.40 EUR/L\n", hours)})[1] == D("0.4")


def test_what_went_back_was_usable_and_leaves_the_price_of_the_rest(tmp_path: Path) -> None:
    """110 EUR over 300 - 20 L, however much of it went back and for whatever money."""
    text = "112.00 EUR\nlosses: [{date: 2026-01-05, volume: 20 L at 15 °C}]\nreturns: [{date: 2026-01-06, volume: 80 L at 15 °C, refund: 1.00 EUR}]"
    assert cost(tmp_path, "oil-1", {OIL: ("0.40 EUR/L", text)}) == (D("112.00"), D("0.4"))


def test_a_reference_price_tells_how_old_it_is(tmp_path: Path) -> None:
    prices = ReferencePrices(
        log_of(tmp_path, {DIESEL: "price: diesel\nseries: [{date: 2026-01-05, value: 1.61 EUR/L}]\n"})
    )
    found = [prices.days("diesel", day) for day in (date(2026, 1, 4), date(2026, 1, 5), date(2026, 9, 2))]
    assert found == [None, 0, 240]
    assert prices.days("electricity", date(2026, 9, 2)) is None


def test_a_price_that_no_one_pays_is_no_crash(tmp_path: Path) -> None:
    """Fifteen digits are taken; with the twelve places of a draw they are more than Python's decimals carry."""
    method = "costing: [{material: frying-oil, from: 2026-01-01, method: FIFO}]\ntitle:"
    log = log_of(tmp_path, {OIL: ("0.40 EUR/L", "999999999999999 EUR/L"), "logbook.yaml": ("title:", method)})
    ledgers = Ledgers(log)
    use, day = log.batches["b1"].record.oil[0], log.batches["b1"].record.date
    found = ledgers.inventory.cost_of(use, day, "b1")
    assert found is not None
    assert float(found) == pytest.approx(999999999999999.0 * 100, rel=1e-12)
