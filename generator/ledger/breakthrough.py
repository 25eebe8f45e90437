"""One logistic through what passes a charge against what it holds, where its samples allow one; else the reason why not.

Least squares over the share that passes, by Gauss and Newton with halved steps: two parameters and a handful of points. The
range comes from a bootstrap over the runs with a seed of its own, so that the same files give the same curve.
"""

from __future__ import annotations

import random
from collections.abc import Sequence
from dataclasses import dataclass

from generator.formulas.breakthrough import passing_share
from generator.language import tell
from generator.ledger.charges import Charge
from generator.ledger.interval import Range

LEAST_POINTS, LEAST_BETWEEN = 5, 2
BETWEEN = (0.05, 0.95)
MOST_FEED_RATIO = 2.0
GIVES_BACK = 1.25  # times what came in: more than titrations leave open
RESAMPLES, SEED = 200, 20260101
STEPS = 60
STARTS, START_STEPS = (0.4, 0.66, 0.85), (6.0, 25.0)


@dataclass(frozen=True, slots=True)
class Curve:
    """Held when half of the soap passes, g, with its bootstrap range of 90 %; the steepness, 1/g; how many runs."""

    half_g: Range
    steepness_per_g: float
    points: int


Point = tuple[float, float]


def curve_of(charge: Charge) -> Curve | str:
    """The curve of one charge, or in words why there is none."""
    runs = [
        run for run in charge.runs if run.is_measured and run.load_g is not None and run.soap_in is not None
    ]
    if charge.renewals:
        return tell("the charge was regenerated, and its curve would be two")
    runs = [run for run in runs if run.place == runs[-1].place]  # a curve holds for one place in the line
    points: list[Point] = []
    for run in runs:
        assert run.load_g is not None and run.soap_in is not None and run.soap_out is not None
        if run.soap_in.low > 0 and run.soap_out.low > GIVES_BACK * run.soap_in.high:
            return tell("it gave soap back in a run, and a curve holds for a bed that takes it up")
        if run.soap_in.low > 0:
            points.append((run.load_g, run.soap_out.middle / run.soap_in.middle))
    if len(points) < LEAST_POINTS:
        return tell(
            "a curve takes {least} measured runs, and it has {found}", least=LEAST_POINTS, found=len(points)
        )
    between = sum(BETWEEN[0] <= share <= BETWEEN[1] for _, share in points)
    if between < LEAST_BETWEEN:
        return tell(
            "a curve takes {least} runs that let between 5 and 95 % through, and it has {found}",
            least=LEAST_BETWEEN,
            found=between,
        )
    feeds = [run.soap_in.middle for run in runs if run.soap_in is not None]
    if max(feeds) > MOST_FEED_RATIO * min(feeds):
        return tell("its feeds differ by more than a factor of two, and a curve holds for a steady feed")
    if not _rises(points):
        return tell("what passes does not rise with what it holds")
    return _fitted(points)


def _rises(points: Sequence[Point]) -> bool:
    """Whether more passes in the later half of the runs than in the earlier."""
    ordered = sorted(points)
    half = len(ordered) // 2
    return sum(share for _, share in ordered[-half:]) > sum(share for _, share in ordered[:half])


def _fitted(points: Sequence[Point]) -> Curve | str:
    best = fit(points)
    if best is None:
        return tell("no curve fits its runs")
    half_g, steepness = best
    if half_g > max(load for load, _ in points):
        return tell("less than half of the soap passes it so far, and a curve is not carried beyond its runs")
    chance, halves = random.Random(SEED), []
    for _ in range(RESAMPLES):
        again = [chance.choice(points) for _ in points]
        found = (_downhill(again, *best) or fit(again)) if len(set(again)) > 2 else None
        if found is not None:
            halves.append(found[0])
    if len(halves) < RESAMPLES / 2:
        return tell("its runs leave the curve open: most resamples of them have none")
    halves.sort()
    low, high = halves[len(halves) // 20], halves[-1 - len(halves) // 20]
    return Curve(Range(min(low, half_g), half_g, max(high, half_g)), steepness, len(points))


def fit(points: Sequence[Point]) -> tuple[float, float] | None:
    """Half load and steepness by least squares, the best of several starts; None where none leads to a curve that rises."""
    loads = sorted(load for load, _ in points)
    spread = loads[-1] - loads[0]
    if spread <= 0:
        return None
    starts = [(loads[int(len(loads) * place)], steps / spread) for place in STARTS for steps in START_STEPS]
    found = [curve for start in starts if (curve := _downhill(points, *start)) is not None]
    return min(found, key=lambda curve: _error(points, *curve), default=None)


def _downhill(points: Sequence[Point], half: float, steep: float) -> tuple[float, float] | None:
    """From one start to where no step leads lower; None where that is no curve."""
    most = max(load for load, _ in points)
    spread = most - min(load for load, _ in points)
    error = _error(points, half, steep)
    for _ in range(STEPS):
        step = _step(points, half, steep)
        if step is None:
            return None
        scale = 1.0
        while scale > 1e-6:
            new = (half + scale * step[0], steep + scale * step[1])
            if new[1] > 0 and abs(new[0]) < 20 * most and _error(points, *new) <= error:
                break
            scale /= 2
        else:
            break
        moved = abs(new[0] - half) / spread + abs(new[1] - steep) / steep
        half, steep = new
        error = _error(points, half, steep)
        if moved < 1e-10:
            break
    return (half, steep) if 0 < half < 5 * most else None


def _error(points: Sequence[Point], half: float, steep: float) -> float:
    total = 0.0
    for load, share in points:
        total += (share - passing_share(load, half, steep)) ** 2
    return total


def _step(points: Sequence[Point], half: float, steep: float) -> tuple[float, float] | None:
    """One step of Gauss and Newton: the normal equations of two parameters, solved."""
    a = b = c = u = v = 0.0
    for load, share in points:
        found = passing_share(load, half, steep)
        slope = found * (1 - found)
        by_half, by_steep = -steep * slope, (load - half) * slope
        rest = share - found
        a, b, c = a + by_half**2, b + by_half * by_steep, c + by_steep**2
        u, v = u + by_half * rest, v + by_steep * rest
    determinant = a * c - b * b
    if determinant <= 1e-300:
        return None
    return (c * u - b * v) / determinant, (a * v - b * u) / determinant
