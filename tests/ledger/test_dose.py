"""The dose of a batch, planned and recorded, from files: terms, purity, moles, methanol, stages, pre-treatment."""

from __future__ import annotations

from pathlib import Path

import pytest

from generator.compute.tally import tally
from generator.formulas.constants import molar_mass
from generator.ledger.dose import Dose, dose_of, lies_above
from generator.ledger.facts import facts_of
from generator.ledger.parts import part_of_mass
from generator.ledger.readings import plain
from generator.ledger.sheet import to_weigh
from generator.ledger.uncertain import standard_uncertainty
from generator.log import Log
from generator.units import quantity
from tests.logbook_files import BASE, Changes, checked, codes, log_of

BOOK, ALL = "logbook.yaml", "materials/all.yaml"
RULE = "dose: {base: 7 g/L, of: KOH}"
FULL = "dose: {base: 7 g/L, of: KOH, methanol: 22 %}"
B3 = """batch: b3
date: 2026-01-24
oil: [{lot: oil-1, volume: 100 L at 15 °C}]
titration:
  titrant: {strength: 1.00 g/L, of: KOH, pure: true}
  sample: 1.0 mL
  blank: 0 mL
  readings: [2.5 mL]
plan:
  catalyst: koh-1
  methanol: [meoh-1]
"""
MORE = """  methylate: {kind: catalyst, of: NaOCH3, purity: 30 %, solvent: methanol}
  powder: {kind: catalyst, of: KOCH3, purity: 95 %}
  soda: {kind: catalyst, of: NaOH, purity: 98.5 %}
  wet: {kind: alcohol, of: methanol, purity: 95 %}
  acid: {kind: acid, of: H2SO4, purity: 96 %, density: 1.84 kg/L}
"""
LOTS = {
    f"lots/{name}.yaml": f"lot: {name}\nmaterial: {material}\nreceived: 2026-01-02\nquantity: {quantity}\npaid: 9.60 EUR\n"
    for name, material, quantity in (
        ("methylate-1", "methylate", "20 kg"),
        ("powder-1", "powder", "20 kg"),
        ("soda-1", "soda", "20 kg"),
        ("wet-1", "wet", "100 L at 15 °C"),
        ("acid-1", "acid", "9.6 kg"),
    )
}


def changes(batch: str = B3, rule: str = FULL) -> Changes:
    """The good logbook with more materials and one more batch."""
    text = (BASE / ALL).read_text(encoding="utf-8")
    return {ALL: text + MORE, **LOTS, BOOK: (RULE, rule), "batches/b3.yaml": batch}


def log_with(tmp_path: Path, batch: str = B3, rule: str = FULL) -> Log:
    return log_of(tmp_path, changes(batch, rule))


def dose(tmp_path: Path, batch: str = B3, rule: str = FULL) -> Dose:
    log = log_with(tmp_path, batch, rule)
    entry = {**log.batches, **log.planned}["b3"]
    return dose_of(log, entry, facts_of(log, entry))


def test_both_terms_stand_apart_and_purity_is_counted_once(tmp_path: Path) -> None:
    """A30, derived: 100 L, KOH, t 2.5, base 7 g/L, purity 90 %, titrant of pure base: 1055.6 g as weighed."""
    base = dose(tmp_path).base
    assert base is not None
    assert base.neutralising_g == pytest.approx(250 / 0.9, abs=0.05)
    assert base.base_g == pytest.approx(700 / 0.9, abs=0.05)
    assert base.total_g == pytest.approx(1055.6, abs=0.1)
    assert not base.same_lot


@pytest.mark.parametrize(("titrant", "weighed_g"), [("pure: true", 432.99), ("lot: lye-1", 429.28)])
def test_the_titrant_made_of_the_same_lot(tmp_path: Path, titrant: str, weighed_g: float) -> None:
    """A32, derived: 60 L, NaOH, t 2, base 5 g/L, purity 97 %; (5 + 2) * 60 / 0.97 would count purity twice."""
    text = (
        B3.replace("of: KOH, pure: true", f"of: NaOH, {titrant}")
        .replace("100 L", "60 L")
        .replace("2.5 mL", "2 mL")
    )
    files = dict(changes(text.replace("koh-1", "lye-1"), "dose: {base: 5 g/L, of: NaOH, methanol: 22 %}"))
    files[ALL] = f"{files[ALL]}  lye: {{kind: catalyst, of: NaOH, purity: 97 %}}\n"
    files["lots/lye-1.yaml"] = (
        "lot: lye-1\nmaterial: lye\nreceived: 2026-01-02\nquantity: 5 kg\npaid: 9 EUR\n"
    )
    log = log_of(tmp_path, files)
    found = dose_of(log, log.planned["b3"], facts_of(log, log.planned["b3"])).base
    assert found is not None
    assert found.total_g == pytest.approx(weighed_g, abs=0.01)
    assert found.same_lot == (titrant != "pure: true")


