"""The test of two groups by their ranks against a library, on fixed groups and on any."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from generator.formulas.statistics import rank_sum_z, two_sided_p

from .case import Case, each

LIBRARY = ("scipy.stats.mannwhitneyu 1.17.1", "asymptotic, without continuity correction")
EARLIER = [0.61, 0.64, 0.58, 0.66, 0.60, 0.63, 0.62, 0.59, 0.65, 0.61]
LATER = [0.66, 0.69, 0.63, 0.70, 0.64, 0.68, 0.61, 0.67, 0.71, 0.65]
GROUPS = st.lists(st.integers(0, 20).map(float), min_size=2, max_size=15)


def p_of(before: list[float], after: list[float]) -> float:
    return two_sided_p(rank_sum_z(before, after))


CASES = [
    Case("rank sum", rank_sum_z, {"before": EARLIER, "after": LATER}, 2.729565808101433, 1e-12, "F", *LIBRARY, "library"),
    Case("rank sum p", p_of, {"before": EARLIER, "after": LATER}, 0.006341779018459051, 1e-12, "F", *LIBRARY, "library"),
]  # fmt: skip


@each(CASES)
def test_reference(case: Case) -> None:
    case.check()


def test_two_groups_of_one_value_are_refused() -> None:
    with pytest.raises(ValueError, match="not all alike"):
        rank_sum_z([1.0, 1.0], [1.0])


@given(GROUPS, GROUPS)
def test_any_two_groups_are_as_the_library_has_them(before: list[float], after: list[float]) -> None:
    """Source: scipy.stats.mannwhitneyu; library."""
    if len({*before, *after}) < 2:
        return
    expected = stats.mannwhitneyu(after, before, use_continuity=False, method="asymptotic").pvalue
    assert p_of(before, after) == pytest.approx(expected, rel=1e-9, abs=1e-12)
    assert rank_sum_z(after, before) == pytest.approx(-rank_sum_z(before, after))
