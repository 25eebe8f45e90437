"""Acid behind a resin: predicted from the soap it exchanged, and held to what was measured."""

from __future__ import annotations

from pathlib import Path

import pytest

from generator.formulas.constants import molar_mass
from generator.ledger.acid import Acid, acid_of
from generator.ledger.ledgers import Ledgers
from tests.logbook_files import Changes, checked


def acid(parent: Path, changes: Changes) -> Acid:
    ledgers = checked(parent, changes).ledgers
    assert isinstance(ledgers, Ledgers)
    log = ledgers.log
    before = ledgers.facts["b1"].feed_acid_value_mg_koh_per_g
    return acid_of(log, log.batches["b1"], before, ledgers.columns.exchanged_mg_per_kg().get("b1"))


FEED = (
    "  volume: 98 L at 15 °C\n",
    "  volume: 98 L at 15 °C\n  acid_value: {value: 0.10 mg KOH/g, method: bench}\n",
)


def test_the_rise_is_the_soap_by_moles(tmp_path: Path) -> None:
    """After A 1.0 mL on 50 g = 64.1 mg/kg, product 0.3 mL on 100 g = 9.6 mg/kg as potassium oleate; derived."""
    found = acid(tmp_path, {"batches/b1.yaml": FEED})
    soap_mol_per_kg = 1.0 * 0.01 / 50 - 0.3 * 0.01 / 100
    assert found.rise_high == pytest.approx(soap_mol_per_kg * molar_mass("KOH"), rel=1e-9)
    assert found.rise_low is not None
    assert found.expected_low == pytest.approx(0.10 + found.rise_low, rel=1e-12)
    assert found.measured is None
    assert found.agreement is None


def test_without_the_feed_only_the_least_is_known(tmp_path: Path) -> None:
    found = acid(tmp_path, {})
    assert found.before is None
    assert found.expected_low == found.rise_low
    assert found.expected_high is None


def test_a_product_below_detection_leaves_a_range(tmp_path: Path) -> None:
    found = acid(tmp_path, {"batches/b1.yaml": ("acid: 0.3 mL", "acid: 0.0 mL")})
    assert found.rise_low is not None and found.rise_high is not None
    assert found.rise_low < found.rise_high


@pytest.mark.parametrize(
    ("measured", "low", "high", "words"),
    [
        (0.12, 0.10, 0.12, "as predicted"),
        (0.17, 0.10, 0.12, "as predicted"),  # within 2·√2·0.02
        (0.18, 0.10, 0.12, "higher than predicted"),
        (0.04, 0.10, 0.12, "lower than predicted"),
        (0.50, 0.10, None, None),
        (None, 0.10, 0.12, None),
        (0.10, None, None, None),
    ],
)
def test_agreement_counts_both_results(
    measured: float | None, low: float | None, high: float | None, words: str | None
) -> None:
    assert Acid(None, None, None, low, high, measured, 0.02).agreement == words
