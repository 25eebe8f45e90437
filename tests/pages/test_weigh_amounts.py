"""Amounts of a weigh sheet: none below zero, three figures at least, as many decimals as the scale shows."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from generator.ledger.sheet import to_weigh
from generator.pages.weigh import settings_view, sheet
from generator.pages.weigh_text import sheet_text
from generator.pages.weigh_words import grams, kilograms, litres
from generator.pages.words import Shown, step_decimals
from generator.units import quantity
from tests.ledger.test_dose import B3, FULL, changes, log_with
from tests.ledger.test_pretreatment import DONE, PLANNED, RULE
from tests.logbook_files import checked

METRIC = {"volume": "L", "mass": "kg", "temperature": "°C", "pressure": "bar"}


def text_of(tmp_path: Path, batch: str, rule: str = FULL) -> str:
    log = log_with(tmp_path, batch, rule)
    told = sheet(to_weigh(log, log.planned["b3"]), settings_view(log.settings))
    return sheet_text(told, "Shed")


def lines(text: str) -> list[str]:
    return [" ".join(line.split()) for line in text.splitlines()]


@pytest.mark.parametrize("readings", ["[3 mL]", "[6 mL]"])
def test_a_titration_below_the_acid_put_in_prints_no_amount_below_zero(readings: str, tmp_path: Path) -> None:
    done = DONE.replace("[9 mL]", readings).replace("  temperature", "  acid_drained: false\n  temperature")
    text = text_of(tmp_path, PLANNED + done, RULE)
    assert "\u2212" not in text and not re.search(r"\s-\d", text)
    assert "found less acid than the mineral acid put in" in text
    assert not any(line.startswith("to neutralise free fatty acid") for line in lines(text))
    assert any(line.startswith("to neutralise the oil's acid") for line in lines(text))


def test_an_acid_value_that_rose_prints_no_amount_below_zero(tmp_path: Path) -> None:
    done = DONE.replace("[9 mL]", "[25 mL]").replace("  temperature", "  acid_drained: true\n  temperature")
    text = text_of(tmp_path, PLANNED + done, RULE)
    assert "\u2212" not in text
    assert "water it makes unknown" in lines(text)


def test_a_trial_in_a_jar_keeps_three_figures(tmp_path: Path) -> None:
    """20 mL of oil at 2.5 g/L of KOH by titration and 7 g/L, both over 90 %: 56 mg and 156 mg; derived."""
    batch = B3.replace("100 L at 15 °C", "20 mL at 15 °C")
    found = lines(text_of(tmp_path, batch))
    assert any(line.startswith("to neutralise the oil's acid 0.0556 g") for line in found)
    assert any(line.startswith("base rate 0.156 g") for line in found)
    assert any(line.startswith("to weigh, all stages 0.211 g") for line in found)
    assert any("0.00441 L" in line for line in found)  # 22 % over 99.8 %
    assert any("The scale shows 5 g, more than 5 % of it" in line for line in found)


def test_what_the_scale_can_show_is_told_nothing(tmp_path: Path) -> None:
    assert "The scale shows" not in text_of(tmp_path, B3)


@pytest.mark.parametrize(
    ("step", "value", "shown"),
    [
        ("5 g", 1055.6, "1,056 g"),
        ("5 g", 27.34, "27.3 g"),
        ("5 g", 2.734, "2.73 g"),
        ("5 g", 0.05561, "0.0556 g"),
        ("0.1 g", 1055.62, "1,055.6 g"),
        ("0.01 g", 27.345, "27.34 g"),
        ("10 mg", 278.0, "278.00 g"),
        ("1 kg", 27.34, "27.3 g"),
    ],
)
def test_grams_follow_the_scale_and_keep_three_figures(step: str, value: float, shown: str) -> None:
    view = Shown(METRIC, "EUR", 15.0, scale_decimals=step_decimals(quantity(step, ("mass",))))
    assert grams(view, value).replace("\u202f", " ") == shown


def test_an_amount_below_zero_is_none() -> None:
    view = Shown(METRIC, "EUR", 15.0)
    assert grams(view, -0.4) == kilograms(view, -1.0) == litres(view, -2.0) == "unknown"
    assert kilograms(view, 0.01234).replace("\u202f", " ") == "0.0123 kg"
    assert litres(view, 22.04).replace("\u202f", " ") == "22.0 L"


def test_the_note_about_the_rule_is_for_what_was_written(tmp_path: Path) -> None:
    written = B3.replace("[meoh-1]", "[{lot: meoh-1, volume: 30 L at 15 °C}]")
    assert "amounts written in the plan exceed the rule" in text_of(tmp_path / "a", written)
    weak = B3.replace("koh-1", "methylate-1").replace("2.5 mL", "12 mL")
    rule = FULL.replace("7 g/L, of: KOH", "40 g/L, of: NaOCH3")
    text = " ".join(text_of(tmp_path / "b", weak, rule.replace("22 %", "10 %")).split())
    assert "methanol that comes with the catalyst alone exceeds the rule" in text
    assert "amounts written" not in text


def test_a_titrant_that_used_nothing_lacks_no_purity(tmp_path: Path) -> None:
    """The phthalate took no more than the blank: the error keeps the sheet back, and the reason is no lot's purity."""
    standard = "standardised: {phthalate: 0.2 g, titrant: 0.1 mL, blank: 0.1 mL}"
    batch = B3.replace("pure: true", standard)
    root = tmp_path / "x"
    root.mkdir()
    log = checked(root, changes(batch)).log
    assert log is not None
    missing = to_weigh(log, log.planned["b3"]).dose.missing
    assert missing == ("titrant used on the phthalate beyond the blank ('standardised' under 'titrant')",)
