"""Yields, closure, flow, allocation and offers, worked by hand: they guard against change and are no outside evidence."""

from __future__ import annotations

from collections.abc import Callable
from decimal import Decimal
from typing import Any

import pytest

from generator.formulas import balance, columns, dose, economics

from .case import Case, each


def _by_hand(formula: Callable[..., Any], expected: float, place: str, **inputs: float) -> Case:
    return Case(formula.__name__, formula, inputs, expected, 1e-9, "F", "by hand", place, "derived")


CASES = [
    _by_hand(balance.yield_volume_pct, 96.0, "192 L of fuel from 200 L of oil", fuel_l=192, oil_l=200),
    _by_hand(balance.yield_mass_pct, 95.0, "171 kg of fuel from 180 kg of oil", made_kg=171, oil_kg=180),
    _by_hand(balance.yield_theory_pct, 97.5, "175.5 of 180 kg", made_kg=175.5, theory_kg=180),
    _by_hand(balance.heel_l, -4.0, "190 L fed, 194 L out: the bed released 4 L", fed_l=190, fuel_l=194),
    _by_hand(balance.closure_pct, 98.0, "245 kg out of 250 kg", in_kg=250, out_kg=245),
    _by_hand(balance.unaccounted_kg, 5.0, "250 kg in, 245 kg out", in_kg=250, out_kg=245),
    _by_hand(balance.settling_loss_kg, 4.5, "180 kg in theory, 175.5 kg made", theory_kg=180, made_kg=175.5),
    _by_hand(columns.flow_l_per_h, 38.0, "190 L in 5 h", fuel_l=190, hours_h=5),
    _by_hand(columns.media_kg_per_1000_l, 2.5, "10 kg for 4000 L", medium_kg=10, fuel_l=4000),
    _by_hand(dose.dose_g, 1600.0, "450 g and 1150 g", neutralising_g=450, base_rate_g=1150),
    _by_hand(dose.dose_difference_pct, -5.0, "1520 g for 1600 g by the rule", weighed_g=1520, rule_g=1600),
    _by_hand(economics.unit_cost, 0.55, "100 and 10 for 200 units left", cost=110, usable=200),
    _by_hand(
        economics.overhead_cost, 30.0, "1200 over 4000 L, of which 100", cost=1200, fuel_l=100, over_l=4000
    ),
    Case(
        "MTAS-738",
        economics.overhead_cost,
        {"cost": 60_000, "fuel_l": 1, "over_l": 5 * 20_000},
        0.60,
        0.005,
        "R",
        "University of Tennessee, Feasibility Model (2011), MTAS-738",
        "fixed cost of a gallon, five years of 20,000 gallons",
        "published",
    ),
    _by_hand(economics.media_cost, 3.8, "0.02 per L on 190 L", cost_per_l=0.02, fuel_l=190),
    _by_hand(
        economics.haulage_cost, 12.0, "0.30 per km, 20 km there and back", rate_per_km=0.3, distance_km=20
    ),
    _by_hand(economics.usable_l, 180.0, "a tenth of 200 L lost", offered_l=200, lost_share=0.1),
    _by_hand(
        economics.lost_by_test,
        0.018,
        "2000 mg/kg are 0.2 %, and 1.6 %",
        water_mg_per_kg=2000,
        solids_mg_per_kg=16000,
    ),
    _by_hand(
        economics.catalyst_cost_per_l,
        0.04,
        "9.5 g on 180 L are 1.71 kg; at 4 they cost 6.84, on 171 L",
        dose_g_per_l=9.5,
        usable_l=180,
        fuel_l=171,
        base_per_kg=4,
    ),
    _by_hand(economics.price_per_usable_kg, 0.65, "104 for 160 kg", oil_cost=104, usable_kg=160),
    _by_hand(
        economics.pump_worth_per_l, 1.6, "0.8 L of diesel at 2.00", diesel_per_l=2, diesel_l_per_fuel_l=0.8
    ),
    _by_hand(economics.expected_fuel_l, 171.0, "0.95 of 180 L", fuel_l_per_oil_l=0.95, usable_l=180),
    _by_hand(
        economics.offer_cost_per_l, 0.9, "72 over 180 L, and 0.50", oil_cost=72, fuel_l=180, other_per_l=0.5
    ),
    _by_hand(
        economics.price_after_haulage,
        0.54,
        "0.60 less 12 on 200 L",
        price_per_l=0.6,
        haulage=12,
        offered_l=200,
    ),
]


@each(CASES)
def test_by_hand(case: Case) -> None:
    case.check()


def test_money_of_a_ledger_stays_exact() -> None:
    """A third of a cent is no binary fraction: decimals in, decimals out."""
    assert economics.unit_cost(Decimal("0.10") + Decimal("0.20"), Decimal(1)) == Decimal("0.30")
    assert economics.haulage_cost(Decimal("0.1"), Decimal(3)) == Decimal("0.6")


@pytest.mark.parametrize("out_kg", [230.0, 250.0, 270.0])
def test_closure_and_what_is_missing_agree(out_kg: float) -> None:
    missing = balance.unaccounted_kg(250, out_kg)
    assert balance.closure_pct(250, out_kg) == pytest.approx(100 - 100 * missing / 250)