def test_a_rule_for_one_base_is_carried_to_another_by_moles(tmp_path: Path) -> None:
    """A22, derived: 5 g of NaOH are 7.0137 g of KOH."""
    base = dose(tmp_path, rule="dose: {base: 5 g/L, of: NaOH, methanol: 22 %}").base
    assert base is not None and base.base_g is not None
    assert base.base_g * 0.9 / 100 == pytest.approx(7.01, abs=0.005)


@pytest.mark.parametrize("lot", ["koh-1", "soda-1", "powder-1", "methylate-1"])
def test_every_catalyst_brings_the_same_moles(tmp_path: Path, lot: str) -> None:
    base = dose(tmp_path, B3.replace("koh-1", lot)).base
    assert base is not None and base.total_g is not None
    moles = base.total_g * base.purity_pct / 100 / molar_mass(base.of)
    assert moles == pytest.approx(950 / molar_mass("KOH"), rel=1e-9)
    water_mol = (base.water_kg or 0.0) * 1000 / molar_mass("water")
    assert water_mol == pytest.approx(moles if base.of in ("KOH", "NaOH") else 0.0, rel=1e-9)


def test_methanol_of_a_solution_counts(tmp_path: Path) -> None:
    found = dose(tmp_path, B3.replace("koh-1", "methylate-1"))
    assert found.base is not None and found.base.total_g is not None
    assert found.methanol.from_catalyst_kg == pytest.approx(found.base.total_g * 0.7 / 1000, rel=1e-12)
    assert found.methanol.pure_kg == pytest.approx(found.methanol.rule_kg, rel=1e-12)


def test_a_solid_methoxide_brings_no_methanol(tmp_path: Path) -> None:
    assert dose(tmp_path, B3.replace("koh-1", "powder-1")).methanol.from_catalyst_kg == 0


def test_by_moles_and_by_volume_are_two_ways_to_say_it(tmp_path: Path) -> None:
    by_volume = dose(tmp_path / "a").methanol
    ratio = by_volume.molar_ratio
    assert ratio is not None
    by_moles = dose(tmp_path / "b", rule=FULL.replace("22 %", f"{ratio:.9f} mol/mol")).methanol
    assert by_moles.rule_kg == pytest.approx(by_volume.rule_kg, rel=1e-8)
    assert by_moles.pct_v_v == pytest.approx(by_volume.pct_v_v, rel=1e-8)
    assert 5.1 < ratio < 5.4


def test_recovered_methanol_is_counted_by_its_purity(tmp_path: Path) -> None:
    text = B3.replace("[meoh-1]", "[{lot: wet-1, volume: 10 L at 15 °C}, meoh-1]")
    found = dose(tmp_path, text).methanol
    assert found.parts is not None
    wet, bought = found.parts
    assert wet.rest_kg == pytest.approx(0.05 * wet.kg, rel=1e-9)
    assert found.water_kg == pytest.approx(wet.rest_kg + bought.rest_kg, rel=1e-12)
    assert wet.pure_kg + bought.pure_kg == pytest.approx(found.rule_kg, rel=1e-12)


def test_amounts_beyond_the_rule_are_said_and_not_cut(tmp_path: Path) -> None:
    text = B3.replace("[meoh-1]", "[{lot: wet-1, volume: 40 L at 15 °C}, meoh-1]")
    found = dose(tmp_path, text).methanol
    assert found.beyond_rule
    assert found.parts is not None
    assert [round(part.litres or 0, 6) for part in found.parts] == [40, 0]
    assert found.pure_kg is not None and found.rule_kg is not None and found.pure_kg > found.rule_kg


@pytest.mark.parametrize(
    ("rule", "plan", "shares"),
    [
        ("", "", [100]),
        (", stages: [80 %, 20 %]", "", [80, 20]),
        (", stages: [80 %, 20 %]", "  stages: [60 %, 30 %, 10 %]\n", [60, 30, 10]),
    ],
)
def test_stages_add_up_to_the_whole(tmp_path: Path, rule: str, plan: str, shares: list[float]) -> None:
    found = dose(tmp_path, B3 + plan, FULL.replace("22 %", f"22 %{rule}"))
    assert found.base is not None and found.methanol.parts is not None
    assert [stage.share_pct for stage in found.stages] == shares
    assert sum(stage.catalyst_g or 0 for stage in found.stages) == pytest.approx(
        found.base.total_g, rel=1e-12
    )
    poured = sum(part.kg for stage in found.stages for part in stage.methanol or ())
    assert poured == pytest.approx(sum(part.kg for part in found.methanol.parts), rel=1e-12)


