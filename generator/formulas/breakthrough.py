"""The curve by which a bed lets soap through: one logistic, fitted once, and the lengths and times that go with it.

The three breakthrough models in use (Thomas, Yoon and Nelson, Bohart and Adams) are this one curve with other names for
its two parameters.
"""

from __future__ import annotations

import math


def passing_share(load_g: float, half_g: float, steepness_per_g: float) -> float:
    """Share of what comes in that passes a bed, by what the bed holds.

    Formula: s = 1 / (1 + exp(min(k * (m_half - m), 700)))
    Where:
        s: content behind the bed over content before it, a pure number
        k (steepness_per_g): steepness, 1/g
        m_half (half_g): held when half of it passes, g
        m (load_g): held by the bed, g
    Range: steepness above 0; the feed steady.
    Source: Thomas, Yoon and Nelson, Bohart and Adams: one logistic; published formula.
    """
    return 1 / (1 + math.exp(min(steepness_per_g * (half_g - load_g), 700.0)))


def load_at_content_g(
    outlet_mg_per_kg: float, inlet_mg_per_kg: float, half_g: float, steepness_per_g: float
) -> float:
    """What a bed holds when the fuel behind it reaches a content; the curve, read the other way.

    Formula: m = m_half - log(w_in / w_out - 1) / k
    Where:
        m: held by the bed, g
        m_half (half_g): held when half of it passes, g
        w_in (inlet_mg_per_kg): content of the fuel before the bed, mg/kg
        w_out (outlet_mg_per_kg): content of the fuel behind the bed, mg/kg
        k (steepness_per_g): steepness, 1/g
    Range: content behind the bed above 0 and below that before it; steepness above 0; within what was seen.
    Source: Thomas, Yoon and Nelson, Bohart and Adams: one logistic, solved for the load; published formula.
    """
    if not 0 < outlet_mg_per_kg < inlet_mg_per_kg:
        raise ValueError("what passes lies between nothing and all")
    return half_g - math.log(inlet_mg_per_kg / outlet_mg_per_kg - 1) / steepness_per_g


def depth_service_time_h(
    capacity_mg_per_l: float,
    depth_m: float,
    feed_mg_per_l: float,
    velocity_m_per_h: float,
    rate_l_per_mg_h: float,
    break_mg_per_l: float,
) -> float:
    """Time until a content breaks through a bed of a depth (bed depth service time).

    Formula: t = N * Z / (C * U) - (1 / (K * C)) * ln_ratio
    Where:
        t: service time, h
        N (capacity_mg_per_l): capacity per volume of bed, mg/L
        Z (depth_m): depth of the bed, m
        C (feed_mg_per_l): content of the feed, mg/L
        U (velocity_m_per_h): velocity in the empty vessel, m/h
        K (rate_l_per_mg_h): rate of uptake, L/mg/h
        ln_ratio (math.log(feed_mg_per_l / break_mg_per_l - 1)): logarithm of feed over break, less one, a pure number
    Range: break content below half of the feed.
    Source: Crittenden and Thomas, Adsorption Technology and Design (1998), equations 6.55 to 6.59; published formula.
    """
    ratio = math.log(feed_mg_per_l / break_mg_per_l - 1)
    return capacity_mg_per_l * depth_m / (feed_mg_per_l * velocity_m_per_h) - ratio / (
        rate_l_per_mg_h * feed_mg_per_l
    )


def unused_length(depth: float, held_at_break: float, held_saturated: float) -> float:
    """Length of bed that is not used when it breaks through.

    Formula: L_unused = L * (1 - q_b / q_s)
    Where:
        L_unused: length of unused bed, in the unit of the depth
        L (depth): depth of the bed, any one unit
        q_b (held_at_break): held at break per amount of medium, any one unit
        q_s (held_saturated): held when saturated, in the same unit
    Range: held at break from 0 to what is held when saturated, which is not 0.
    Source: McCabe, Smith and Harriott, example 25.2; secondary copy.
    """
    return depth * (1 - held_at_break / held_saturated)


def critical_depth_m(
    capacity_mg_per_l: float,
    feed_mg_per_l: float,
    velocity_m_per_h: float,
    rate_l_per_mg_h: float,
    break_mg_per_l: float,
) -> float:
    """Depth of a bed that a content breaks through at once.

    Formula: Z_0 = U / (K * N) * log(C / C_b - 1)
    Where:
        Z_0: critical depth, m
        U (velocity_m_per_h): velocity in the empty vessel, m/h
        K (rate_l_per_mg_h): rate of uptake, L/mg/h
        N (capacity_mg_per_l): capacity per volume of bed, mg/L
        C (feed_mg_per_l): content of the feed, mg/L
        C_b (break_mg_per_l): content at break, mg/L
    Range: break content below half of the feed.
    Source: Crittenden and Thomas, Adsorption Technology and Design (1998), equations 6.55 to 6.59; published formula.
    """
    if break_mg_per_l >= feed_mg_per_l:
        raise ValueError("a content at break lies below the feed")
    ratio = math.log(feed_mg_per_l / break_mg_per_l - 1)
    return velocity_m_per_h / (rate_l_per_mg_h * capacity_mg_per_l) * ratio


def break_time_h(
    depth_cm: float,
    unused_cm: float,
    bulk_g_per_cm3: float,
    saturated_g_per_g: float,
    flux_g_per_cm2_h: float,
) -> float:
    """Time to the break of a bed of which a length stays unused.

    Formula: t = (L - L_unused) * b * q_s / F
    Where:
        t: time to the break, h
        L (depth_cm): depth of the bed, cm
        L_unused (unused_cm): length of unused bed, cm
        b (bulk_g_per_cm3): medium per volume of bed, g/cm³
        q_s (saturated_g_per_g): held when saturated, g/g
        F (flux_g_per_cm2_h): what comes in per cross-section and time, g/cm²/h
    Range: the unused length shorter than the bed; like feed and velocity.
    Source: McCabe, Smith and Harriott, example 25.2; secondary copy.
    """
    return (depth_cm - unused_cm) * bulk_g_per_cm3 * saturated_g_per_g / flux_g_per_cm2_h


def gain_of_two(depth: float, unused: float) -> float:
    """How many times as much a bed takes up when a like one stands behind it, which catches what it lets through.

    Formula: r = 1 / (1 - L_unused / L)
    Where:
        r: taken up as lead of two over taken up alone, a pure number
        L_unused (unused): length of unused bed, any one unit
        L (depth): depth of the bed, in the same unit
    Range: the unused length shorter than the bed, so that it lies within the bed behind.
    Source: a bed alone uses its depth less the unused length; derived.
    """
    return 1 / (1 - unused / depth)
