"""What a workshop always uses, and what lies far from it."""

from __future__ import annotations

import pytest

from generator.validate.checks.habits import usual


@pytest.mark.parametrize(
    ("values", "expected"),
    [
        ("aaaaa", None),  # five are no habit
        ("aaaaaa", "a"),
        ("aaaaab", "a"),
        ("aaaabb", None),
        ("aaaaaabb", None),  # three in four, and no more
        ("aaaaaaabb", "a"),
        ("abbbbbb", "b"),
    ],
)
def test_a_habit_is_more_than_three_in_four_of_six_or_more(values: str, expected: str | None) -> None:
    assert usual(values) == expected
