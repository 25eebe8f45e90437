"""Cost by the litre, on the basis it names."""

from __future__ import annotations

from decimal import Decimal
from typing import TypeVar

Number = TypeVar("Number", float, Decimal)  # money of a ledger is exact, an estimate is not


def cost_per_l(cost: float, fuel_l: float) -> float:
    """Cost of one litre of fuel.

    Formula: k = K / V
    Where:
        k: cost per litre, currency/L
        K (cost): cost of the parts that are counted, currency
        V (fuel_l): finished fuel at the reference temperature, L
    Range: fuel above 0.
    Source: a ratio; derived.
    """
    return cost / fuel_l


def price_at_target(target_per_l: float, other_per_l: float, fuel_l_per_oil_l: float) -> float:
    """Highest price per litre of usable oil at which a litre of fuel costs the target.

    Below zero: not even free oil reaches the target.

    Formula: P = (T - R) * Y
    Where:
        P: highest price per litre of usable oil, currency/L
        T (target_per_l): cost aimed at, per litre of fuel, currency/L
        R (other_per_l): everything but oil, per litre of fuel, currency/L
        Y (fuel_l_per_oil_l): fuel per litre of oil, L/L
    Range: litres of fuel per litre of oil above 0.
    Source: target = price / yield + other, solved for the price; derived.
    """
    return (target_per_l - other_per_l) * fuel_l_per_oil_l


def diesel_equivalent_l(fuel_l: float, fuel_mj_per_l: float, diesel_mj_per_l: float) -> float:
    """Litres of diesel with the same net heat; both heats on the same basis, net with net.

    Formula: V_D = V * H / H_D
    Where:
        V_D: diesel with the same net heat, L
        V (fuel_l): fuel, L
        H (fuel_mj_per_l): net heat of the fuel, MJ/L
        H_D (diesel_mj_per_l): net heat of diesel, MJ/L
    Range: heats above 0; sources span a ratio of 0.917 to 0.930.
    Source: California Energy Commission, gallon equivalents by net heat; published formula.
    """
    return fuel_l * fuel_mj_per_l / diesel_mj_per_l


def saving_per_l(diesel_per_l: float, diesel_l_per_fuel_l: float, cost_per_l: float) -> float:
    """What a litre of fuel saves against the diesel that it stands in for, at a pump price.

    Formula: s = P * d - k
    Where:
        s: saving, below zero where the fuel costs more, currency/L
        P (diesel_per_l): price of diesel, currency/L
        d (diesel_l_per_fuel_l): diesel with the same net heat as a litre of the fuel, L/L
        k (cost_per_l): cost of a litre of the fuel, currency/L
    Range: prices 0 or above.
    Source: the price of the same heat less what the fuel cost; derived.
    """
    return diesel_per_l * diesel_l_per_fuel_l - cost_per_l


def unit_cost(cost: Number, usable: Number) -> Number:
    """Cost of one unit of a lot: all that it cost until it was here over what was left to use.

    Formula: k = K / Q
    Where:
        k: cost of a unit, currency per unit
        K (cost): paid for the whole lot, its freight and the driving for it, currency
        Q (usable): received less what was lost in preparation, unit of the lot
    Range: usable above 0.
    Source: specific identification of lots; derived.
    """
    return cost / usable


def media_cost(cost_per_l: float, fuel_l: float) -> float:
    """Share of a run in the cost of a charge: the cost of the charge per litre times the litres of the run.

    Formula: K = k * V
    Where:
        K: cost of media of the run, currency
        k (cost_per_l): cost of the charge over the litres it is spread over, currency/L
        V (fuel_l): fuel of the run, L
    Range: litres 0 or above.
    Source: allocation by litres; derived.
    """
    return cost_per_l * fuel_l


def overhead_cost(cost: float, fuel_l: float, over_l: float) -> float:
    """Share of a batch in a cost that all fuel bears, by litres.

    Formula: K = P * V / E
    Where:
        K: what the batch bears, currency
        P (cost): the whole cost, currency
        V (fuel_l): fuel of the batch that bears it, L
        E (over_l): fuel that is to bear it in all, L
    Range: litres in all above 0; the fuel of all batches together is no more.
    Source: allocation by units of output; common practice, no source.
    """
    return cost * fuel_l / over_l


def haulage_cost(rate_per_km: Number, distance_km: Number) -> Number:
    """Haulage of an offer: the way there and back at the workshop's rate.

    Formula: K = 2 * k * s
    Where:
        K: haulage, currency
        k (rate_per_km): the workshop's rate, currency/km
        s (distance_km): distance one way, km
    Range: distance 0 or above.
    Source: rate times distance; derived.
    """
    return rate_per_km * distance_km * 2


def usable_l(offered_l: float, lost_share: float) -> float:
    """Oil left of an offer after preparation.

    Formula: V_u = V * (1 - s)
    Where:
        V_u: usable oil, L
        V (offered_l): oil offered, L
        s (lost_share): share lost in preparation, as a fraction, L/L
    Range: share 0 to 1.
    Source: the workshop's own losses; derived.
    """
    return offered_l * (1 - lost_share)


