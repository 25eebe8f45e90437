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
    """Mean and mean ± 3 MR / d2, MR the mean moving range of neighbours, d2 exact.

    Units: any one unit in and out.
    Range: two values or more, in time order; fewer raise ValueError.
    Source: NIST/SEMATECH e-Handbook 6.3.2.2; published formula.
    """
    if len(values) < 2:
        raise ValueError("limits need two values or more")
    centre = math.fsum(values) / len(values)
    moving_range = math.fsum(abs(b - a) for a, b in pairwise(values)) / (len(values) - 1)
    reach = 3 * moving_range / D2_OF_TWO
    return Limits(centre, centre - reach, centre + reach)
