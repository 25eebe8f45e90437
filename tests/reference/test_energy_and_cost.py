"""Diesel equivalents by net heat, costs per litre, and the limits of a chart for single values."""

from __future__ import annotations

import pytest

from generator.data import rows
from generator.formulas.constants import net_heat_mj_per_l
from generator.formulas.economics import (
    cost_per_diesel_l,
    cost_per_l,
    cost_per_mj,
    diesel_equivalent_l,
    price_at_target,
    saving_per_l,
)
from generator.formulas.statistics import D2_OF_TWO, individuals_limits

from .case import Case, each

MJ_PER_L_OF_BTU_PER_GAL = 1055.056e-6 / 3.785411784
CEC = ("California Energy Commission, table of gallon equivalents", "net Btu per gallon: 127,500 and 117,100")
OPENSTAX = ("OpenStax, Principles of Accounting, vol. 2", "module m68131, cost per equivalent unit")
X_DATA = [49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1]
E_HANDBOOK = ("NIST/SEMATECH e-Handbook", "6.3.2.2, flow rates")


def _equivalent(fuel: float, diesel: float) -> dict[str, float]:
    return {"fuel_l": 1, "fuel_mj_per_l": fuel, "diesel_mj_per_l": diesel}


def per_diesel_litre(fuel: float, diesel: float) -> float:
    return cost_per_l(1.00, diesel_equivalent_l(1, fuel, diesel))


def centre(values: list[float]) -> float:
    return individuals_limits(values).centre


def lower(values: list[float]) -> float:
    return individuals_limits(values).lower


def upper(values: list[float]) -> float:
    return individuals_limits(values).upper


def lower_with_tabled_d2(values: list[float]) -> float:
    limits = individuals_limits(values)
    return limits.centre - (limits.centre - limits.lower) * D2_OF_TWO / 1.128


def upper_with_tabled_d2(values: list[float]) -> float:
    limits = individuals_limits(values)
    return limits.centre + (limits.upper - limits.centre) * D2_OF_TWO / 1.128


CASES = [
    *[
        Case(
            f"E6 {liquid}",
            net_heat_mj_per_l,
            {"liquid": liquid},
            btu_per_gal * MJ_PER_L_OF_BTU_PER_GAL,
            5e-4,
            "R",
            *CEC,
            "published",
        )
        for liquid, btu_per_gal in (("fuel", 117100), ("diesel", 127500))
    ],
    Case("E6", diesel_equivalent_l, _equivalent(117100, 127500), 0.918, 0.0005, "R", *CEC, "published"),
    Case(
        "E5",
        diesel_equivalent_l,
        _equivalent(128488, 119550),
        1.07,
        0.005,
        "R",
        "U.S. DOE Technical Response Service, reprinted",
        "gallons of B100 per gallon of diesel",
        "secondary copy",
    ),
    Case(
        "E8",
        diesel_equivalent_l,
        _equivalent(33.320, 35.812),
        0.9304,
        1e-4,
        "R",
        "AFDC, GREET basis",
        "119,550 and 128,488 Btu/gal in MJ/L",
        "derived",
    ),
    Case(
        "E9 E4/E2", per_diesel_litre, {"fuel": 119550, "diesel": 128488}, 1.0748, 1e-4, "R", *CEC, "derived"
    ),
    Case(
        "E9 E6 a litre",
        cost_per_diesel_l,
        {"cost_per_l": 1.00, "diesel_l_per_fuel_l": 117100 / 127500},
        1.0888,
        1e-4,
        "R",
        *CEC,
        "derived",
    ),
    Case(
        "E12",
        cost_per_mj,
        {"cost_per_l": 0.99, "net_heat_mj_per_l": 33.0},
        0.03,
        1e-9,
        "F",
        "IAM Consortium units",
        "33.0 MJ/L of biodiesel, at 0.99 a litre",
        "derived",
    ),
    Case("E9 36/33", per_diesel_litre, {"fuel": 33, "diesel": 36}, 1.0909, 1e-4, "R", *CEC, "derived"),
    Case("E9 E6", per_diesel_litre, {"fuel": 117100, "diesel": 127500}, 1.0888, 1e-4, "R", *CEC, "derived"),
    Case(
        "I10 materials", cost_per_l, {"cost": 10179, "fuel_l": 8700}, 1.17, 1e-9, "F", *OPENSTAX, "published"
    ),
    Case(
        "I10 conversion", cost_per_l, {"cost": 22176, "fuel_l": 7920}, 2.80, 1e-9, "F", *OPENSTAX, "published"
    ),
    Case("X1 mean", centre, {"values": X_DATA}, 50.81, 1e-9, "F", *E_HANDBOOK, "published"),
    Case("X1 upper", upper_with_tabled_d2, {"values": X_DATA}, 55.8041, 5e-5, "R", *E_HANDBOOK, "published"),
    Case("X1 lower", lower_with_tabled_d2, {"values": X_DATA}, 45.8159, 5e-5, "R", *E_HANDBOOK, "published"),
    Case("X2 upper", upper, {"values": X_DATA}, 55.802412, 1e-6, "F", *E_HANDBOOK, "derived"),
    Case("X2 lower", lower, {"values": X_DATA}, 45.817588, 1e-6, "F", *E_HANDBOOK, "derived"),
    Case(
        "saving by hand",
        saving_per_l,
        {"diesel_per_l": 1.70, "diesel_l_per_fuel_l": 0.918, "cost_per_l": 0.95},
        0.6106,
        1e-12,
        "F",
        "worked by hand",
        "1.70 x 0.918 less 0.95",
        "derived",
    ),
    Case(
        "price by hand",
        price_at_target,
        {"target_per_l": 1.20, "other_per_l": 0.48, "fuel_l_per_oil_l": 0.95},
        0.684,
        1e-12,
        "F",
        "by hand",
        "100 L of oil give 95 L: 114.00 less 45.60 leaves 68.40 for the oil",
        "derived",
    ),
]


@each(CASES)
def test_energy_and_cost(case: Case) -> None:
    case.check()


def test_other_sources_lie_near_the_ratio_taken() -> None:
    """E2/E4, E11, E12 and ours all lie in the span the row names: ±1 % is honest (derived)."""
    span = rows("substances")["energy"]["ratio_across_sources"]
    ours = diesel_equivalent_l(1, net_heat_mj_per_l("fuel"), net_heat_mj_per_l("diesel"))
    for ratio in (ours, 119550 / 128488, 33.0 / 35.8):
        assert span["low"] <= ratio <= span["high"] + 5e-4


def test_tabled_d2_is_the_exact_one_rounded() -> None:
    """1.128 is printed in every table (published); R."""
    assert pytest.approx(1.128, abs=5e-4) == D2_OF_TWO
    assert pytest.approx(2.6586807764, abs=1e-9) == 3 / D2_OF_TWO


def test_no_limits_for_one_value() -> None:
    with pytest.raises(ValueError, match="two values"):
        individuals_limits([1.0])