def lost_by_test(water_mg_per_kg: float, solids_mg_per_kg: float) -> float:
    """Share of an oil that its tests say is no oil; the water and the solids are taken to be as heavy as the oil.

    Formula: s = (w + z) / 1000000
    Where:
        s: share that is no oil, as a fraction, L/L
        w (water_mg_per_kg): water, mg/kg
        z (solids_mg_per_kg): solids, mg/kg
    Range: both 0 or above; water is some 9 % heavier than oil, so that its share by volume is overstated by as much.
    Source: sum of the mass fractions; derived.
    """
    return (water_mg_per_kg + solids_mg_per_kg) / 1000000


def catalyst_cost_per_l(dose_g_per_l: float, usable_l: float, fuel_l: float, base_per_kg: float) -> float:
    """Cost of the catalyst of an offer, per litre of fuel.

    Formula: k = beta / 1000 * V_u * P / V
    Where:
        k: cost of the catalyst, currency/L
        beta (dose_g_per_l): dose as pure base per litre of oil, g/L
        V_u (usable_l): usable oil, L
        P (base_per_kg): price of a kilogram of pure base, currency/kg
        V (fuel_l): fuel to expect, L
    Range: fuel above 0.
    Source: mass times price over the fuel; derived.
    """
    return dose_g_per_l / 1000 * usable_l * base_per_kg / fuel_l


def price_per_usable_kg(oil_cost: float, usable_kg: float) -> float:
    """Price of a kilogram of oil that can be used: all that is paid for an offer over what is left of it.

    Formula: p = K / m
    Where:
        p: price of a usable kilogram, currency/kg
        K (oil_cost): price asked and haulage, currency
        m (usable_kg): usable oil, kg
    Range: usable oil above 0.
    Source: a ratio; derived.
    """
    return oil_cost / usable_kg


def cost_per_mj(cost_per_l: float, net_heat_mj_per_l: float) -> float:
    """Cost of a megajoule of net heat.

    Formula: k_E = k / H
    Where:
        k_E: cost of heat, currency/MJ
        k (cost_per_l): cost of a litre of fuel, currency/L
        H (net_heat_mj_per_l): net heat of the fuel, MJ/L
    Range: heat above 0; net with net, never with gross.
    Source: a ratio; derived.
    """
    return cost_per_l / net_heat_mj_per_l


def cost_per_diesel_l(cost_per_l: float, diesel_l_per_fuel_l: float) -> float:
    """Cost of as much fuel as has the net heat of a litre of diesel.

    Formula: k_D = k / d
    Where:
        k_D: cost of a litre of diesel equivalent, currency/L
        k (cost_per_l): cost of a litre of fuel, currency/L
        d (diesel_l_per_fuel_l): diesel with the same net heat as a litre of the fuel, L/L
    Range: litres of diesel above 0; sources span 0.917 to 0.930.
    Source: a ratio; derived.
    """
    return cost_per_l / diesel_l_per_fuel_l


def pump_worth_per_l(diesel_per_l: float, diesel_l_per_fuel_l: float) -> float:
    """What the diesel that a litre of fuel stands in for costs at the pump.

    Formula: w = P * d
    Where:
        w: worth of a litre of fuel, currency/L
        P (diesel_per_l): price of diesel, currency/L
        d (diesel_l_per_fuel_l): diesel with the same net heat as a litre of the fuel, L/L
    Range: price 0 or above.
    Source: the price of the same net heat; derived.
    """
    return diesel_per_l * diesel_l_per_fuel_l


def expected_fuel_l(fuel_l_per_oil_l: float, usable_l: float) -> float:
    """Fuel to expect of usable oil.

    Formula: V = Y * V_u
    Where:
        V: fuel, L
        Y (fuel_l_per_oil_l): fuel per litre of oil, L/L
        V_u (usable_l): usable oil, L
    Range: both 0 or above.
    Source: the workshop's own volume yields; derived.
    """
    return fuel_l_per_oil_l * usable_l


def offer_cost_per_l(oil_cost: float, fuel_l: float, other_per_l: float) -> float:
    """Cost of a litre of fuel made of an offer.

    Formula: k = K / V + R
    Where:
        k: cost of a litre of fuel, currency/L
        K (oil_cost): price asked and haulage, currency
        V (fuel_l): fuel to expect, L
        R (other_per_l): everything but oil, per litre of fuel, currency/L
    Range: fuel above 0.
    Source: sum of the parts per litre; derived.
    """
    return oil_cost / fuel_l + other_per_l


def price_after_haulage(price_per_l: float, haulage: float, offered_l: float) -> float:
    """Price per litre offered, less what fetching it costs.

    Formula: P_net = P - K / V
    Where:
        P_net: price that is left to pay, currency/L
        P (price_per_l): price with haulage, currency/L
        K (haulage): haulage, currency
        V (offered_l): oil offered, L
    Range: oil offered above 0.
    Source: difference of costs per litre; derived.
    """
    return price_per_l - haulage / offered_l
