"""Limits of a control chart for single values, a slope that one bad reading does not turn, and whether a row has a trend.

Medians and quartiles come from the standard library.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations, pairwise
from statistics import median_high, median_low
from typing import Final

D2_OF_TWO: Final = 2 / math.sqrt(math.pi)
"""Mean range of two normal values, in standard deviations; tabled as 1.128 (derived)."""


@dataclass(frozen=True, slots=True)
class Ends:
    """Two slopes, in the unit of y over that of x."""

    low: float
    high: float


@dataclass(frozen=True, slots=True)
class Limits:
    """Centre line and control limits, in the unit of the values."""

    centre: float
    lower: float
    upper: float


def individuals_limits(values: Sequence[float]) -> Limits:
    """Centre line and control limits for single values in time order.

    Formula: centre = sum(x) / n
    Formula: lower = sum(x) / n - 3 * R / d_2
    Formula: upper = sum(x) / n + 3 * R / d_2
    Where:
        centre: centre line, in the unit of the values
        lower: lower control limit, in the unit of the values
        upper: upper control limit, in the unit of the values
        x (values): values in time order, any one unit
        n (len(values)): number of values, a count
        R (sum(abs(b - a) for a, b in pairwise(values)) / (len(values) - 1)): mean difference of neighbours without sign, in the unit of the values
        d_2 (D2_OF_TWO): mean range of two normal values in standard deviations, 1.128, a pure number
    Range: two values or more, in time order; fewer raise ValueError.
    Source: NIST/SEMATECH e-Handbook 6.3.2.2; published formula.
    """
    if len(values) < 2:
        raise ValueError("limits need two values or more")
    centre = math.fsum(values) / len(values)
    moving_range = math.fsum(abs(b - a) for a, b in pairwise(values)) / (len(values) - 1)
    reach = 3 * moving_range / D2_OF_TWO
    return Limits(centre, centre - reach, centre + reach)


def theil_sen_slope(xs: Sequence[float], ys: Sequence[float]) -> float:
    """Slope of a row of readings: the median of the slopes between any two of them.

    A quarter of the readings may be wrong without turning it. Readings at one place have no slope between them.

    Formula: b = (b_low + b_high) / 2
    Where:
        b: slope, in the unit of y over that of x
        b_low (median_low(_slopes(xs, ys))): lower of the two middle slopes, in the same unit
        b_high (median_high(_slopes(xs, ys))): upper of the two middle slopes, the same one where their number is odd, in the same unit
    Range: two readings or more at unlike places, as many of one as of the other; else ValueError.
    Source: Theil (1950) and Sen (1968), as in scipy.stats.theilslopes; library.
    """
    found = _slopes(xs, ys)
    return (median_low(found) + median_high(found)) / 2


def _slopes(xs: Sequence[float], ys: Sequence[float]) -> list[float]:
    """The slope between any two readings that stand at unlike places."""
    points = list(zip(xs, ys, strict=True))
    found = [(y - b) / (x - a) for (a, b), (x, y) in combinations(points, 2) if x != a]
    if not found:
        raise ValueError("a slope needs readings at two places")
    return found


def mann_kendall_z(values: Sequence[float]) -> float:
    """How far a row of readings rises or falls, in standard deviations of what rows without a trend do.

    Whichever two readings are taken, the later is above, below or like the earlier; only that counts, and no size.

    Formula: Z = (S - s) / sqrt(V)
    Where:
        Z: above zero where the row rises, a pure number
        S (_rises(values)): pairs that rise less those that fall, a pure number
        s (_sign(_rises(values))): sign of S, a step towards zero, a pure number
        V (_rises_variance(values)): variance of S without a trend, for ties less, a pure number
    Range: three readings or more, in time order, not all alike; else ValueError. The normal law holds from about ten.
    Source: Mann (1945) and Kendall (1975), with ties as in U.S. EPA QA/G-9; secondary copy.
    """
    if len(values) < 3 or len(set(values)) < 2:
        raise ValueError("a trend needs three readings or more, not all alike")
    return (_rises(values) - _sign(_rises(values))) / math.sqrt(_rises_variance(values))


def theil_sen_ends(xs: Sequence[float], ys: Sequence[float], z: float) -> Ends:
    """The two slopes between which that of `theil_sen_slope` lies, by ranks.

    As many of the slopes between any two readings lie outside on each side as order alone allows; nothing is asked of their law.

    Formula: low = b_low
    Formula: high = b_high
    Where:
        low: lower end of the slope, in the unit of y over that of x
        high: upper end of the slope, in the same unit
        b_low (sorted(_slopes(xs, ys))[_ends(xs, ys, z)[0]]): slope at place (N - z * s) / 2 of the N slopes in order, s by `kendall_z`, in the same unit
        b_high (sorted(_slopes(xs, ys))[_ends(xs, ys, z)[1]]): slope at place (N + z * s) / 2, in the same unit
    Range: three readings or more at unlike places; else ValueError. z above zero, 1.96 for 95 of 100. The normal law holds from about ten.
    Source: Sen (1968), as in scipy.stats.theilslopes where one of the two has no ties; library.
    """
    if len(xs) < 3:
        raise ValueError("the ends of a slope need three readings or more")
    ordered, (low, high) = sorted(_slopes(xs, ys)), _ends(xs, ys, z)
    return Ends(ordered[low], ordered[high])


def _ends(xs: Sequence[float], ys: Sequence[float], z: float) -> tuple[int, int]:
    """The places of both ends among the slopes in order."""
    slopes, reach = len(_slopes(xs, ys)), z * math.sqrt(_together_variance(xs, ys))
    return max(round((slopes - reach) / 2) - 1, 0), min(round((slopes + reach) / 2), slopes - 1)


def kendall_z(xs: Sequence[float], ys: Sequence[float]) -> float:
    """How far two readings of each thing rise together, in standard deviations of what two that have nothing to do with each other do.

    Whichever two things are taken, both readings rise, or one falls where the other rises; only that counts, and no size.

    Formula: Z = S / sqrt(V)
    Where:
        Z: above zero where both rise together, a pure number
        S (_together(xs, ys)): pairs that rise together less those that do not, a pure number
        V (_together_variance(xs, ys)): variance of S where they have nothing to do with each other, for ties less, a pure number
    Range: three things or more, neither reading alike in all; else ValueError. The normal law holds from about ten.
    Source: Kendall (1970) with ties in both, as in scipy.stats.kendalltau; library.
    """
    if len(xs) < 3 or len(set(xs)) < 2 or len(set(ys)) < 2:
        raise ValueError("two readings are compared by three things or more, not all alike")
    return _together(xs, ys) / math.sqrt(_together_variance(xs, ys))


def _together(xs: Sequence[float], ys: Sequence[float]) -> int:
    """Pairs of which both readings rise or fall, less those of which one rises and one falls."""
    points = list(zip(xs, ys, strict=True))
    return sum(_sign(x - a) * _sign(y - b) for (a, b), (x, y) in combinations(points, 2))


def _together_variance(xs: Sequence[float], ys: Sequence[float]) -> float:
    """Its variance where the two have nothing to do with each other; readings that are alike take from it."""
    n = len(xs)
    of_x, of_y = (list(Counter(row).values()) for row in (xs, ys))
    pairs = [sum(t * (t - 1) for t in each) for each in (of_x, of_y)]
    threes = [sum(t * (t - 1) * (t - 2) for t in each) for each in (of_x, of_y)]
    return (
        _alone_variance(xs, ys)
        + pairs[0] * pairs[1] / (2 * n * (n - 1))
        + threes[0] * threes[1] / (9 * n * (n - 1) * (n - 2))
    )


def _alone_variance(xs: Sequence[float], ys: Sequence[float]) -> float:
    """Variance of pairs that agree less those that do not, each row's ties taken off by themselves."""
    n = len(xs)
    ties = sum(t * (t - 1) * (2 * t + 5) for row in (xs, ys) for t in Counter(row).values())
    return (n * (n - 1) * (2 * n + 5) - ties) / 18


