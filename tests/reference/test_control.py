"""Control charts against the e-Handbook's examples, run lengths from exact chains, censored values against a library's set."""

from __future__ import annotations

import itertools
import math
import random
from collections.abc import Callable, Sequence
from statistics import NormalDist, median, stdev

import numpy as np
import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from generator.data import rows
from generator.formulas.censored import kaplan_meier_mean, ros, ros_mean
from generator.formulas.control import (
    D3_OF_TWO,
    D4_OF_TWO,
    cusum_high,
    cusum_low,
    ewma,
    ewma_reach,
    moving_range_limit,
)
from generator.formulas.statistics import D2_OF_TWO, individuals_limits
from generator.ledger.run_rules import Call, Spot, calls, run_rules

from .case import Case, each

INDIVIDUALS = ("NIST/SEMATECH e-Handbook", "6.3.2.2")
EWMA = ("NIST/SEMATECH e-Handbook", "6.3.2.4")
CUSUM = ("NIST/SEMATECH e-Handbook", "6.3.2.3")
HELSEL = ("statsmodels 0.15.0, arsenic data after Helsel", "ros.impute_ros")
EXACT = ("exact values of the normal range of two", "section 13")
X_DATA = [49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1]
X3_DATA = [52.0, 47.0, 53.0, 49.3, 50.1, 47.0, 51.0, 50.1, 51.2, 50.5, *X_DATA]
X3_SHOWN = [
    50.60, 49.52, 50.56, 50.18, 50.16, 49.21, 49.75, 49.85, 50.26, 50.33,
    50.11, 49.36, 49.52, 50.05, 49.38, 49.92, 50.73, 51.23, 51.94, 51.99,
]  # fmt: skip
X5_DATA = [
    324.925, 324.675, 324.725, 324.350, 325.350, 325.225, 324.125, 324.525, 325.225, 324.600,
    324.625, 325.150, 328.325, 327.250, 327.825, 328.500, 326.675, 327.775, 326.875, 328.350,
]  # fmt: skip
FOUND = [3.2, 2.8, 1.7, 1.5, 0.9, 0.7, 0.7, 0.6, 0.5, 0.5, 0.5]
BOUNDS = [2.0] * 8 + [1.0] * 4 + [0.9]


def averages(values: Sequence[float], centre: float, weight: float) -> list[float]:
    return list(itertools.accumulate(values, lambda z, x: ewma(z, x, weight), initial=centre))[1:]


def average_after(count: int) -> float:
    return averages(X3_DATA, 50, 0.3)[count - 1]


def sums(values: Sequence[float], step: Callable[[float, float, float, float], float]) -> list[float]:
    return list(itertools.accumulate(values, lambda s, x: step(s, x, 325, 0.3175), initial=0.0))[1:]


def sum_high(position: int) -> float:
    return sums(X5_DATA, cusum_high)[position - 1]


def sum_low(position: int) -> float:
    return sums(X5_DATA, cusum_low)[position - 1]


def range_limit_of(values: Sequence[float]) -> float:
    limits = individuals_limits(values)
    return moving_range_limit((limits.upper - limits.centre) / 3)


def upper_average(centre: float, sigma: float, count: int) -> float:
    return centre + ewma_reach(sigma, 0.3, count, 3.0)


