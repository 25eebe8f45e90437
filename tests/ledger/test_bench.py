"""Titrations of every kind that a file may hold, each against a second route worked by hand."""

from __future__ import annotations

from pathlib import Path

import pytest

from generator.formulas.constants import molar_mass
from generator.ledger.bench import is_temperature_corrected, measured_mol_per_l
from generator.ledger.facts import facts_of
from generator.log import Log
from generator.records import Titrant
from generator.units import quantity
from generator.validate.checks.titrants import written_mol_per_l
from tests.logbook_files import checked, log_of

TITRANT = "titrant: {strength: 1.00 g/L, of: KOH, lot: koh-1}"
PROFILE = '{kind: oil, profile: {"16:0": 17 %, "18:0": 8 %, "18:1": 50 %, "18:2": 21 %, "18:3": 4 %}}'


def demand(log: Log) -> float:
    acid = facts_of(log, log.batches["b1"]).acidity
    assert acid is not None
    return acid.demand_mol_per_kg


def titrated(tmp_path: Path, titrant: str, more: str = "") -> float:
    return demand(log_of(tmp_path, {"batches/b1.yaml": (TITRANT, f"{titrant}{more}")}))


@pytest.mark.parametrize("unit", ["0.02 mol/L", "0.02 N", "20 mmol/L"])
def test_moles_are_moles_whatever_the_base(tmp_path: Path, unit: str) -> None:
    koh = titrated(tmp_path / "k", f"titrant: {{strength: {unit}, of: KOH, pure: true}}")
    naoh = titrated(tmp_path / "na", f"titrant: {{strength: {unit}, of: NaOH, pure: true}}")
    assert koh == naoh == pytest.approx((7.3 / 3 - 0.1) * 0.02 / 0.92, rel=1e-9)


def test_grams_of_pure_base(tmp_path: Path) -> None:
    found = titrated(tmp_path, "titrant: {strength: 1.00 g/L, of: NaOH, pure: true}")
    assert found == pytest.approx((7.3 / 3 - 0.1) / molar_mass("NaOH") / 0.92, rel=1e-9)


def test_a_standardised_titrant_is_what_it_was_measured_to_be(tmp_path: Path) -> None:
    """0.2042 g of hydrogen phthalate took 10.1 mL less 0.1 mL: 0.1000 mol/L, whatever its label says; derived."""
    found = titrated(
        tmp_path,
        "titrant: {strength: 5 g/L, of: KOH, standardised: {phthalate: 0.2042 g, titrant: 10.1 mL, blank: 0.1 mL}}",
    )
    strength = 0.2042 / molar_mass("KHP") / 0.010
    assert strength == pytest.approx(0.1, rel=1e-3)
    assert found == pytest.approx((7.3 / 3 - 0.1) * strength / 0.92, rel=1e-9)


def test_an_alcoholic_titrant_is_carried_to_its_temperature(tmp_path: Path) -> None:
    """10 K warmer, 1.1 % less, on reading and blank alike (EN 14104, 2003 text, clause 10, note: secondary copy)."""
    plain = titrated(tmp_path / "a", "titrant: {strength: 0.02 N, of: KOH, pure: true}")
    warm = titrated(
        tmp_path / "b",
        "titrant: {strength: 0.02 N, of: KOH, pure: true, solvent: alcohol, at: 20 °C}",
        "\n  temperature: 30 °C",
    )
    water = titrated(
        tmp_path / "c",
        "titrant: {strength: 0.02 N, of: KOH, pure: true, at: 20 °C}",
        "\n  temperature: 30 °C",
    )
    assert warm / water == pytest.approx(0.989, rel=1e-9)
    assert water / plain == pytest.approx(
        920 / (920 - 0.64 * 15), rel=1e-9
    )  # 1 mL of oil, taken at 30 °C too


@pytest.mark.parametrize(("acid", "g_per_mol"), [("oleic", 282.0), ("palmitic", 256.0), ("lauric", 200.0)])
def test_free_acid_is_counted_as_the_settings_say(tmp_path: Path, acid: str, g_per_mol: float) -> None:
    log = log_of(tmp_path, {"logbook.yaml": ("title:", f"ffa_as: {acid}\ntitle:")})
    facts = facts_of(log, log.batches["b1"])
    assert facts.acidity is not None
    assert facts.acidity.ffa_pct == pytest.approx(demand(log) * g_per_mol / 10, rel=1e-12)
    assert facts.acidity.ffa_oleic_pct == pytest.approx(demand(log) * 28.2, rel=1e-12)


