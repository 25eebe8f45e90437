"""The ends of a slope and the agreement of two readings, against a library."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import combinations, permutations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from generator.formulas.statistics import kendall_z, mann_kendall_z, theil_sen_ends, two_sided_p

from .case import Case, each

ACIDS = [1.0, 1.0, 1.5, 2.0, 2.5, 2.5, 3.0, 3.5, 4.0, 5.0]
YIELDS = [97.0, 96.0, 96.0, 95.5, 96.2, 94.0, 94.5, 94.0, 93.0, 92.5]
LIBRARY = ("scipy 1.17.1", "stats.kendalltau, method asymptotic")
Z = 1.959963984540054


def p_of(xs: list[float], ys: list[float]) -> float:
    return two_sided_p(kendall_z(xs, ys))


CASES = [
    Case("tied in both", p_of, {"xs": ACIDS, "ys": YIELDS}, 0.0027096, 1e-6, "F", *LIBRARY, "library"),
]  # fmt: skip


def differs(rows: list[tuple[int, int]]) -> bool:
    """Neither of the two is alike in all."""
    return len({x for x, _ in rows}) > 1 and len({y for _, y in rows}) > 1


def together(xs: Sequence[float], ys: Sequence[float]) -> int:
    """Pairs that rise together less those that do not."""
    pairs = combinations(zip(xs, ys, strict=True), 2)
    signs = [(c - a) * (d - b) for (a, b), (c, d) in pairs]
    return sum((sign > 0) - (sign < 0) for sign in signs)


ROWS = st.lists(st.tuples(st.integers(0, 9), st.integers(0, 9)), min_size=4, max_size=25).filter(differs)


@each(CASES)
def test_reference(case: Case) -> None:
    case.check()


@given(ROWS)
def test_agreement_is_that_of_scipy(rows: list[tuple[int, int]]) -> None:
    """scipy.stats.kendalltau by the normal law (library): 1e-9."""
    xs, ys = ([float(one) for one in row] for row in zip(*rows, strict=True))
    assert p_of(xs, ys) == pytest.approx(stats.kendalltau(xs, ys, method="asymptotic").pvalue, abs=1e-9)
    assert kendall_z(ys, xs) == pytest.approx(kendall_z(xs, ys))


@given(st.permutations(range(12)), st.lists(st.integers(0, 9), min_size=12, max_size=12))
def test_the_ends_are_those_of_scipy(places: list[int], row: list[int]) -> None:
    """scipy.stats.theilslopes at 95 % (library): the same slopes. Its variance is Sen's, which with ties in both can fall below zero."""
    xs, ys = [float(one) for one in places], [float(one) for one in row]
    found = stats.theilslopes(ys, xs, alpha=0.95)
    ends = theil_sen_ends(xs, ys, Z)
    assert (ends.low, ends.high) == pytest.approx((found.low_slope, found.high_slope))


@given(st.lists(st.tuples(st.integers(0, 2), st.integers(0, 2)), min_size=4, max_size=6).filter(differs))
def test_the_ends_lie_where_all_orders_put_them(rows: list[tuple[int, int]]) -> None:
    """The spread of S over all orders of one of the rows, counted (derived): ties in both are in it."""
    xs, ys = ([float(one) for one in row] for row in zip(*rows, strict=True))
    sums = [together(xs, order) for order in permutations(ys)]
    spread = math.sqrt(sum(one * one for one in sums) / len(sums))
    slopes = sorted(
        (d - b) / (c - a) for (a, b), (c, d) in combinations(zip(xs, ys, strict=True), 2) if a != c
    )
    places = [(len(slopes) - Z * spread) / 2 - 1, (len(slopes) + Z * spread) / 2]
    low, high = (slopes[min(max(round(place), 0), len(slopes) - 1)] for place in places)
    ends = theil_sen_ends(xs, ys, Z)
    assert (ends.low, ends.high) == (low, high)


def test_one_batch_that_differs_has_ends() -> None:
    """Nine batches alike and one sourer and lower: all nine slopes are the one there is (derived)."""
    ends = theil_sen_ends([1.0] * 9 + [2.0], [96.0] * 9 + [95.0], Z)
    assert (ends.low, ends.high) == (-1.0, -1.0)


@given(st.lists(st.integers(0, 20), min_size=3, max_size=30).filter(lambda row: len(set(row)) > 1))
def test_with_time_it_is_mann_and_kendalls_without_its_step(row: list[int]) -> None:
    """A row in time has no ties in time; theirs is a step nearer to zero (law)."""
    values = [float(one) for one in row]
    assert abs(kendall_z([float(day) for day in range(len(row))], values)) >= abs(mann_kendall_z(values))


def test_what_is_alike_in_all_tells_nothing() -> None:
    with pytest.raises(ValueError, match="not all alike"):
        kendall_z([1.0, 1.0, 1.0], [1.0, 2.0, 3.0])
