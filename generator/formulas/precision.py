"""How far results of one method lie apart, and the standard uncertainty that follows from it."""

from __future__ import annotations

from typing import Final

LIMIT_OVER_DEVIATION: Final = 2.8
"""A precision limit over its standard deviation: 1.96 times the root of 2, rounded (ISO 5725; from memory)."""


def precision_limit(result: float, constant: float, factor: float, power: float) -> float:
    """How far two results lie apart at most in 95 % of cases, at a level.

    Formula: r = a + b * x ** p
    Where:
        r: repeatability or reproducibility limit, in the unit of the result
        a (constant): its constant part, in the unit of the result
        b (factor): its part that grows with the result, in the unit of the result over that of its power
        x (result): the level, any one unit
        p (power): power of the level, a pure number
    Range: result of 0 or more; the level is a result of the method, or the mean of both.
    Source: precision clauses of EN 14112 and ASTM D664, which have this form; secondary copy.
    """
    return float(constant + factor * result**power)


def of_precision_limit(limit: float) -> float:
    """Standard uncertainty of one result, from the precision limit of its method.

    Formula: s = r / k
    Where:
        s: standard deviation of single results, in the unit of the limit
        r (limit): repeatability or reproducibility limit, any one unit
        k (LIMIT_OVER_DEVIATION): limit over standard deviation, 2.8, a pure number
    Range: 0 or above. From repeatability it holds within one place and one day alone.
    Source: ISO 5725, r = 2.8 s; from memory.
    """
    return limit / LIMIT_OVER_DEVIATION
