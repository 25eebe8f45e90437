"""What the page of oil says of its forecasts: counts by hand, and no more than so few can tell."""

from __future__ import annotations

from typing import Any

import pytest

from generator.pages.offer_score import score, score_table
from generator.pages.words import Shown

VIEW = Shown({"volume": "L", "mass": "kg", "temperature": "°C", "pressure": "bar"}, "EUR", 15.0)


def rows(*missed: tuple[float, str | None]) -> list[dict[str, Any]]:
    return [
        {"missed_by_per_l": off, "within": within, "holds_pct": 80.0, "guess_per_l": None}
        for off, within in missed
    ]


def guessed(*offs: tuple[float, float], single: float = 0.0) -> list[dict[str, Any]]:
    """Offers that came at 1.00: what the forecast and the plain guess were off by, `single` of it by a bill of the batch."""
    return [
        {
            **rows((off, "yes"))[0],
            "came_cost_per_l": 1.0,
            "guess_per_l": 1.0 - by_guess,
            "guess_median_per_l": 1.0 - 2 * by_guess,
            "missed_single_per_l": single,
            "came_single_per_l": single,
            "guess_without_per_l": 1.0 - by_guess,
        }
        for off, by_guess in offs
    ]


def test_a_plain_guess_that_erred_less_is_said_to_have() -> None:
    """Forecasts off by 0.10 and 0.06, the mean by 0.05 and 0.07: 0.080 against 0.060, nearer in one of two."""
    told = score(guessed((0.10, 0.05), (-0.06, -0.07)), VIEW)
    assert (
        "was off by 0.060\u202fEUR/L either way, their median by 0.120\u202fEUR/L, the forecasts by 0.080\u202fEUR/L"
        in told
    )
    assert "That mean erred no more than the forecasts on average, which were nearer in 1 of 2" in told


def test_forecasts_that_erred_less_are_said_to_have() -> None:
    assert "The forecasts erred less than that mean on average, and were nearer in 2 of 2" in score(
        guessed((0.02, 0.05), (-0.03, -0.07)), VIEW
    )


def test_without_single_bills_both_are_told_again() -> None:
    """Of 0.30 a bill was 0.25: 0.05. The guess, 0.40 too low of which 0.25 was that bill: 0.15."""
    told = score(guessed((0.30, 0.40), single=0.25), VIEW)
    assert "the forecasts were off by 0.050\u202fEUR/L and that mean by 0.150\u202fEUR/L" in told


def test_the_counts_and_the_means() -> None:
    """0.10 and -0.04: 0.03 on average, 0.07 either way."""
    told = score(rows((0.10, "no"), (-0.04, "yes")), VIEW)
    assert told.startswith("2 offers bought and used: ")
    assert "1 of 2 came within the range" in told
    assert "1 came dearer than what was to expect and 1 cheaper, by +0.030 on average" in told
    assert "0.070\u202fEUR/L either way" in told
    assert told.endswith("So few can tell nothing of how good the forecasts are.")


@pytest.mark.parametrize(
    ("hits", "misses", "told"),
    [(8, 4, "so few cannot tell (binomial test, p = 0.41)"),
     (4, 8, "The ranges are too narrow (binomial test, p = 0.001)"),
     (12, 0, "so few cannot tell (binomial test, p = 0.14)"),
     (20, 0, "The ranges are too wide (binomial test, p = 0.023)")],
)  # fmt: skip
def test_what_the_count_within_can_tell(hits: int, misses: int, told: str) -> None:
    """p by twice the smaller tail of the binomial law at four fifths (derived): of 20, 2 x 0.8^20 = 0.0231."""
    found = score(
        rows(*[(0.1, "yes"), (-0.1, "yes")] * 10)[:hits] + rows(*[(0.1, "no"), (-0.1, "no")] * 10)[:misses],
        VIEW,
    )
    assert told in found


@pytest.mark.parametrize(
    ("dearer", "cheaper", "told"),
    [(5, 7, "too low or too high so few cannot tell (sign test, p = 0.77)"),
     (10, 1, "Forecasts lie too low (sign test, p = 0.012)"),
     (1, 10, "Forecasts lie too high (sign test, p = 0.012)")],
)  # fmt: skip
def test_what_the_sides_can_tell(dearer: int, cheaper: int, told: str) -> None:
    """p by scipy.stats.binomtest 1.17.1: 0.7744, 0.01172 (library)."""
    found = score(rows(*[(0.1, "yes")] * dearer, *[(-0.1, "no")] * cheaper), VIEW)
    assert told in found


def test_one_without_a_range_counts_to_neither_side() -> None:
    assert "1 of 1 came within the range" in score(rows((0.1, "yes"), (0.1, None)), VIEW)


def test_a_range_that_does_not_say_how_often_it_holds_is_not_counted() -> None:
    few = [{**row, "holds_pct": None} for row in rows((0.1, "no"), (0.1, "no"))]
    assert "1 of 1 came within the range" in score([*rows((0.1, "yes")), *few], VIEW)


def test_before_one_was_used_there_is_no_score() -> None:
    assert score_table([{"missed_by_per_l": None}], VIEW) is None
