"""Which rules a row of points breaks, and where; a point that is only a bound counts on the side where it surely lies."""

from __future__ import annotations

import functools
from collections.abc import Sequence
from dataclasses import dataclass

from generator.data import rows


@dataclass(frozen=True, slots=True)
class RunRule:
    """So many of so many points in a row beyond so many standard deviations, all on one side."""

    name: str
    count: int
    of: int
    beyond: float
    words: str


@dataclass(frozen=True, slots=True)
class Spot:
    """Where a point lies from the centre, in standard deviations: at least, at most; both alike for a number."""

    least: float
    most: float


@dataclass(frozen=True, slots=True)
class Call:
    """A rule that is broken at a point, and the points that break it."""

    rule: str
    at: int
    by: tuple[int, ...]


@functools.cache
def run_rules() -> tuple[RunRule, ...]:
    """The rules, from `data/run_rules.yaml`."""
    return tuple(RunRule(name, **row) for name, row in rows("run_rules")["rules"].items())


def calls(spots: Sequence[Spot | None]) -> list[Call]:
    """Every rule that is broken, at the point that completes it; None is a point without a place."""
    return [
        found
        for at in range(len(spots))
        for rule in run_rules()
        for side in (1, -1)
        if (found := _call(rule, spots, at, side)) is not None
    ]


def _call(rule: RunRule, spots: Sequence[Spot | None], at: int, side: int) -> Call | None:
    line = side * rule.beyond
    if not _beyond(spots[at], line, side):  # the point that completes it is one of those that break it
        return None
    window = range(max(0, at - rule.of + 1), at + 1)
    by = tuple(place for place in window if _beyond(spots[place], line, side))
    return Call(rule.name, at, by) if len(by) >= rule.count else None


def _beyond(spot: Spot | None, line: float, side: int) -> bool:
    """Whether a point surely lies beyond a line, on its side."""
    if spot is None:
        return False
    return spot.least > line if side > 0 else spot.most < line
