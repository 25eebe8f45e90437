"""Mean and spread where some values are only known to lie below a limit; none of them is taken for zero, half or all of it."""

from __future__ import annotations

import math
from bisect import bisect_right
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from statistics import NormalDist, linear_regression

LEAST_FOUND = 2


@dataclass(frozen=True, slots=True)
class Regressed:
    """Mean and standard deviation by regression on order statistics, in the unit of the values."""

    mean: float
    sigma: float


def ros(found: Sequence[float], bounds: Sequence[float]) -> Regressed:
    """Mean and standard deviation of values found and values below a bound; of logarithms, give the logarithms.

    What was found lies on a line over the normal quantiles of its plotting positions, which count the bounds; the line holds
    for what was not found too.

    Formula: mean = a
    Formula: sigma = b
    Where:
        mean: mean, in the unit of the values
        sigma: standard deviation, in the unit of the values
        a (_line(found, bounds)[0]): value of the line at the middle, in the unit of the values
        b (_line(found, bounds)[1]): its slope, in the unit of the values
    Range: two unlike values found or more, and any number of bounds; else ValueError.
    Source: Helsel and Cohn (1988), plotting positions for several limits, as in statsmodels.imputation.ros; library.
    """
    line = _line(found, bounds)
    return Regressed(line[0], line[1])


def ros_mean(found: Sequence[float], bounds: Sequence[float]) -> float:
    """Mean of values found and values below a bound, each of these put on the line of the others' logarithms.

    Formula: m = sum(x) / n
    Where:
        m: mean, in the unit of the values
        x (_filled(found, bounds)): values found, and on the line those that were not, any one unit
        n (len(found) + len(bounds)): number of values, a count
    Range: values above 0; with bounds among them two found or more whose logarithms are unlike; else ValueError.
    Source: Helsel and Cohn (1988), as in statsmodels.imputation.ros; library.
    """
    return math.fsum(_filled(found, bounds)) / (len(found) + len(bounds))


def kaplan_meier_mean(found: Sequence[float], bounds: Sequence[float]) -> float:
    """Mean of values found and values below a bound, without any law of their spread.

    What is left below the smallest value counts as the smallest bound there, so that the mean is then one at most.

    Formula: m = sum(p * x)
    Where:
        m: mean, in the unit of the values
        p (_masses(found, bounds)[1]): share of each, a pure number
        x (_masses(found, bounds)[0]): each value, and the smallest bound where a share is left, any one unit
    Range: one value found or more; else ValueError.
    Source: Kaplan and Meier (1958), turned round for bounds from above, as in Helsel (2012); library.
    """
    values, shares = _masses(found, bounds)
    return math.fsum(value * share for value, share in zip(values, shares, strict=True))


def _line(found: Sequence[float], bounds: Sequence[float]) -> tuple[float, float]:
    if len(set(found)) < LEAST_FOUND:
        raise ValueError("a line needs two unlike values")
    of_found = _positions(found, bounds)[0]
    quantiles = [NormalDist().inv_cdf(position) for position, _ in of_found]
    fitted = linear_regression(quantiles, [value for _, value in of_found])
    return fitted.intercept, fitted.slope


def _filled(found: Sequence[float], bounds: Sequence[float]) -> list[float]:
    if min([*found, *bounds], default=0.0) <= 0:
        raise ValueError("logarithms need values above zero")
    if found and not bounds:  # nothing to put on a line
        return list(found)
    logs, below = [math.log(value) for value in found], [math.log(bound) for bound in bounds]
    middle, slope = _line(logs, below)
    positions = _positions(logs, below)[1]
    return [*found, *(math.exp(middle + slope * NormalDist().inv_cdf(position)) for position in positions)]


def _positions(
    found: Sequence[float], bounds: Sequence[float]
) -> tuple[list[tuple[float, float]], list[float]]:
    """Plotting positions: of what was found, in rising order, each with its value; and of what was not."""
    limits = sorted(set(bounds))
    edges = [-math.inf, *limits]
    exceeding = _exceeding(found, bounds, edges)
    of_found: list[tuple[float, float]] = []
    for place, edge in enumerate(edges):
        upper = edges[place + 1] if place + 1 < len(edges) else math.inf
        inside = sorted(value for value in found if edge <= value < upper)
        step = exceeding[place] - exceeding[place + 1]
        of_found += [
            (1 - exceeding[place] + rank * step / (len(inside) + 1), value)
            for rank, value in enumerate(inside, 1)
        ]
    of_bounds = []
    for place, limit in enumerate(edges):
        alike = sum(bound == limit for bound in bounds)
        of_bounds += [(1 - exceeding[place]) * rank / (alike + 1) for rank in range(1, alike + 1)]
    return of_found, of_bounds


def _exceeding(found: Sequence[float], bounds: Sequence[float], edges: Sequence[float]) -> list[float]:
    """The chance to lie above each edge, from the highest down; above all of them none."""
    out = [0.0]
    for place in range(len(edges) - 1, -1, -1):
        edge = edges[place]
        upper = edges[place + 1] if place + 1 < len(edges) else math.inf
        inside = sum(edge <= value < upper for value in found)
        below = sum(value < edge for value in found) + sum(bound <= edge for bound in bounds)
        share = inside / (inside + below) if inside + below else 0.0
        out.insert(0, out[0] + share * (1 - out[0]))
    return out


def _masses(found: Sequence[float], bounds: Sequence[float]) -> tuple[list[float], list[float]]:
    """The values from the highest down, each with the share of it; what is left lies at the smallest bound."""
    if not found:
        raise ValueError("no value was found")
    left, values, shares = 1.0, [], []
    rising, edges, times = sorted(found), sorted(bounds), Counter(found)
    for value in sorted(times, reverse=True):
        at_risk = bisect_right(rising, value) + bisect_right(edges, value)
        share = left * times[value] / at_risk
        values.append(value)
        shares.append(share)
        left -= share
    if left > 1e-12:
        values.append(min([*bounds, *found]))
        shares.append(left)
    return values, shares
