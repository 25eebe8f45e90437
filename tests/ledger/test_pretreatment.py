"""Acid pre-treatment from files: what it takes by the rule, what it leaves, and the two shares of a titration after it."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from generator.compute.tally import tally
from generator.formulas.constants import molar_mass
from generator.ledger.batch_facts import Facts
from generator.ledger.dose import dose_of
from generator.ledger.facts import facts_of
from generator.ledger.flows import flows
from generator.ledger.ledgers import Ledgers
from generator.ledger.pretreatment import treated
from generator.ledger.sheet import to_weigh
from generator.pages.weigh import settings_view, sheet
from generator.pages.weigh_text import sheet_text
from tests.ledger.test_dose import B3, FULL, dose, log_with

RULE = FULL.replace("22 %", "22 %, pretreatment: {methanol: 2.25 g/g, acid: 0.05 g/g}")
# 12 % free fatty acid as oleic acid, 28.2 (V c / m): 1 mL of oil at 0.92 g/mL
SOUR = B3.replace("2.5 mL", "21.965 mL")
PLANNED = f"{SOUR}  pretreatment: {{acid: acid-1, target: 2 mg KOH/g}}\n"
DONE = """pretreatment:
  acid: [{lot: acid-1, mass: 0.575 kg}]
  methanol: [{lot: meoh-1, volume: 31.2 L at 15 °C}]
  temperature: 60 °C
  time: 60 min
  titration:
    titrant: {strength: 1.00 g/L, of: KOH, pure: true}
    sample: 1.0 mL
    blank: 0 mL
    readings: [9 mL]