def rank_sum_z(before: Sequence[float], after: Sequence[float]) -> float:
    """How far the later of two groups lies above the earlier, in standard deviations of what two of one kind do.

    Whichever two readings are taken, one of each group, the later is above, below or like the earlier; only that counts.

    Formula: Z = (U - n * m / 2) / sqrt(V)
    Where:
        Z: above zero where the later group lies higher, a pure number
        U (_above(before, after)): pairs of which the later is above, by half where alike, a pure number
        n (len(before)): readings of the earlier group, a pure number
        m (len(after)): readings of the later group, a pure number
        V (_above_variance(before, after)): variance of U in two groups of one kind, for ties less, a pure number
    Range: a reading or more in each, not all alike; else ValueError. The normal law holds from about eight in each.
    Source: Mann and Whitney (1947), with the usual correction for ties; published formula.
    """
    if not before or not after or len({*before, *after}) < 2:
        raise ValueError("two groups are compared by a reading or more in each, not all alike")
    middle = len(before) * len(after) / 2
    return (_above(before, after) - middle) / math.sqrt(_above_variance(before, after))


def two_sided_p(z: float) -> float:
    """How likely a normal value lies at least that far from zero, on either side.

    Formula: p = q
    Where:
        p: probability, a pure number
        q (math.erfc(abs(z) / math.sqrt(2))): both tails of the normal law beyond z, a pure number
    Range: any z.
    Source: normal law by the complementary error function; published formula.
    """
    return math.erfc(abs(z) / math.sqrt(2))


def _sign(value: float) -> int:
    return (value > 0) - (value < 0)


def _rises(values: Sequence[float]) -> int:
    """Pairs of which the later is above the earlier, less those of which it is below."""
    return sum(_sign(later - earlier) for earlier, later in combinations(values, 2))


def _rises_variance(values: Sequence[float]) -> float:
    """Its variance in a row without a trend; readings that are alike take from it."""
    return _alone_variance(range(len(values)), values)


def _above(before: Sequence[float], after: Sequence[float]) -> float:
    """Pairs of one of each group of which the later is above the earlier, by half where they are alike."""
    return sum((1 + _sign(later - earlier)) / 2 for earlier in before for later in after)


def _above_variance(before: Sequence[float], after: Sequence[float]) -> float:
    """Its variance in two groups of one kind; readings that are alike take from it."""
    n, m = len(before), len(after)
    both = n + m
    ties = sum(t**3 - t for t in Counter([*before, *after]).values())
    return n * m / 12 * (both + 1 - ties / (both * (both - 1)))
