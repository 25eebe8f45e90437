"""What a titrated sample says of a content, as the interval that a limit is held against."""

from __future__ import annotations

import math

import pytest

from generator.ledger.titrated import titrated


def row(detected: str | None, **known: float) -> dict[str, object]:
    names = (
        "soap_mg_per_kg",
        "u_soap_mg_per_kg",
        "soap_low_mg_per_kg",
        "soap_high_mg_per_kg",
        "soap_limit_mg_per_kg",
    )
    return {**dict.fromkeys(names), "soap_detected": detected, **known}


def test_none_was_titrated() -> None:
    assert titrated(row(None), "soap") is None


def test_a_content_reaches_two_standard_uncertainties_to_both_sides() -> None:
    """A coverage factor of 2: JCGM 100:2008, 6.3.3 (from memory)."""
    found = titrated(row("yes", soap_mg_per_kg=40.0, u_soap_mg_per_kg=3.0), "soap")
    assert found is not None and (found.where.low, found.where.high) == (34.0, 46.0)


@pytest.mark.parametrize(
    ("detected", "known", "expected"),
    [
        ("no", {"soap_limit_mg_per_kg": 5.0, "soap_high_mg_per_kg": 9.0}, (-math.inf, 5.0)),
        ("at most", {"soap_limit_mg_per_kg": 5.0, "soap_high_mg_per_kg": 9.0}, (-math.inf, 9.0)),
        ("at least", {"soap_low_mg_per_kg": 7.0}, (7.0, math.inf)),
        ("between", {"soap_low_mg_per_kg": 7.0, "soap_high_mg_per_kg": 9.0}, (7.0, 9.0)),
    ],
)
def test_a_bound_is_open_on_its_other_side(
    detected: str, known: dict[str, float], expected: tuple[float, float]
) -> None:
    found = titrated(row(detected, **known), "soap")
    assert found is not None and (found.where.low, found.where.high) == expected


@pytest.mark.parametrize(
    ("detected", "known", "text"),
    [
        ("yes", {"soap_mg_per_kg": 1894.2, "u_soap_mg_per_kg": 60.0}, "1890 mg/kg"),
        ("no", {"soap_limit_mg_per_kg": 136.4}, "< 140 mg/kg"),
    ],
)
def test_a_high_content_is_told_without_an_exponent(
    detected: str, known: dict[str, float], text: str
) -> None:
    found = titrated(row(detected, **known), "soap")
    assert found is not None and found.text == text
