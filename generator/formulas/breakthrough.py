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
