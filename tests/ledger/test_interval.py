"""Sums with what is known only between two ends."""

from __future__ import annotations

import pytest

from generator.ledger.interval import Interval


def test_a_point_has_one_end() -> None:
    assert Interval(3, 3).is_point
    assert not Interval(0, 3).is_point


def test_the_difference_takes_the_far_ends() -> None:
    assert Interval(100, 120).minus(Interval(10, 30)) == Interval(70, 110)


def test_the_difference_of_points_is_a_point() -> None:
    assert Interval(100, 100).minus(Interval(40, 40)) == Interval(60, 60)


def test_a_bed_does_not_give_soap_back() -> None:
    assert Interval(10, 20).minus(Interval(15, 40)) == Interval(0, 5)
    assert Interval(10, 10).minus(Interval(40, 40)) == Interval(0, 0)


def test_both_ends_are_multiplied() -> None:
    assert Interval(2, 5).times(3) == Interval(6, 15)
    assert Interval(2, 5).times(0) == Interval(0, 0)


@pytest.mark.parametrize(("value", "held"), [(1, 2), (2, 2), (3, 3), (5, 5), (9, 5)])
def test_a_value_is_held_between_the_ends(value: float, held: float) -> None:
    assert Interval(2, 5).held(value) == held


def test_the_middle() -> None:
    assert Interval(2, 5).middle == 3.5
