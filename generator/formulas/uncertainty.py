"""From what an instrument can show to a standard uncertainty, and to what is written beside a figure.

Propagation itself is not here: the formulas run on numbers that carry their uncertainty, first order, as the Guide to
the expression of uncertainty in measurement (GUM) has it.
"""

from __future__ import annotations

from typing import Final

COVERAGE: Final = 2.0
"""The factor k of the ± that is shown: about 95 % for a figure with many like contributions (GUM 6.2; published)."""


def from_limits(limit: float) -> float:
    """Standard uncertainty of a value known to lie anywhere between two limits, rectangular.

    Formula: u = a / 3 ** 0.5
    Where:
        u: standard uncertainty, in the unit of the limit
        a (limit): half the distance of the limits, any one unit
    Range: limit 0 or above.
    Source: GUM (JCGM 100:2008) 4.3.7; published formula.
    """
    return limit / 3**0.5


def from_step(step: float) -> float:
    """Standard uncertainty of a reading that is given to the nearest step of a scale.

    Formula: u = d / 12 ** 0.5
    Where:
        u: standard uncertainty, in the unit of the step
        d (step): smallest step that is read, any one unit
    Range: step 0 or above.
    Source: GUM (JCGM 100:2008) F.2.2.1; published formula.
    """
    return step / 12**0.5


def of_mean(reading_u: float, scatter: float, readings: int) -> float:
    """Standard uncertainty of a mean: the instrument's or the readings' own scatter, whichever is larger.

    Few readings show their scatter badly, so the instrument's figure is a floor; the larger of the two is divided by the
    root of the number of readings.

    Formula: u = max(u_r, s) / n ** 0.5
    Where:
        u: standard uncertainty of the mean, in the unit of the readings
        u_r (reading_u): standard uncertainty of one reading by its instrument, any one unit
        s (scatter): experimental standard deviation of the readings, in the same unit
        n (readings): number of readings, a count
    Range: one reading or more; with one, its scatter is 0.
    Source: GUM (JCGM 100:2008) 4.2.3 for the division; the floor is derived.
    """
    return float(max(reading_u, scatter) / readings**0.5)


def combined(first: float, second: float) -> float:
    """Standard uncertainty of a sum of two independent parts.

    Formula: u = (u_1 ** 2 + u_2 ** 2) ** 0.5
    Where:
        u: combined standard uncertainty, in the unit of the parts
        u_1 (first): standard uncertainty of one part, any one unit
        u_2 (second): standard uncertainty of the other, in the same unit
    Range: both 0 or above.
    Source: GUM (JCGM 100:2008) 5.1.2; published formula.
    """
    return float((first**2 + second**2) ** 0.5)


def expanded(standard: float) -> float:
    """What is written behind ±: the standard uncertainty times the coverage factor.

    Formula: U = k * u
    Where:
        U: expanded uncertainty, in the unit of the figure
        k (COVERAGE): coverage factor, a pure number
        u (standard): combined standard uncertainty, any one unit
    Range: 0 or above.
    Source: GUM (JCGM 100:2008) 6.2.1; published formula.
    """
    return COVERAGE * standard
