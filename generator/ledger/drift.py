"""Control charts: each row cut where something changed, limits frozen from the first points of a piece, the rest held to them.

Limits say what the work itself does; they are none of a specification. A value that is only a bound stands at its bound and
counts on the side where it surely lies.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from generator.formulas.censored import ros
from generator.formulas.control import cusum_high, cusum_low, ewma, ewma_reach
from generator.formulas.statistics import individuals_limits
from generator.language import tell
from generator.ledger.run_rules import Spot, calls
from generator.ledger.series import Line, Point

REACH = 3  # standard deviations from the centre to a control limit
WEIGHT, WIDTH = 0.2, 3.0  # of the weighted mean, as the e-Handbook recommends
SLACK, DECISION = 0.5, 5.0  # of the cumulative sum, standard deviations: finds a shift of one
MOST_BOUNDS = (
    0.5  # of the first points; of more the regression knows too little (EPA Unified Guidance; from memory)
)


@dataclass(frozen=True, slots=True)
class Centre:
    """Centre line and standard deviation of a piece, in charted values, and how they were found."""

    mean: float
    sigma: float
    basis: str


@dataclass(frozen=True, slots=True)
class Charted:
    """A point with what the chart says of it; limits, averages and sums in charted values, None where there are none."""

    point: Point
    charted: float
    first: bool
    moving_range: float | None
    average: float | None = None
    reach: float | None = None
    high: float | None = None
    low: float | None = None
    signals: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Piece:
    """What lies between two changes: its points, its centre, or why it has none."""

    number: int
    begins: str
    points: tuple[Charted, ...]
    centre: Centre | None
    without: str = ""


def pieces(line: Line, baseline: int) -> list[Piece]:
    """The pieces of a row; limits of each from its first `baseline` points, which no later one moves."""
    cut: list[list[Point]] = []
    for point in line.points:
        if point.begins or not cut:
            cut.append([])
        cut[-1].append(point)
    return [_piece(number, points, line.of.log, baseline) for number, points in enumerate(cut, 1)]


def _piece(number: int, points: Sequence[Point], log: bool, baseline: int) -> Piece:
    values = [_charted(point.value, log) for point in points]
    first = list(zip(points, values, strict=True))[:baseline]
    found, without = _centre(first, baseline)
    if found is None:
        bare = tuple(
            Charted(point, value, place < baseline, step)
            for place, (point, value, step) in enumerate(
                zip(points, values, _ranges(points, values), strict=True)
            )
        )
        return Piece(number, points[0].begins, bare, None, without)
    return Piece(number, points[0].begins, tuple(_against(points, values, found, baseline)), found)


def _charted(value: float, log: bool) -> float:
    return math.log(value) if log and value > 0 else value


def _centre(first: Sequence[tuple[Point, float]], baseline: int) -> tuple[Centre | None, str]:
    """Centre and spread of the first points, or why there are none."""
    found = [value for point, value in first if not point.sign]
    below = [value for point, value in first if point.sign == "<"]
    if len(first) < baseline:
        return None, tell("{found} of the {least} points that limits take", found=len(first), least=baseline)
    if len(found) + len(below) < len(first):
        return None, tell("a value above a bound among the first points")
    if len(below) > MOST_BOUNDS * len(first):
        return None, tell(
            "{below} of the first {first} were not detected", below=len(below), first=len(first)
        )
    if len(set(found)) < 2:
        return None, tell("the first points are all alike")
    if below:
        fitted = ros(found, below)
        basis = tell(
            "regression on order statistics, {below} of {first} not detected",
            below=len(below),
            first=len(first),
        )
        return Centre(fitted.mean, fitted.sigma, basis), ""
    limits = individuals_limits(found)
    return Centre(limits.centre, (limits.upper - limits.centre) / REACH, tell("mean and moving range")), ""


def _against(
    points: Sequence[Point], values: Sequence[float], centre: Centre, baseline: int
) -> Iterator[Charted]:
    """Every point held to the frozen limits; the first points made them and are held to them too."""
    spots = [_spot(point, value, centre) for point, value in zip(points, values, strict=True)]
    told: dict[int, list[str]] = {}
    for call in calls(spots):
        told.setdefault(call.at, []).append(call.rule)
    ranges = _ranges(points, values)
    whole = not any(point.sign for point in points)
    average, high, low = centre.mean, 0.0, 0.0
    for place, (point, value) in enumerate(zip(points, values, strict=True)):
        average = ewma(average, value, WEIGHT)
        high = cusum_high(high, value, centre.mean, SLACK * centre.sigma)
        low = cusum_low(low, value, centre.mean, SLACK * centre.sigma)
        reach = ewma_reach(centre.sigma, WEIGHT, place + 1, WIDTH)
        rules = told.get(place, [])
        if not whole:
            yield Charted(point, value, place < baseline, ranges[place], signals=tuple(rules))
            continue
        rules += ["weighted mean"] if abs(average - centre.mean) > reach else []
        rules += ["cumulative sum"] if max(high, low) > DECISION * centre.sigma else []
        yield Charted(
            point, value, place < baseline, ranges[place], average, reach,
            high / centre.sigma, low / centre.sigma, tuple(rules),
        )  # fmt: skip


def _spot(point: Point, value: float, centre: Centre) -> Spot:
    place = (value - centre.mean) / centre.sigma
    return Spot(-math.inf if point.sign == "<" else place, math.inf if point.sign == ">" else place)


def _ranges(points: Sequence[Point], values: Sequence[float]) -> list[float | None]:
    """The difference to the point before, where both are numbers; the first of a piece has none."""
    out: list[float | None] = [None]
    for place in range(1, len(points)):
        bounded = points[place].sign or points[place - 1].sign
        out.append(None if bounded else abs(values[place] - values[place - 1]))
    return out