def test_units_of_entry_do_not_matter(tmp_path: Path) -> None:
    """The same oil in US gallons at °F and the same rule in another unit, to 1e-9."""
    metric = dose(tmp_path / "a", B3.replace("100 L at 15 °C", "378.5411784 L at 25 °C"))
    us = dose(
        tmp_path / "b",
        B3.replace("100 L at 15 °C", "100 US gal at 77 °F"),
        FULL.replace("7 g/L", "0.007 kg/L"),
    )
    assert metric.base is not None and us.base is not None
    assert us.base.total_g == pytest.approx(metric.base.total_g, rel=1e-9)
    assert us.methanol.pure_kg == pytest.approx(metric.methanol.pure_kg, rel=1e-9)


def test_a_recorded_batch_is_reckoned_with_the_lots_it_used(tmp_path: Path) -> None:
    log = log_with(tmp_path)
    found = dose_of(log, log.batches["b1"], facts_of(log, log.batches["b1"]))
    assert found.base is not None and found.base.lot == "koh-1"
    assert [part.lot for part in found.methanol.parts or ()] == ["meoh-1"]
    assert found.methanol.pure_kg == pytest.approx(found.methanol.rule_kg, rel=1e-12)


def test_without_a_rule_what_was_poured_still_counts(tmp_path: Path) -> None:
    log = log_of(tmp_path)
    found = dose_of(log, log.batches["b1"], facts_of(log, log.batches["b1"]))
    assert found.methanol.rule_kg is None
    assert [part.litres for part in found.methanol.parts or ()] == [pytest.approx(20)]
    assert any("rule for methanol" in text for text in found.missing)


@pytest.mark.parametrize(
    ("old", "new", "rule", "lacks"),
    [
        (B3[B3.index("titration:") : B3.index("plan:")], "", FULL, "a titration of the oil"),
        ("", "", RULE, "a rule for methanol"),
        ("  methanol: [meoh-1]\n", "", FULL, "a lot of methanol"),
    ],
)
def test_an_unknown_amount_names_what_it_lacks(
    tmp_path: Path, old: str, new: str, rule: str, lacks: str
) -> None:
    found = dose(tmp_path, B3.replace(old, new) if old else B3, rule)
    assert any(text.startswith(lacks) for text in found.missing)
    if "titration" in lacks:
        assert found.base is not None
        assert found.base.neutralising_g is None and found.base.total_g is None
        assert found.base.base_g == pytest.approx(700 / 0.9)
        assert [stage.catalyst_g for stage in found.stages] == [None]
    else:
        assert found.methanol.parts is None and found.methanol.molar_ratio is None


def test_a_planned_batch_draws_nothing_and_is_no_date(tmp_path: Path) -> None:
    found = checked(tmp_path / "a", changes())
    before = checked(tmp_path / "b", {**dict(changes()), "batches/b3.yaml": "batch: b3\n"})
    assert codes(found.problems) == []
    assert found.log is not None and before.log is not None and found.ledgers is not None
    assert "b3" in found.log.planned and "b3" not in found.log.batches
    assert found.log.now() == before.log.now()
    assert found.ledgers.accounts["oil-1"].left == 100
    assert "b3" not in found.ledgers.facts
    results = tally(found.ledgers)
    assert [row["batch"] for row in results.rows("batches")] == ["b1", "b2"]
    assert [row["batch"] for row in results.rows("costs")] == ["b1", "b2"]


def test_a_plan_with_a_reaction_is_a_record(tmp_path: Path) -> None:
    text = (
        B3
        + "reaction:\n  - {catalyst: [{lot: koh-1, mass: 1 kg}], methanol: [{lot: meoh-1, volume: 22 L}]}\n"
    )
    log = log_with(tmp_path, text)
    assert "b3" in log.batches and not log.planned
    assert log.batches["b3"].record.plan is not None


