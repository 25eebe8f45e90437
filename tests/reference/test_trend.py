"""Mann and Kendall's test for a trend against a published example, a library, and values that a library gave."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from generator.formulas.statistics import mann_kendall_z, two_sided_p

from .case import Case, each

EPA = ("U.S. EPA QA/G-9S, example of the Mann-Kendall test, as quoted", "p. 109")
EPA_DATA = [10.0, 10, 10, 5, 10, 20, 18, 17, 15, 24, 15]
LIBRARY = ("pymannkendall 1.4.3", "original_test")
LONGLEY = [
    60323.0,
    61122,
    60171,
    61187,
    63221,
    63639,
    64989,
    63761,
    66019,
    67857,
    68169,
    66513,
    68655,
    69564,
    69331,
    70551,
]
X_DATA = [49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1]


def p_of(values: list[float]) -> float:
    return two_sided_p(mann_kendall_z(values))


CASES = [
    Case("X29", mann_kendall_z, {"values": EPA_DATA}, 1.685, 0.005, "R", *EPA, "secondary copy"),
    Case("X29 p", p_of, {"values": EPA_DATA}, 0.0919983, 1e-6, "F", *LIBRARY, "library"),
    Case("X26", mann_kendall_z, {"values": LONGLEY}, 4.8174093, 1e-6, "F", *LIBRARY, "library"),
    Case("X30", mann_kendall_z, {"values": X_DATA}, 2.3255107, 1e-6, "F", *LIBRARY, "library"),
    Case("X30 p", p_of, {"values": X_DATA}, 0.0200447, 1e-6, "F", *LIBRARY, "library"),
    Case("two tails", two_sided_p, {"z": 1.959963984540054}, 0.05, 1e-12, "F", "scipy.stats.norm", "ppf(0.975)", "library"),
]  # fmt: skip


@each(CASES)
def test_reference(case: Case) -> None:
    case.check()


@given(st.lists(st.integers(0, 20), min_size=3, max_size=30).filter(lambda row: len(set(row)) > 1))
def test_the_order_counts_as_in_a_rank_correlation_with_time(row: list[int]) -> None:
    """scipy.stats.kendalltau (library): its tau times the pairs untied is the rises less the falls."""
    values = [float(one) for one in row]
    n = len(values)
    tau = float(stats.kendalltau(range(n), values).statistic)
    pairs = n * (n - 1) / 2
    untied = pairs - sum(values.count(one) * (values.count(one) - 1) / 2 for one in set(values))
    rises = tau * math.sqrt(pairs * untied)
    z = mann_kendall_z(values)
    assert (z > 0) == (round(rises) > 1)
    assert mann_kendall_z(values[::-1]) == pytest.approx(-z)
    assert mann_kendall_z([3 * one + 7 for one in values]) == z