"""


def test_the_rule_by_gram_of_free_acid(tmp_path: Path) -> None:
    """P5, from memory: 12 % of 100 kg take 27.0 kg methanol and 0.600 kg acid; here on 92 kg."""
    found = dose(tmp_path, PLANNED, RULE)
    assert found.facts.acidity is not None
    assert found.facts.acidity.ffa_oleic_pct == pytest.approx(12, abs=0.005)
    before = found.pretreatment
    assert before is not None and before.acid is not None and before.methanol is not None
    assert before.methanol_pure_kg == pytest.approx(27.0 * 0.92, rel=1e-3)
    assert before.acid_pure_kg == pytest.approx(0.600 * 0.92, rel=1e-3)
    assert before.acid[0].kg == pytest.approx(0.6 * 0.92 / 0.96, rel=1e-3)
    assert before.methanol[0].kg == pytest.approx(27.0 * 0.92 / 0.998, rel=1e-3)


def test_acid_that_stays_costs_base(tmp_path: Path) -> None:
    """P7, derived: 0.6 kg of sulfuric acid take 0.6865 kg of KOH, on 92 kg of oil and at 90 % purity."""
    base = dose(tmp_path, PLANNED, RULE).base
    assert base is not None and base.mineral_g is not None and base.neutralising_g is not None
    assert base.mineral_g == pytest.approx(686.5 * 0.92 / 0.9, rel=1e-3)
    free_g = 2 / 56.1 * 92 * molar_mass("KOH") / 0.9
    assert base.neutralising_g - base.mineral_g == pytest.approx(free_g, rel=1e-9)


def test_acid_that_is_drained_costs_none(tmp_path: Path) -> None:
    drained = dose(tmp_path, PLANNED.replace("target:", "acid_drained: true, target:"), RULE)
    assert drained.base is not None and drained.base.mineral_g == 0


@pytest.mark.parametrize("drained", ["true", "false"])
def test_methanol_that_is_left_is_told_and_never_counted(tmp_path: Path, drained: str) -> None:
    """What went with the layer is not known; counting it could leave the reaction short of methanol."""
    found = dose(tmp_path, PLANNED.replace("target:", f"acid_drained: {drained}, target:"), RULE)
    before = found.pretreatment
    assert before is not None and before.methanol_left_kg is not None and before.converted_mol is not None
    taken_kg = before.converted_mol * molar_mass("methanol") / 1000
    assert before.methanol_left_kg == pytest.approx(27.0 * 0.92 - taken_kg, rel=1e-3)
    poured = sum(part.pure_kg for part in found.methanol.parts or ())
    assert poured == found.methanol.pure_kg == pytest.approx(found.methanol.rule_kg, rel=1e-12)
    assert before.water_made_kg == pytest.approx(before.converted_mol * 0.0180153, rel=1e-4)


def test_without_a_target_the_dose_is_unknown_and_says_why(tmp_path: Path) -> None:
    found = dose(tmp_path, PLANNED.replace(", target: 2 mg KOH/g", ""), RULE)
    assert found.base is not None and found.base.total_g is None
    assert any(text.startswith("the acid value after pre-treatment") for text in found.missing)


def test_without_a_lot_the_pure_acid_is_told(tmp_path: Path) -> None:
    found = dose(tmp_path, f"{SOUR}  pretreatment: yes\n", RULE)
    assert found.pretreatment is not None
    assert found.pretreatment.acid is None
    assert found.pretreatment.acid_pure_kg == pytest.approx(0.6 * 0.92, rel=1e-3)
    assert any(text.startswith("a lot of acid") for text in found.missing)


@pytest.mark.parametrize(
    ("drained", "mineral"),
    [("  acid_drained: false\n", 0.552 * 2 / 0.0980783 / 92), ("  acid_drained: true\n", 0.0), ("", None)],
)
def test_a_titration_after_it_is_parted_into_two_shares(
    tmp_path: Path, drained: str, mineral: float | None
) -> None:
    """The titration counts mineral acid as free fatty acid; the dose takes it as it is, the shares stand apart."""
    text = PLANNED + DONE.replace("  temperature", f"{drained}  temperature")
    found = dose(tmp_path, text, RULE)
    before, base = found.pretreatment, found.base
    assert before is not None and base is not None
    total = 9 / molar_mass("KOH") / 0.92
    assert before.done and before.after_basis == "titrated"
    assert before.after_mol_per_kg == pytest.approx(total, rel=1e-9)
    assert base.neutralising_g == pytest.approx(total * 92 * molar_mass("KOH") / 0.9, rel=1e-9)
    if mineral is None:
        assert before.free_after_mol_per_kg is None and base.mineral_g is None
        assert any("acid_drained" in lack for lack in found.missing)
    else:
        assert before.free_after_mol_per_kg == pytest.approx(total - mineral, rel=1e-6)


def test_the_sheet_says_what_the_titration_counted(tmp_path: Path) -> None:
    text = PLANNED + DONE.replace("  temperature", "  acid_drained: false\n  temperature")
    log = log_with(tmp_path, text, RULE)
    told = sheet_text(sheet(to_weigh(log, log.planned["b3"]), settings_view(log.settings)), "Shed")
    assert "of it free fatty acid" in told and "of it mineral acid" in told
    assert "a titration counts it as free fatty" in told
    assert "! Acid goes into methanol, slowly, never the reverse." in told
    assert max(len(line) for line in told.splitlines()) <= 80


REACTION = "reaction:\n  - {catalyst: [{lot: koh-1, mass: 1.6 kg}], methanol: [{lot: meoh-1, volume: 20 L at 15 °C}]}\n"


@pytest.mark.parametrize("acid", ["mass: 0.552 kg", "volume: 300 mL"])
def test_a_recorded_pretreatment_draws_from_its_lots_and_costs(tmp_path: Path, acid: str) -> None:
    """300 mL at 1.84 kg/L are 0.552 kg; the acid costs 1 EUR/kg, methanol 0.90 EUR/L."""
    done = DONE.replace("mass: 0.575 kg", acid)
    log = log_with(tmp_path, SOUR[: SOUR.index("plan:")] + done + REACTION, RULE)
    ledgers = Ledgers(log)
    assert float(ledgers.accounts["acid-1"].drawn_by("b3")) == pytest.approx(0.552)
    assert float(ledgers.accounts["meoh-1"].drawn_by("b3")) == pytest.approx(51.2)
    row = {row["batch"]: row for row in tally(ledgers).rows("costs")}["b3"]
    assert row["methanol"] == pytest.approx(51.2 * 0.90)
    assert row["catalyst"] == pytest.approx(1.6 * 3.00 + 0.552 * 1.00)


def test_a_plan_with_its_pretreatment_done_draws_nothing_yet(tmp_path: Path) -> None:
    log = log_with(tmp_path, PLANNED + DONE, RULE)
    assert float(Ledgers(log).accounts["acid-1"].left) == 9.6
    entry = log.planned["b3"]
    assert dose_of(log, entry, facts_of(log, entry)).pretreatment is not None


def test_the_water_that_acid_and_methanol_bring(tmp_path: Path) -> None:
    """4 % of 0.575 kg of acid; 0.2 % of the methanol as weighed; derived."""
    log = log_with(tmp_path, SOUR + DONE, RULE)
    entry = {**log.batches, **log.planned}["b3"]
    before = treated(log, entry.record, facts_of(log, entry))
    assert before is not None and before.methanol is not None
    assert before.water_fed_kg == pytest.approx(0.575 * 0.04 + before.methanol[0].kg * 0.002, rel=1e-9)
    assert replace(before, acid=None).water_fed_kg is None
    assert replace(before, methanol=None).water_fed_kg is None


def test_the_layer_drained_after_the_acid_is_mass_that_went_out() -> None:
    """80 kg of fuel, 20 and 5 kg of layers; derived."""
    found = Facts("b1", fed_kg=80.0, fuel_kg=80.0, glycerol_layer_kg=20.0, treated_layer_kg=5.0)
    assert found.mass_out_kg == pytest.approx(105)
    assert replace(found, treated_layer_kg=0.0).mass_out_kg == pytest.approx(100)


@pytest.mark.parametrize(("more", "is_told"), [("", True), (DONE, False)])
def test_only_a_pretreatment_that_is_still_to_be_done_wants_a_rule(
    more: str, is_told: bool, tmp_path: Path
) -> None:
    """What was poured needs no rule to say how much it was."""
    missing = dose(tmp_path, PLANNED + more, FULL).missing
    assert any(text.startswith("a rule for pre-treatment") for text in missing) is is_told


def test_acid_by_volume_goes_into_the_balance_by_its_density(tmp_path: Path) -> None:
    """312.5 mL at 1.84 kg/L are 0.575 kg; methanol taken back is listed and has no mass, as it was not written."""
    log = log_with(tmp_path, PLANNED + DONE.replace("mass: 0.575 kg", "volume: 312.5 mL"), RULE)
    kg = {flow.name: flow.kg for flow in flows(log, {**log.batches, **log.planned}["b3"])}
    assert kg["acid"] == pytest.approx(0.575)
    assert None in kg.values()


@pytest.mark.parametrize("acid", ["mass: 0.575 kg", "volume: 312.5 mL"])
def test_acid_is_alike_by_mass_and_by_volume(acid: str, tmp_path: Path) -> None:
    """312.5 mL at 1.84 kg/L are 0.575 kg, of which 96 % are acid."""
    log = log_with(tmp_path, PLANNED + DONE.replace("mass: 0.575 kg", acid), RULE)
    entry = {**log.batches, **log.planned}["b3"]
    before = treated(log, entry.record, facts_of(log, entry))
    assert before is not None and before.acid is not None
    assert [(part.kg, part.litres) for part in before.acid] == [(pytest.approx(0.575), pytest.approx(0.3125))]
    assert before.acid_pure_kg == pytest.approx(0.552)
