"""A product's difference shared between its factors, against the two orders in which a textbook tells it."""

from __future__ import annotations

import pytest

from generator.formulas.bridge import effect_of_three, effect_of_two

from .case import Case, each

# 185,000 lb at 6.00 a pound were planned, 183,200 lb at 5.80 were used: together 47,440 less.
EXERCISE = (
    "exercise on direct materials variances of an accounting course",
    "185,000 lb at 6.00, 183,200 lb at 5.80",
)
BOTH = {"before": 6.00, "after": 5.80, "other_before": 185_000, "other_after": 183_200}
AMOUNT = {"before": 185_000, "after": 183_200, "other_before": 6.00, "other_after": 5.80}


def both_effects() -> float:
    return effect_of_two(**BOTH) + effect_of_two(**AMOUNT)


CASES = [
    Case("BR1", both_effects, {}, -47_440, 1e-6, "R", *EXERCISE, "secondary copy"),
    Case(
        "BR2", effect_of_two, BOTH, (-36_640 - 37_000) / 2, 1e-6, "R",
        *EXERCISE, "derived",
    ),
    Case(
        "BR3", effect_of_three,
        {"before": 6.00, "after": 5.80, "second_before": 185_000, "second_after": 183_200, "third_before": 1, "third_after": 1},
        effect_of_two(**BOTH), 1e-6, "R", "a third factor that stays as it is", "changes nothing", "derived",
    ),
]  # fmt: skip


@each(CASES)
def test_reference(case: Case) -> None:
    case.check()


def test_the_even_share_lies_between_the_two_orders() -> None:
    """Told first, the price did 37,000; told last, by the amount used, the 36,640 of the exercise."""
    assert -37_000 < effect_of_two(**BOTH) < -36_640


@pytest.mark.parametrize("c", [(1.0, 1.0), (2.0, 3.0), (0.0, 4.0)])
def test_three_effects_add_up(c: tuple[float, float]) -> None:
    a, b = (6.00, 5.80), (185.0, 183.2)
    found = effect_of_three(*a, *b, *c) + effect_of_three(*b, *a, *c) + effect_of_three(*c, *a, *b)
    assert found == pytest.approx(a[1] * b[1] * c[1] - a[0] * b[0] * c[0], abs=1e-9)