CASES = [
    Case("X2 moving range", range_limit_of, {"values": X_DATA}, 6.133821, 1e-6, "F", *INDIVIDUALS, "derived"),
    Case("X1 moving range, tabled", range_limit_of, {"values": X_DATA}, 1.8778 * 3.267, 2e-3, "K", *INDIVIDUALS, "published formula"),
    *(
        Case(f"X3 {place}", average_after, {"count": place}, shown, 5e-3 + 1e-9, "R", *EWMA, "published")
        for place, shown in enumerate(X3_SHOWN, 1)
    ),
    Case("X3 upper", upper_average, {"centre": 50, "sigma": 2.0539, "count": 200}, 52.5884, 1e-3, "R", *EWMA, "published"),
    Case("X4 upper", upper_average, {"centre": 50, "sigma": 2.0539, "count": 200}, 52.588432, 1e-6, "F", *EWMA, "derived"),
    Case("X4 first", upper_average, {"centre": 50, "sigma": 2.0539, "count": 1}, 51.84851, 1e-6, "F", *EWMA, "derived"),
    Case("X4 z10", average_after, {"count": 10}, 50.330294, 1e-6, "F", *EWMA, "derived"),
    Case("X4 z20", average_after, {"count": 20}, 51.988243, 1e-6, "F", *EWMA, "derived"),
    *(
        Case(f"X5 high {place}", sum_high, {"position": place}, shown, 0.01, "R", *CUSUM, "published")
        for place, shown in zip([5, *range(13, 21)], [0.03, 3.01, 4.94, 7.45, 10.63, 11.99, 14.44, 16.00, 19.04], strict=True)
    ),
    *(
        Case(f"X5 low {place}", sum_low, {"position": place}, shown, 0.01, "R", *CUSUM, "published")
        for place, shown in zip([2, 4, 7, 8, 9, 10, 11], [0.01, 0.33, 0.56, 0.72, 0.17, 0.25, 0.31], strict=True)
    ),
    Case("X6 high 14", sum_high, {"position": 14}, 4.94, 1e-9, "F", *CUSUM, "derived"),
    Case("X6 high 20", sum_high, {"position": 20}, 19.035, 1e-9, "F", *CUSUM, "derived"),
    Case("X6 low 8", sum_low, {"position": 8}, 0.715, 1e-9, "F", *CUSUM, "derived"),
    Case("X20 regression, mean", ros_mean, {"found": FOUND, "bounds": BOUNDS}, 0.972463, 1e-5, "F", *HELSEL, "library"),
    Case("X20 Kaplan-Meier, mean", kaplan_meier_mean, {"found": FOUND, "bounds": BOUNDS}, 0.948958, 1e-5, "F", *HELSEL, "library"),
]  # fmt: skip


@each(CASES)
def test_reference(case: Case) -> None:
    case.check()


def test_the_constants_of_ranges_of_two() -> None:
    """Derived, section 13; tabled as 1.128, 3.267 (from memory)."""
    assert pytest.approx(1.1283791671, abs=1e-9) == D2_OF_TWO
    assert pytest.approx(0.8525024664, abs=1e-9) == D3_OF_TWO
    assert pytest.approx(3.2665319193, abs=1e-9) == D4_OF_TWO


def test_the_examples_call_where_the_handbook_says() -> None:
    """X3: no average beyond the limits. X5: the sum passes h = 4.1959 at the 14th (published)."""
    reach = ewma_reach(2.0539, 0.3, 200, 3.0)
    assert all(abs(z - 50) < reach for z in averages(X3_DATA, 50, 0.3))
    assert next(place for place, s in enumerate(sums(X5_DATA, cusum_high), 1) if s > 4.1959) == 14
    assert all(s <= 4.1959 for s in sums(X5_DATA, cusum_low))


# --- values that were not detected -------------------------------------------------------------------------------------


def test_the_line_fills_in_what_the_library_fills_in() -> None:
    """X20 (library): standard deviation 0.718012, median 0.7, of the values found and those put on the line."""
    from generator.formulas.censored import _filled

    filled = _filled(FOUND, BOUNDS)
    assert stdev(filled) == pytest.approx(0.718012, abs=1e-5)
    assert median(filled) == pytest.approx(0.7, abs=1e-9)


def test_neither_is_what_substitution_gives() -> None:
    """X21 (derived): 0.566667, 1.002083 and 1.4375 with 0, half of the limit, the limit: known to be wrong."""
    wrong = [(sum(FOUND) + share * sum(BOUNDS)) / 24 for share in (0, 0.5, 1)]
    assert wrong == pytest.approx([0.566667, 1.002083, 1.4375], abs=1e-6)
    for found in (ros_mean(FOUND, BOUNDS), kaplan_meier_mean(FOUND, BOUNDS)):
        assert all(abs(found - other) > 0.02 for other in wrong)


@example([0.1, 0.1, 0.10000000000000002])  # unlike, and their logarithms are not
@example([5.0, 5.0, 5.0])
@given(st.lists(st.floats(0.1, 100), min_size=3, max_size=20))
def test_without_bounds_a_mean_is_a_mean(values: list[float]) -> None:
    assert kaplan_meier_mean(values, []) == pytest.approx(math.fsum(values) / len(values))
    assert ros_mean(values, []) == pytest.approx(math.fsum(values) / len(values))


@given(
    st.lists(st.floats(0.1, 100), min_size=2, max_size=12),
    st.lists(st.floats(0.1, 100), min_size=1, max_size=12),
)
def test_a_mean_with_bounds_lies_between_nothing_and_the_bounds(
    found: list[float], bounds: list[float]
) -> None:
    n = len(found) + len(bounds)
    mean = kaplan_meier_mean(found, bounds)
    assert math.fsum(found) / n - 1e-9 <= mean <= (math.fsum(found) + math.fsum(bounds)) / n + 1e-9


