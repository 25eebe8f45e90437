"""Amounts and examples in the units and the currency of a workshop."""

from __future__ import annotations

from decimal import Decimal
from pathlib import Path

import pytest

from generator.ledger.ledgers import Ledgers
from generator.records import Workshop
from generator.writing.batch import proposed_batch, text_of
from generator.writing.own_units import amount, example
from generator.writing.questions import questions
from tests.logbook_files import log_of

US = {"volume": "US gal", "mass": "lb", "temperature": "°F", "pressure": "psi"}
SETTINGS = "display: {volume: US gal, mass: lb, temperature: °F, pressure: psi}\n"


def settings(display: dict[str, str] | None = None, currency: str = "USD") -> Workshop:
    whole = {"format": "1", "title": "-", "currency": currency, "timezone": "UTC"}
    return Workshop.model_validate(whole | ({"display": display} if display else {}))


@pytest.mark.parametrize(
    ("told", "own"),
    [
        ("such as 190 L at 22 °C, or kg", "such as 50 US gal at 72 °F, or lb"),
        ("such as 1000 L", "such as 260 US gal"),
        ("price, such as 0.40 EUR/L or 82.00 EUR", "price, such as 0.40 USD/US gal or 82.00 USD"),
        ("in mL, mg/kg, g/L or 2.4 mL", "in mL, mg/kg, g/L or 2.4 mL"),
    ],
)
def test_an_example_is_carried_to_two_figures(told: str, own: str) -> None:
    """One US gallon is 3.785411784 L, one pound 0.45359237 kg exactly (NIST SP 811, published)."""
    assert example(told, settings(US)) == own
    assert example(told, settings(None, "EUR")) == told


def test_an_amount_is_carried_with_one_digit_more() -> None:
    assert amount(Decimal(166), "L", settings(US)) == "43.9 US gal"
    assert amount(Decimal(10), "kg", settings(US)) == "22.0 lb"
    assert amount(Decimal(166), "L", settings()) == "166 L"


def test_a_new_batch_and_its_questions_speak_the_units_of_the_logbook(tmp_path: Path) -> None:
    log = log_of(tmp_path, {"logbook.yaml": ("currency: EUR\n", f"currency: EUR\n{SETTINGS}")})
    day = log.now()
    found = proposed_batch(Ledgers(log), day)
    text = text_of("batch", found)
    assert "US gal}" in text and "17 US gal at 72 °F; or by mass in lb" in text
    assert " L" not in text.replace(" g/L", "")
    asked = [each.text for each in questions("batch", found.data, log.settings)]
    assert any("50 US gal at 72 °F" in each for each in asked)
