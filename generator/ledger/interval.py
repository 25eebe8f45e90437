"""A quantity known only to lie between two ends; the upper end may be unknown."""

from __future__ import annotations

import math
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Interval:
    """From `low` to `high`, both in the unit of what is measured."""

    low: float
    high: float

    @property
    def is_point(self) -> bool:
        """Whether both ends are the same."""
        return self.low == self.high

    @property
    def middle(self) -> float:
        """The middle, for a drawing or an estimate, never for a verdict."""
        return (self.low + self.high) / 2

    def minus(self, other: Interval) -> Interval:
        """The difference, kept at zero or above: a bed is not taken to give soap back."""
        return Interval(max(self.low - other.high, 0.0), max(self.high - other.low, 0.0))

    def plus(self, other: Interval) -> Interval:
        """The sum, end by end."""
        return Interval(self.low + other.low, self.high + other.high)

    def times(self, factor: float) -> Interval:
        """Both ends times a factor of zero or above."""
        return Interval(self.low * factor, self.high * factor)

    def held(self, value: float) -> float:
        """The value, moved to the nearer end where it lies outside."""
        return min(max(value, self.low), self.high)


@dataclass(frozen=True, slots=True)
class Range:
    """A low, a middle and a high value in one unit; the high one may be without end."""

    low: float
    middle: float
    high: float

    def over(self, other: Range) -> Range | None:
        """The quotient: the least over the most, the middles, the most over the least; None over a middle of nothing."""
        if other.middle <= 0 or other.high <= 0:
            return None
        most = self.high / other.low if other.low > 0 else math.inf
        return Range(self.low / other.high, self.middle / other.middle, most)

    def times(self, factor: float) -> Range:
        """All three times a factor of zero or above."""
        return Range(self.low * factor, self.middle * factor, self.high * factor)