@pytest.mark.parametrize("seed", range(5))
def test_the_regression_finds_the_law_behind_the_bounds(seed: int) -> None:
    """400 normal values of mean 5 and deviation 2, those below 4 or 5 not detected: within four standard errors."""
    chance = random.Random(seed)
    values = [(chance.gauss(5, 2), chance.choice([4.0, 5.0])) for _ in range(400)]
    found = [value for value, limit in values if value >= limit]
    fitted = ros(found, [limit for value, limit in values if value < limit])
    assert fitted.mean == pytest.approx(5, abs=4 * 2 / 400**0.5 * 1.5)
    assert fitted.sigma == pytest.approx(2, abs=4 * 2 / 800**0.5 * 1.5)


@pytest.mark.parametrize(("found", "bounds"), [([], [1.0]), ([1.0], [2.0]), ([1.0, 1.0], [])])
def test_a_line_needs_two_values(found: list[float], bounds: list[float]) -> None:
    with pytest.raises(ValueError, match="two unlike"):
        ros(found, bounds)


# --- run rules -----------------------------------------------------------------------------------------------------------


def called(values: Sequence[float]) -> dict[str, set[int]]:
    """The points that take part in each rule that is broken."""
    out: dict[str, set[int]] = {}
    for call in calls([Spot(value, value) for value in values]):
        out.setdefault(call.rule, set()).update(call.by)
    return out


@pytest.mark.parametrize(
    ("values", "expected"),
    [
        # X10, shewhart 0.1.1 (library): series in standard deviations -> positions from 0
        ([0, 0.5, 3.2, -0.2], {"1": {2}}),
        ([0, 3.0, 0], {}),
        ([0, 2.1, 0.5, 2.2, 0], {"2": {1, 3}}),
        ([0, 2.1, 0.5, -2.2, 0], {}),
        ([1.2, 1.3, 0.2, 1.4, 1.1], {"3": {0, 1, 3, 4}}),
        ([0.1] * 8, {"4": set(range(8))}),
        ([0.1] * 7, {}),
        ([-0.5, -0.3, -0.1, 0.1, 0.3, 0.5], {}),
        ([0.2, -0.2] * 7, {}),
        ([(x - 50.81) / (1.8778 / 1.128) for x in X_DATA], {}),
    ],
)
def test_which_points_break_which_rule(values: list[float], expected: dict[str, set[int]]) -> None:
    assert called(values) == expected
    assert called([-value for value in values]) == expected


def test_a_bound_counts_only_where_it_surely_lies() -> None:
    below, above = Spot(-math.inf, 3.5), Spot(-3.5, math.inf)
    assert calls([below]) == calls([above]) == []
    low = Spot(-math.inf, -3.5)
    assert calls([low]) == [Call("1", 0, (0,))]
    assert calls([Spot(2.5, 2.5), below, Spot(2.5, 2.5)]) == [Call("2", 2, (0, 2))]
    assert not calls([*[Spot(0.5, 0.5)] * 7, below])
    assert calls([*[Spot(-0.5, -0.5)] * 7, Spot(-math.inf, -0.1)]) == [Call("4", 7, tuple(range(8)))]
    assert not calls([*[Spot(0.5, 0.5)] * 4, None, *[Spot(0.5, 0.5)] * 4])


def zones() -> list[float]:
    """The lines between which it does not matter to the rules where a point lies."""
    return [-math.inf, -3, -2, -1, 0, 1, 2, 3, math.inf]


def run_length(names: Sequence[str], shift: float = 0.0) -> float:
    """Mean points until a rule calls, exactly: a Markov chain over what the last seven points have left."""
    rules = [rule for rule in run_rules() if rule.name in names]
    chances = [
        NormalDist(shift).cdf(high) - (NormalDist(shift).cdf(low) if low > -math.inf else 0.0)
        if high < math.inf
        else 1 - NormalDist(shift).cdf(low)
        for low, high in itertools.pairwise(zones())
    ]
    middles = [-3.5, -2.5, -1.5, -0.5, 0.5, 1.5, 2.5, 3.5]
    keys = [(rule, side) for rule in rules for side in (1, -1)]

    def after(state: tuple[tuple[bool, ...], ...], value: float) -> tuple[tuple[bool, ...], ...] | None:
        out = []
        for (rule, side), history in zip(keys, state, strict=True):
            now = (*history, side * value > rule.beyond)
            if sum(now[-rule.of :]) >= rule.count and now[-1]:
                return None
            kept = now[-(rule.of - 1) :] if rule.of > 1 else ()
            if rule.count == rule.of and rule.of > 1:  # a run: what lies before its last break is forgotten
                last = max((place for place, hit in enumerate(kept) if not hit), default=-1)
                kept = tuple(place > last for place in range(len(kept)))
            out.append(kept)
        return tuple(out)

    start = tuple((False,) * (rule.of - 1) for rule, _ in keys)
    index, todo, edges = {start: 0}, [start], []
    while todo:
        state = todo.pop()
        for chance, value in zip(chances, middles, strict=True):
            following = after(state, value)
            if following is not None:
                if following not in index:
                    index[following] = len(index)
                    todo.append(following)
                edges.append((index[state], index[following], chance))
    matrix = np.eye(len(index))
    for row, column, chance in edges:
        matrix[row, column] -= chance
    return float(np.linalg.solve(matrix, np.ones(len(index)))[0])


