"""Whether two ways of measuring the same thing agree: the middle of their differences, and how likely chance makes it."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

TAIL = 0.025
"""What lies beyond each end of an interval of 95 %."""


@dataclass(frozen=True, slots=True)
class Between:
    """The two ends of an interval, in the unit of the values."""

    low: float
    high: float


def median_interval(values: Sequence[float]) -> Between:
    """Where the median lies with 95 % confidence or a little more, whatever the law of the values.

    Formula: low = a
    Formula: high = b
    Where:
        low: lower end, in the unit of the values
        high: upper end, in the unit of the values
        a (sorted(values)[_left_out(len(values))]): the value that has as many below it as may be left out, in the unit of the values
        b (sorted(values)[-1 - _left_out(len(values))]): the one that has as many above it, in the unit of the values
    Range: six values or more; with fewer no interval has 95 %, and they raise ValueError.
    Source: order statistics and the binomial law, as in scipy.stats.quantile_test; library.
    """
    ordered, out = sorted(values), _left_out(len(values))
    return Between(ordered[out], ordered[-1 - out])


def sign_test_p(above: int, below: int) -> float:
    """How likely chance puts as many of some differences, or more, on one side, where either side is as likely.

    Formula: p = min(1, 2 * sum(c) / 2 ** n)
    Where:
        p: probability, a pure number
        c (_ways(above, below)): ways to have so few on the smaller side: none, one ... as many as there are, a count
        n (above + below): differences that are not zero, a count
    Range: one difference or more.
    Source: binomial law, as in scipy.stats.binomtest; library.
    """
    return float(min(1.0, 2 * sum(_ways(above, below)) / 2 ** (above + below)))


def count_p(hits: int, misses: int, share: float) -> float:
    """How likely chance puts a count of hits as far on its side, or farther, where each one hits with a known share.

    Formula: p = min(1, 2 * min(a, b))
    Where:
        p: probability, a pure number
        a (_at_most(hits, hits + misses, share)): probability of as many hits or fewer, a pure number
        b (_at_most(misses, hits + misses, 1 - share)): probability of as many misses or fewer, a pure number
    Range: one of either or more; a share above 0 and below 1.
    Source: binomial law with both tails counted alike, as the sign test has it at one half; published formula.
    """
    return float(
        min(1.0, 2 * min(_at_most(hits, hits + misses, share), _at_most(misses, hits + misses, 1 - share)))
    )


def _at_most(few: int, of: int, share: float) -> float:
    """The probability of so many or fewer."""
    return sum(math.comb(of, one) * share**one * (1 - share) ** (of - one) for one in range(few + 1))


def _ways(above: int, below: int) -> list[int]:
    return [math.comb(above + below, few) for few in range(min(above, below) + 1)]


def _left_out(count: int) -> int:
    """How many values may be left out at each end."""
    out, tail = 0, 2.0**-count
    while tail <= TAIL:
        out += 1
        tail += math.comb(count, out) * 2.0**-count
    if out == 0:
        raise ValueError("an interval of 95 % takes six values or more")
    return out - 1
