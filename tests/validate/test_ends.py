"""Checks at the ends of their ranges: what lies just within is told nothing, what lies just beyond is; derived."""

from __future__ import annotations

from pathlib import Path

import pytest

from generator.ledger.batch_facts import Facts
from generator.ledger.facts import facts_of
from generator.ledger.flows import is_open
from generator.ledger.pretreatment import treated
from generator.validate.logbook import checked_folder
from tests.ledger.test_dose import LOTS, changes
from tests.ledger.test_pretreatment import PLANNED, RULE
from tests.logbook_files import codes, lay, told
from tests.test_gallery import lay_case

B1 = "batches/b1.yaml"


def case(parent: Path, name: str, file: str, old: str, new: str) -> list[str]:
    """The codes of a case of the gallery with another value in it."""
    parent.mkdir(exist_ok=True)
    lay_case(name, parent)
    lay(parent / "logbook", file, (old, new))
    return codes(checked_folder(parent / "logbook")[1].problems)


@pytest.mark.parametrize(
    ("ml", "found"),
    [
        ("27.47", []),
        ("24.10", []),  # 14 % above
        ("23.68", ["strength-differs"]),  # 16 % above
        ("31.95", []),  # 14 % below
        ("32.71", ["strength-differs"]),  # 16 % below
    ],
)
def test_a_titrant_within_fifteen_percent_of_its_label(ml: str, found: list[str], tmp_path: Path) -> None:
    """0.10 g of phthalate, 204.22 g/mol, take 27.47 mL of 1.00 g/L KOH, 56.106 g/mol."""
    assert case(tmp_path, "strength-differs", B1, "titrant: 20.0 mL", f"titrant: {ml} mL") == found


@pytest.mark.parametrize(("bar", "found"), [("0.2", []), ("0.34", []), ("0.36", ["pressure-rises"])])
def test_a_gauge_further_on_may_stand_half_a_division_higher(
    bar: str, found: list[str], tmp_path: Path
) -> None:
    """0.3 bar before A; half a division is 0.05 bar."""
    assert case(tmp_path, "pressure-rises", B1, "inlet: 0.6 bar", f"inlet: {bar} bar") == found


@pytest.mark.parametrize(
    ("name", "old", "new"),
    [("sample-odd", "sample: 10 mL", "sample: 0.1 mL"), ("strength-odd", "10.0 g/L", "0.1 g/L")],
)
def test_a_tenth_of_the_usual_is_as_odd_as_ten_times(name: str, old: str, new: str, tmp_path: Path) -> None:
    assert name in case(tmp_path, name, "batches/b7.yaml", old, new)


@pytest.mark.parametrize(("fuel", "found"), [("50", ["high-yield"]), ("49.9", ["heel-impossible"])])
def test_columns_keep_no_more_than_their_vessels_hold(fuel: str, found: list[str], tmp_path: Path) -> None:
    """Vessels of 60 and 40 L, and 150 L fed: that 150 L came of 100 L of oil is told where the heel is possible."""
    case(tmp_path, "heel-impossible", B1, "98 US gal", "150 L")
    lay(tmp_path / "logbook", B1, ("fuel: {volume: 97 L", f"fuel: {{volume: {fuel} L"))
    assert codes(checked_folder(tmp_path / "logbook")[1].problems) == found


@pytest.mark.parametrize(("ml", "is_told"), [("6.2", False), ("5.5", True)])
def test_a_titration_a_little_below_its_mineral_acid_is_told_nothing(
    ml: str, is_told: bool, tmp_path: Path
) -> None:
    """6.9 mg KOH/g of mineral acid take 6.27 mL: both lie below, the first within what a burette leaves open."""
    found = case(tmp_path, "pretreatment-titration", "batches/b3.yaml", "[3 mL]", f"[{ml} mL]")
    assert ("pretreatment-titration" in found) is is_told
    log = checked_folder(tmp_path / "logbook")[1].log
    assert log is not None
    entry = {**log.batches, **log.planned}["b3"]
    before = treated(log, entry.record, facts_of(log, entry))
    assert before is not None and before.free_after_mol_per_kg is not None
    assert before.free_after_mol_per_kg < 0


def test_a_plan_takes_no_acid_that_came_later(tmp_path: Path) -> None:
    late = LOTS["lots/acid-1.yaml"].replace("2026-01-02", "2026-02-01")
    found = told(tmp_path, {**changes(PLANNED, RULE), "lots/acid-1.yaml": late})
    assert codes(found) == ["date-order"]
    assert "acid-1" in found[0].message


@pytest.mark.parametrize(
    ("fuel_kg", "found"),
    [(76.9, True), (77.1, False), (80.0, False), (82.9, False), (83.1, True), (None, False)],
)
def test_a_balance_is_open_below_97_and_above_103_percent(fuel_kg: float | None, found: bool) -> None:
    """80 kg of oil and 20 kg of methanol in; 20 kg of layer and the fuel out, by exact readings."""
    facts = Facts(
        "b1",
        oil_kg=80.0,
        methanol_kg=20.0,
        catalyst_g=0.0,
        all_stages_g=0.0,
        glycerol_layer_kg=20.0,
        methanol_recovered_kg=0.0,
        fed_kg=fuel_kg,
        fuel_kg=fuel_kg,
    )
    assert (facts.closure_pct is None) == (fuel_kg is None)
    assert is_open(facts) is found