TOLD = rows("run_rules")


@pytest.mark.parametrize(
    ("names", "expected"),
    # X7 (derived; 370.4 and 91.75 as Champ and Woodall 1987, from memory)
    [("1", 370.40), ("1 2", 225.44), ("1 3", 166.05), ("1 4", 152.73), ("1 2 3", 132.89), ("1 2 3 4", 91.75)],
)
def test_run_lengths_are_those_of_an_exact_chain(names: str, expected: float) -> None:
    assert run_length(names.split()) == pytest.approx(expected, abs=0.01)
    assert TOLD["run_length"][names] == expected


@pytest.mark.parametrize(("names", "expected"), [("1", 43.89), ("1 2 3 4", 9.22)])
def test_run_lengths_after_a_shift(names: str, expected: float) -> None:
    """X8 (derived)."""
    assert run_length(names.split(), 1.0) == pytest.approx(expected, abs=0.01)
    assert TOLD["shifted"][names] == expected


def until_a_call(chance: random.Random) -> int:
    """Points of a simulated row until the program itself calls."""
    row: list[Spot] = []
    for count in itertools.count(1):
        value = chance.gauss(0, 1)
        row = [*row[-7:], Spot(value, value)]
        if any(call.at == len(row) - 1 for call in calls(row)):
            return count
    raise AssertionError


def test_the_program_calls_as_often_as_the_chain_says() -> None:
    """500 rows; the mean run length of 91.75 has a standard error of about 4."""
    chance = random.Random(20)
    found = [until_a_call(chance) for _ in range(500)]
    assert sum(found) / len(found) == pytest.approx(91.75, abs=4 * stdev(found) / 500**0.5)


def ewma_run_length(shift: float, weight: float = 0.2, width: float = 3.0, states: int = 301) -> float:
    """Brook and Evans (1972): the weighted mean as a chain of intervals between its limits."""
    reach = width * (weight / (2 - weight)) ** 0.5
    step = 2 * reach / states
    middles = -reach + step * (np.arange(states) + 0.5)
    cdf = np.vectorize(NormalDist(shift).cdf)
    ends = (-reach + step * np.arange(states + 1))[None, :]
    chances = np.diff(cdf((ends - (1 - weight) * middles[:, None]) / weight), axis=1)
    return float(np.linalg.solve(np.eye(states) - chances, np.ones(states))[states // 2])


def cusum_run_length(shift: float, slack: float = 0.5, decision: float = 5.0, states: int = 300) -> float:
    """The same for one side of the cumulative sum."""
    step = 2 * decision / (2 * states - 1)
    cdf = np.vectorize(NormalDist(shift).cdf)
    place = np.arange(states)
    highs = cdf((place[None, :] - place[:, None] + 0.5) * step + slack)
    lows = cdf((place[None, :] - place[:, None] - 0.5) * step + slack)
    chances = highs - lows
    chances[:, 0] = highs[:, 0]
    return float(np.linalg.solve(np.eye(states) - chances, np.ones(states))[0])


def test_run_lengths_of_the_weighted_mean_and_the_cumulative_sum() -> None:
    """One side of the sum, 0.5 and 5: 930 unchanged, 10.4 after a shift of one (from memory of the usual tables)."""
    told = TOLD["others"]
    assert ewma_run_length(0) == pytest.approx(told["weighted mean"]["unchanged"], rel=2e-3)
    assert ewma_run_length(1) == pytest.approx(told["weighted mean"]["shifted"], abs=0.1)
    high, low = cusum_run_length(0), cusum_run_length(0)
    assert high == pytest.approx(930, rel=5e-3)
    assert 1 / (1 / high + 1 / low) == pytest.approx(told["cumulative sum"]["unchanged"], rel=2e-3)
    shifted = 1 / (1 / cusum_run_length(1) + 1 / cusum_run_length(-1))
    assert shifted == pytest.approx(told["cumulative sum"]["shifted"], abs=0.1)