def test_the_sheet_tells_how_sure_it_is(tmp_path: Path) -> None:
    log = log_with(tmp_path)
    exact = dose_of(log, log.planned["b3"], facts_of(log, log.planned["b3"]))
    sure = to_weigh(log, log.planned["b3"]).dose
    assert exact.base is not None and sure.base is not None
    assert exact.base.total_g is not None and sure.base.total_g is not None
    assert plain(sure.base.total_g) == pytest.approx(exact.base.total_g, rel=1e-12)
    assert 0 < standard_uncertainty(sure.base.total_g) < 0.1 * exact.base.total_g


@pytest.mark.parametrize(
    ("water", "line", "dry"),
    [
        ("1200 mg/kg", "1000 mg/kg", True),
        ("800 mg/kg", "1000 mg/kg", False),
        ("800 mg/kg", None, None),
        (None, "1 %", None),
    ],
)
def test_advice_to_dry_is_by_the_own_line(
    tmp_path: Path, water: str | None, line: str | None, dry: bool | None
) -> None:
    text = B3 + (f"water: {{value: {water}, method: kit}}\n" if water else "")
    rule = FULL + (f"\nthresholds: {{water: {line}}}" if line else "")
    assert dose(tmp_path, text, rule).needs_drying is dry


@pytest.mark.parametrize(("line", "advised"), [("2 mg KOH/g", True), ("5 mg KOH/g", False)])
def test_advice_to_pretreat_is_by_the_own_line(tmp_path: Path, line: str, advised: bool) -> None:
    rule = f"{FULL}\nthresholds: {{acid value: {line}}}"
    assert dose(tmp_path, rule=rule).needs_pretreatment is advised


def test_the_water_of_the_oil(tmp_path: Path) -> None:
    """500 mg/kg of 92 kg are 46 g."""
    assert dose(
        tmp_path, B3.replace("titration:", "water: {value: 500 mg/kg, method: Karl Fischer}\ntitration:")
    ).oil_water_kg == pytest.approx(0.046)
    assert dose(tmp_path / "b").oil_water_kg is None


def test_acid_by_mass_has_the_volume_that_its_density_gives(tmp_path: Path) -> None:
    """9.6 kg at 1.84 kg/L."""
    found = part_of_mass(log_with(tmp_path), "acid-1", 96, 9.6)
    assert found.litres == pytest.approx(9.6 / 1.84, rel=1e-9)


CONTENT = ("content",)


@pytest.mark.parametrize(
    ("written", "lies"),
    [
        ("500 mg/kg", False),
        ("501 mg/kg", True),
        ("< 500 mg/kg", False),
        ("< 501 mg/kg", None),
        ("> 500 mg/kg", True),
        ("> 499 mg/kg", None),
    ],
)
def test_a_bound_lies_above_a_line_only_where_all_of_it_does(written: str, lies: bool | None) -> None:
    """Less than 501 may be 400, and more than 499 may be 499.5."""
    assert lies_above(quantity(written, CONTENT), quantity("500 mg/kg", CONTENT)) is lies


@pytest.mark.parametrize(("catalyst", "kg"), [("koh-1", 0.0), ("methylate-1", 0.7 * 1.5)])
def test_methanol_of_a_solution_counts_in_the_ratio_of_a_recorded_batch(
    catalyst: str, kg: float, tmp_path: Path
) -> None:
    """1 kg and 0.5 kg of a solution of 30 %: 70 % of both is methanol; 20 L are 99.8 % of methanol; derived."""
    stages = "".join(
        f"  - catalyst: [{{lot: {catalyst}, mass: {mass} kg}}]\n    methanol: [{{lot: meoh-1, volume: 10 L at 15 °C}}]\n"
        for mass in (1, 0.5)
    )
    log = log_with(tmp_path, f"{B3[: B3.index('plan:')]}reaction:\n{stages}")
    found = facts_of(log, log.batches["b3"])
    assert found.methanol_kg is not None
    assert found.reaction_methanol_pure_kg == pytest.approx(found.methanol_kg * 0.998 + kg, rel=1e-12)


def test_a_sheet_names_the_material_of_every_lot(tmp_path: Path) -> None:
    named = "meoh: {kind: alcohol, name: Methanol of the drum, of: methanol, purity: 99 %}"
    files = dict(changes())
    files[ALL] = f"{files[ALL]}  {named}\n"
    files["lots/drum.yaml"] = LOTS["lots/wet-1.yaml"].replace("wet-1", "drum").replace("wet", "meoh")
    log = log_of(tmp_path, files)
    names = to_weigh(log, log.planned["b3"]).names
    assert (names["koh-1"], names["drum"]) == ("flakes", "Methanol of the drum")
