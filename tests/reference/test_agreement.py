"""The middle of differences and the sign test, against the binomial law of a library."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from generator.formulas.agreement import count_p, median_interval, sign_test_p

from .case import Case, each

LIBRARY = ("SciPy 1.17.1", "stats.binomtest, two-sided, one half")
ORDER = ("SciPy 1.17.1", "stats.quantile_test, confidence interval of the median")
X_DATA = [49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1]


def low(values: list[float]) -> float:
    return median_interval(values).low


def high(values: list[float]) -> float:
    return median_interval(values).high


CASES = [
    Case("7 of 8", sign_test_p, {"above": 7, "below": 1}, 0.0703125, 1e-12, "F", *LIBRARY, "library"),
    Case("6 of 6", sign_test_p, {"above": 0, "below": 6}, 0.03125, 1e-12, "F", *LIBRARY, "library"),
    Case(
        "0 of 2",
        count_p,
        {"hits": 0, "misses": 2, "share": 0.8},
        0.08,
        1e-12,
        "F",
        "binomial law",
        "twice 0.2 times 0.2",
        "derived",
    ),
    Case(
        "2 of 3",
        count_p,
        {"hits": 2, "misses": 1, "share": 0.8},
        0.976,
        1e-12,
        "F",
        "binomial law",
        "twice 1 less 0.8 cubed",
        "derived",
    ),
    Case(
        "20 of 20",
        count_p,
        {"hits": 20, "misses": 0, "share": 0.8},
        0.02305843009213694,
        1e-12,
        "F",
        "binomial law",
        "twice 0.8 to the 20th",
        "derived",
    ),
    Case(
        "at one half",
        count_p,
        {"hits": 7, "misses": 1, "share": 0.5},
        0.0703125,
        1e-12,
        "F",
        *LIBRARY,
        "library",
    ),
    Case("5 of 10", sign_test_p, {"above": 5, "below": 5}, 1.0, 1e-12, "F", *LIBRARY, "library"),
    Case("X-data, low", low, {"values": X_DATA}, 47.8, 1e-12, "F", *ORDER, "library"),
    Case("X-data, high", high, {"values": X_DATA}, 52.6, 1e-12, "F", *ORDER, "library"),
]


@each(CASES)
def test_reference(case: Case) -> None:
    case.check()


@given(st.integers(0, 40), st.integers(0, 40))
def test_the_sign_test_is_the_librarys(above: int, below: int) -> None:
    if above + below:
        expected = float(stats.binomtest(above, above + below).pvalue)
        assert sign_test_p(above, below) == pytest.approx(expected, rel=1e-9)


@given(st.lists(st.floats(-100, 100), min_size=6, max_size=60))
def test_the_interval_is_the_librarys(values: list[float]) -> None:
    found = median_interval(values)
    ends = stats.quantile_test(values, q=0, p=0.5).confidence_interval(0.95)
    assert (found.low, found.high) == (pytest.approx(float(ends.low)), pytest.approx(float(ends.high)))


def test_with_fewer_than_six_there_is_no_interval() -> None:
    """Five values hold the median between them in 1 - 2 / 32 = 93.75 % (derived)."""
    assert 1 - 2 * 0.5**5 < 0.95 <= 1 - 2 * 0.5**6
    with pytest.raises(ValueError, match="six values"):
        median_interval([1.0, 2, 3, 4, 5])
    assert math.isclose(median_interval([1.0, 2, 3, 4, 5, 6]).high, 6)
