"""What is written anew without guessing, and what is left alone since it can be read in two ways."""

from __future__ import annotations

import pytest

from generator.mending import (
    coded,
    dated,
    either_day,
    pointed,
    same_word,
    with_point,
    without_tabs,
    written_anew,
    yes_or_no,
)


@pytest.mark.parametrize(
    ("text", "anew"),
    [
        ("1,6 mL", "1.6 mL"),
        ("190,5 L at 20,5 °C", "190.5 L at 20.5 °C"),
        ("0,125 L", "0.125 L"),
        ("1234,567 kg", "1234.567 kg"),
        ("1,234 L", ""),
        ("12,000 EUR", ""),
        ("1,2,3 mL", ""),
        ("1,234.5 L", ""),
        ("1.234,5 L", ""),
        (",5 mL", ""),
    ],
)
def test_a_comma_becomes_a_point_where_it_can_be_nothing_else(text: str, anew: str) -> None:
    assert pointed(text) == anew


def test_where_a_comma_can_part_thousands_both_are_named() -> None:
    assert with_point("1,234 L") == "write a decimal point: 1.234 L, or 1234 L if the comma parts thousands"
    assert with_point("1,6 mL") == "write a decimal point: 1.6 mL"


@pytest.mark.parametrize(
    ("text", "anew"),
    [
        ("2026-3-4", "2026-03-04"),
        ("2026/03/04", "2026-03-04"),
        ("2026.3.14", "2026-03-14"),
        ("2026-03-14 9:10", "2026-03-14T09:10"),
        ("2026/3/14T09:10", "2026-03-14T09:10"),
        ("3.4.2026", ""),
        ("2026-03", ""),
        ("26-03-04", ""),
        ("2026-03/04", ""),
        ("2026-03-14 9.10", ""),
        ("2026-03-14 noon", ""),
    ],
)
def test_a_date_is_written_anew_where_its_year_comes_first(text: str, anew: str) -> None:
    assert dated(text) == anew


def test_a_day_that_can_be_two_is_named_as_both() -> None:
    assert either_day("3.4.2026") == "write 2026-04-03 if the day comes first, 2026-03-04 if the month does"
    assert either_day("30.4.2026") == "write 2026-04-30 if the day comes first"
    assert either_day("30/40/2026") == "check month and day: year-month-day"
    assert either_day("spring") == "write year-month-day, such as 2026-03-14"


@pytest.mark.parametrize(
    ("text", "anew"),
    [
        ("0.38 €/L", "0.38 EUR/L"),
        ("0.38 eur/L", "0.38 EUR/L"),
        ("12 €", "12 EUR"),
        ("3 $/L", ""),
        ("3 £", ""),
    ],
)
def test_a_currency_is_written_by_its_letters_where_it_is_one(text: str, anew: str) -> None:
    assert coded(text) == anew


@pytest.mark.parametrize(
    ("word", "found"),
    [
        ("Volume", "volume"),
        ("Acid-Value", "acid value"),
        ("ACID_VALUE", "acid value"),
        ("volume", ""),
        ("volum", ""),
    ],
)
def test_a_word_differs_in_its_capitals_alone(word: str, found: str) -> None:
    assert same_word(word, ["volume", "acid value", "mass"]) == found


def test_of_two_such_words_none_is_taken() -> None:
    assert same_word("OIL-1", ["oil-1", "Oil-1"]) == ""


def test_yes_and_no() -> None:
    assert [yes_or_no(word) for word in ("Yes", "NO", "True", "maybe", "y")] == [
        "true",
        "false",
        "true",
        "",
        "",
    ]


@pytest.mark.parametrize(
    ("code", "text", "anew"),
    [
        ("quantity-number", ".5 mL", "0.5 mL"),
        ("quantity-number", "0300 L", "300 L"),
        ("quantity-number", "100 L", ""),
        ("quantity-number", "1e3 L", ""),
        ("quantity-unit", "190", ""),
        ("quantity-gallon", "50 gal", ""),
    ],
)
def test_only_what_leaves_no_doubt_is_written_anew(code: str, text: str, anew: str) -> None:
    assert written_anew(code, text) == anew


@pytest.mark.parametrize(
    ("text", "anew"),
    [
        ("a:\n\tb: 1\n\tc:\n\t\td: 2\n", "a:\n  b: 1\n  c:\n    d: 2\n"),
        ("a:\n\tb: 1\nc:\n  d: 2\n", ""),
        ("a:\n \tb: 1\n", ""),
        ("a:\n  b: 1\n", ""),
    ],
)
def test_tabs_become_blanks_where_they_are_all_there_is(text: str, anew: str) -> None:
    assert without_tabs(text) == anew
