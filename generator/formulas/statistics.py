"""Limits of a control chart for single values. Medians and quartiles come from the standard library."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

D2_OF_TWO: Final = 2 / math.sqrt(math.pi)
"""Mean range of two normal values, in standard deviations; tabled as 1.128 (derived)."""


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
