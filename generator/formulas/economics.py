"""Cost by the litre, on the basis it names."""

from __future__ import annotations


def cost_per_l(cost: float, fuel_l: float) -> float:
    """Cost of one litre of fuel.

    Units: currency and L at the reference temperature in, currency/L out.
    Range: fuel above 0.
    Source: a ratio; derived.
    """
    return cost / fuel_l


def price_at_target(target_per_l: float, other_per_l: float, fuel_l_per_oil_l: float) -> float:
    """Highest price per litre of usable oil at which a litre of fuel costs the target.

    `other_per_l` is everything but oil, per litre of fuel. Below zero: not even free oil reaches the target.
    Units: currency/L of fuel and L/L in, currency/L of usable oil out.
    Range: litres of fuel per litre of oil above 0.
    Source: target = price / yield + other, solved for the price; derived.
    """
    return (target_per_l - other_per_l) * fuel_l_per_oil_l


def diesel_equivalent_l(fuel_l: float, fuel_mj_per_l: float, diesel_mj_per_l: float) -> float:
    """Litres of diesel with the same net heat; both heats on the same basis, net with net.

    Units: L and MJ/L in, L out.
    Range: heats above 0; sources span a ratio of 0.917 to 0.930.
    Source: California Energy Commission, gallon equivalents by net heat; published formula.
    """
    return fuel_l * fuel_mj_per_l / diesel_mj_per_l
