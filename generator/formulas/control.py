"""Control charts beyond the limits for single values: moving range, weighted mean, cumulative sum."""

from __future__ import annotations

import math
from typing import Final

from generator.formulas.statistics import D2_OF_TWO

D3_OF_TWO: Final = (2 - 4 / math.pi) ** 0.5
"""Standard deviation of the range of two normal values, in standard deviations (derived)."""
D4_OF_TWO: Final = 1 + 3 * D3_OF_TWO / D2_OF_TWO
"""Upper limit of a range of two over its mean; tabled as 3.267 (derived)."""


def moving_range_limit(sigma: float) -> float:
    """Upper control limit of the difference of neighbours.

    Formula: U = D_4 * d_2 * s
    Where:
        U: upper limit, in the unit of the values
        D_4 (D4_OF_TWO): upper limit over mean of a range of two, 3.267, a pure number
        d_2 (D2_OF_TWO): mean range of two normal values in standard deviations, 1.128, a pure number
        s (sigma): standard deviation of single values, any one unit
    Range: 0 or above.
    Source: NIST/SEMATECH e-Handbook 6.3.2.2; published formula.
    """
    return float(D4_OF_TWO * D2_OF_TWO * sigma)


def ewma(before: float, value: float, weight: float) -> float:
    """Exponentially weighted moving average with one more value: the newest counts by its weight, older ones ever less.

    Formula: z = w * x + (1 - w) * y
    Where:
        z: weighted average, in the unit of the values
        w (weight): weight of the newest value, a pure number
        x (value): newest value, any one unit
        y (before): weighted average before it, in the same unit
    Range: weight between 0 and 1; before the first value the centre line stands for the average.
    Source: NIST/SEMATECH e-Handbook 6.3.2.4; published formula.
    """
    return weight * value + (1 - weight) * before


def ewma_reach(sigma: float, weight: float, count: int, width: float) -> float:
    """How far from the centre the weighted average may lie after so many values.

    Formula: h = L * s * (w / (2 - w) * (1 - (1 - w) ** (2 * n))) ** 0.5
    Where:
        h: reach to either side, in the unit of the values
        L (width): reach in standard deviations of the average, a pure number
        s (sigma): standard deviation of single values, any one unit
        w (weight): weight of the newest value, a pure number
        n (count): values so far, a count
    Range: weight above 0 and up to 1 in use, one value or more; ValueError where there is no reach at all.
    Source: NIST/SEMATECH e-Handbook 6.3.2.4, with the factor for the first values; published formula.
    """
    if weight <= 0 or weight == 2 or count < 1:
        raise ValueError("the weight lies between 0 and 1, and there is one value or more")
    return float(width * sigma * (weight / (2 - weight) * (1 - (1 - weight) ** (2 * count))) ** 0.5)


def cusum_high(before: float, value: float, target: float, slack: float) -> float:
    """Cumulative sum of what lies above the target by more than the slack; never below zero.

    Formula: S = max(0, B + x - T - k)
    Where:
        S: sum on the high side, in the unit of the values
        B (before): sum before this value, in the unit of the values
        x (value): this value, any one unit
        T (target): target, in the same unit
        k (slack): slack, half of the shift that is to be found, in the same unit
    Range: slack 0 or above; the first sum before is 0.
    Source: NIST/SEMATECH e-Handbook 6.3.2.3; published formula.
    """
    return max(0.0, before + value - target - slack)


def cusum_low(before: float, value: float, target: float, slack: float) -> float:
    """Cumulative sum of what lies below the target by more than the slack; never below zero.

    Formula: S = max(0, B + T - k - x)
    Where:
        S: sum on the low side, in the unit of the values
        B (before): sum before this value, in the unit of the values
        T (target): target, in the unit of the values
        k (slack): slack, half of the shift that is to be found, in the unit of the values
        x (value): this value, any one unit
    Range: slack 0 or above; the first sum before is 0.
    Source: NIST/SEMATECH e-Handbook 6.3.2.3; published formula.
    """
    return max(0.0, before + target - slack - value)
