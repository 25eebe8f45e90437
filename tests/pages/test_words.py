"""A figure and its ± are written to the digit that the uncertainty allows."""

from __future__ import annotations

import pytest

from generator.pages.contents import titrated_text
from generator.pages.cost_figures import OLD_DAYS, aged
from generator.pages.words import Shown, plus_minus


@pytest.mark.parametrize(
    ("value", "standard", "unit", "text"),
    [
        (2.696, 0.096, "mg KOH/g", "2.70 ± 0.19 mg KOH/g"),
        (0.23, 0.02, "mg KOH/g", "0.23 ± 0.04 mg KOH/g"),
        (1894.2, 27.0, "g", "1,890 ± 50 g"),
        (512.9, 206.0, "mg/kg", "500 ± 400 mg/kg"),
        (97.39, 0.97, "%", "97.4 ± 1.9 %"),
        (97.39, 0.4999, "%", "97.4 ± 1.0 %"),  # 0.9998 rounds up to a new digit and keeps its place
        (-1.04, 1.5, "L", "−1 ± 3 L"),
        (0.0002, 0.00011, "kg", "0.00020 ± 0.00022 kg"),
        (868.0, 5.0, "g/mol", "868 ± 10 g/mol"),
        (99.4, 14.8, "%", "100 ± 30 %"),  # 29.6 is written 30
    ],
)
def test_both_end_at_the_same_place(value: float, standard: float, unit: str, text: str) -> None:
    assert plus_minus(value, standard, unit).replace("\u202f", " ") == text


def test_without_an_uncertainty_the_number_stands_alone() -> None:
    assert plus_minus(12.345, None, "kg", 1).replace("\u202f", " ") == "12.3 kg"
    assert plus_minus(12.345, 0.0, "kg", 1).replace("\u202f", " ") == "12.3 kg"
    assert plus_minus(None, 0.1, "kg") == "unknown"


def test_the_reach_is_carried_to_the_display_unit() -> None:
    view = Shown({"volume": "US gal", "mass": "lb", "temperature": "°F", "pressure": "psi"}, "USD", 15.5556)
    assert view.volume(189.27, 0, 1.1).replace("\u202f", " ") == "50.0 ± 0.6 US gal"
    assert view.weighed(1894.0, 27.0).replace("\u202f", " ") == "4.18 ± 0.12 lb"


def test_below_its_limit_a_titration_has_no_value() -> None:
    row = {
        "soap_feed_mg_per_kg": 68.0,
        "u_soap_feed_mg_per_kg": 22.0,
        "soap_feed_limit_mg_per_kg": 68.0,
        "soap_feed_detected": "no",
    }
    assert titrated_text(row, "soap_feed").replace("\u202f", " ") == "not detected, below 68 mg/kg"
    row |= {"soap_feed_detected": "yes", "soap_feed_mg_per_kg": 385.0}
    assert titrated_text(row, "soap_feed").replace("\u202f", " ") == "380 ± 40 mg/kg (detection limit 68)"


@pytest.mark.parametrize(
    ("told", "low", "high", "text"),
    [
        ("at least", 254.2, None, "at least 254 mg/kg"),
        ("at most", 0.0, 254.2, "at most 254 mg/kg"),
        ("between", 254.2, 381.0, "between 254 and 381 mg/kg"),
    ],
)
def test_a_bound_is_shown_as_a_bound(told: str, low: float, high: float | None, text: str) -> None:
    row = {
        "soap_feed_mg_per_kg": None,
        "u_soap_feed_mg_per_kg": None,
        "soap_feed_limit_mg_per_kg": 68.0,
        "soap_feed_detected": told,
        "soap_feed_low_mg_per_kg": low,
        "soap_feed_high_mg_per_kg": high,
    }
    assert titrated_text(row, "soap_feed").replace("\u202f", " ") == text


def test_an_age_is_told_from_so_many_days_on() -> None:
    assert aged("at the pump", "price of diesel", None) == "at the pump"
    assert aged("at the pump", "price of diesel", 1.0) == "at the pump; price of diesel 1 day old"
    assert aged("at the pump", "price of diesel", 89, OLD_DAYS) == "at the pump"
    assert aged("at the pump", "price of diesel", 90, OLD_DAYS) == "at the pump; price of diesel 90 days old"


def test_medium_is_told_in_the_units_of_the_logbook() -> None:
    """It was told in kilograms per 1000 litres in a logbook of pounds and gallons: 3 kg per 1000 L are 25.04 lb per 1000 US gal."""
    metric, american = (
        Shown({"mass": mass, "volume": volume}, "EUR", 15.0)
        for mass, volume in (("kg", "L"), ("lb", "US gal"))
    )
    assert (metric.per_thousand_number(3.0), metric.per_thousand_unit) == (3.0, "kg per 1000 L")
    assert american.per_thousand_number(3.0) == pytest.approx(3 / 0.45359237 * 3.785411784)
    assert american.per_thousand_unit == "lb per 1000 US gal"
    assert american.per_thousand_number(None) is None