def test_two_indicators_tell_catalyst_from_soap(tmp_path: Path) -> None:
    """0.4 mL to the first end point, 1.2 mL in all, 0.01 N on 10 g: K3 gives 22.44 mg/kg KOH; soap from 0.8 mL."""
    log = log_of(
        tmp_path,
        {
            "batches/b1.yaml": (
                "sample: 10 g, acid: 1.2 mL",
                "sample: 10 g, catalyst: {acid: 0.4 mL}, acid: 1.2 mL",
            )
        },
    )
    facts = facts_of(log, log.batches["b1"])
    assert facts.catalyst_feed is not None and facts.soap_feed is not None
    assert facts.catalyst_feed.mg_per_kg == pytest.approx(22.44, abs=0.02)
    # three readings make the soap: all acid, the first end point, the blank
    assert facts.soap_feed.limit_mg_per_kg == pytest.approx(3 * 3**0.5 * 0.05 * 0.01 * 320.56 * 100, rel=1e-9)
    assert facts.catalyst_feed.limit_mg_per_kg == pytest.approx(
        3 * 2**0.5 * 0.05 * 0.01 * 56.106 * 100, rel=1e-4
    )
    assert facts.catalyst_feed.detected
    assert facts.soap_feed.mg_per_kg == pytest.approx(0.8 * 0.01 * 320.56 * 1000 / 10, rel=1e-9)
    assert facts.catalyst_product is None


def test_an_oil_that_nobody_described_is_taken_as_a_typical_one(tmp_path: Path) -> None:
    """868.0 g/mol for a used oil made up inside the published ranges of recycled oil; derived."""
    known = log_of(tmp_path / "known")
    assert facts_of(known, known.batches["b1"]).oil_basis == "profile"
    bare = log_of(tmp_path / "bare", {"materials/all.yaml": (PROFILE, "{kind: oil}")})
    facts = facts_of(bare, bare.batches["b1"])
    assert facts.oil_basis == "a typical used oil"
    assert facts.triglyceride_g_per_mol == pytest.approx(868.0, abs=0.05)


def test_a_saponification_value_counts_the_free_acid_once(tmp_path: Path) -> None:
    """Of 100 kg oil, SV 190.1: glycerol is a third of the bound acid's moles; derived."""
    log = log_of(
        tmp_path,
        {
            "materials/all.yaml": (PROFILE, "{kind: oil, saponification value: 190.1 mg KOH/g}"),
            "batches/b1.yaml": ("readings: [2.4 mL, 2.5 mL, 2.4 mL]", "readings: [4.5 mL]"),
        },
    )
    facts = facts_of(log, log.batches["b1"])
    assert facts.acidity is not None and facts.glycerol_theory_kg is not None
    bound_mol = (190.1 - facts.acidity.acid_value_mg_koh_per_g) / 56.10565 * 92
    assert facts.glycerol_theory_kg == pytest.approx(bound_mol / 3 * molar_mass("glycerol") / 1000, rel=1e-6)


@pytest.mark.parametrize(
    ("solvent", "at", "temperature"),
    [("", ", at: 20 °C", "\n  temperature: 30 °C"), (", solvent: alcohol", "", "\n  temperature: 30 °C"), (", solvent: alcohol", ", at: 20 °C", "")],
)  # fmt: skip
def test_a_titrant_is_carried_only_where_all_of_it_is_known(
    tmp_path: Path, solvent: str, at: str, temperature: str
) -> None:
    titrant = f"titrant: {{strength: 0.02 N, of: KOH, pure: true{solvent}{at}}}"
    log = log_of(tmp_path, {"batches/b1.yaml": (TITRANT, f"{titrant}{temperature}")})
    titration = log.batches["b1"].record.titration
    assert titration is not None and not is_temperature_corrected(titration)


@pytest.mark.parametrize(
    ("strength", "mol_per_l"), [("5.611 g/L", 0.1000), ("0.1 mol/L", 0.1), ("100 mmol/L", 0.1)]
)
def test_a_strength_as_written_is_that_of_pure_base(strength: str, mol_per_l: float) -> None:
    """56.106 g/mol of KOH (IUPAC atomic weights)."""
    titrant = Titrant.model_construct(
        strength=quantity(strength, ("mass concentration", "amount concentration")), of="KOH"
    )
    assert written_mol_per_l(titrant) == pytest.approx(mol_per_l, rel=1e-4)


def test_a_titrant_that_took_no_more_than_its_blank_has_no_measured_strength() -> None:
    """Nothing is left of 0.1 mL less 0.1 mL for the phthalate to have taken."""
    said = {"phthalate": "0.2042 g", "titrant": "0.1 mL", "blank": "0.1 mL"}
    titrant = Titrant.model_validate({"strength": "5 g/L", "of": "KOH", "standardised": said})
    assert measured_mol_per_l(titrant) is None


@pytest.mark.parametrize(("reading", "is_known"), [("97.5", True), ("98.0", False)])
def test_an_oil_of_which_half_is_free_acid_tells_nothing_of_its_glycerides(
    reading: str, is_known: bool, tmp_path: Path
) -> None:
    """97.5 less 0.1 mL of 0.90 g/L on 0.92 g are 95.3 mg KOH/g, 98.0 mL are 95.8; half of 191 is 95.5."""
    found = checked(
        tmp_path,
        {
            "materials/all.yaml": (PROFILE, "{kind: oil, saponification value: 191 mg KOH/g}"),
            "batches/b1.yaml": ("readings: [2.4 mL, 2.5 mL, 2.4 mL]", f"readings: [{reading} mL]"),
        },
    )
    assert found.log is not None
    facts = facts_of(found.log, found.log.batches["b1"])
    assert (facts.triglyceride_g_per_mol is not None) is is_known
