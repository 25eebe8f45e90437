"""The table of substances against a library of atomic masses and a published appendix."""

from __future__ import annotations

import pytest
from molmass import Formula

from generator.data import rows
from generator.formulas.constants import (
    KOH_CONVENTION_G_PER_MOL,
    OLEIC_CONVENTION_G_PER_MOL,
    SOAP_G_PER_MOL,
    molar_mass,
    soap_base,
)

from .case import Case, each

APPENDIX = ("Ramírez-Verduzco, Sustainability 14(11):6804 (2022)", "appendix B, doi 10.3390/su14116804")
SPECIES = rows("substances")["molar_masses"] | rows("substances")["fatty_acids"]
CASES = [
    Case(f"M50 {name}", molar_mass, {"species": name}, mass, 0.002, "L", *APPENDIX, "published")
    for name, mass in (
        ("methyl palmitate", 270.4507),
        ("methyl stearate", 298.5038),
        ("methyl oleate", 296.4879),
        ("methyl linoleate", 294.4721),
    )
]


@each(CASES)
def test_molar_mass(case: Case) -> None:
    case.check()


@pytest.mark.parametrize("species", SPECIES)
def test_molar_mass_by_library(species: str) -> None:
    """M1 to M41: molmass, relative tolerance 1e-5 for the version of the atomic masses (library)."""
    assert molar_mass(species) == pytest.approx(Formula(SPECIES[species]["formula"]).mass, rel=1e-5)


def test_reaction_balances() -> None:
    """M51: triolein + 3 methanol = 3 methyl oleate + glycerol, 981.5602 g on both sides (derived, 2e-5 L)."""
    left = molar_mass("triolein") + 3 * molar_mass("methanol")
    right = 3 * molar_mass("methyl oleate") + molar_mass("glycerol")
    assert left == pytest.approx(right, abs=4e-5)
    assert left == pytest.approx(981.5602, abs=4e-5)


def test_conventions_stand_beside_the_exact_masses() -> None:
    """They differ, by less than 0.2 %: one must never be put for the other unnoticed."""
    pairs = [
        (KOH_CONVENTION_G_PER_MOL, molar_mass("KOH")),
        (OLEIC_CONVENTION_G_PER_MOL, molar_mass("18:1")),
        (SOAP_G_PER_MOL["KOH"], molar_mass("potassium oleate")),
        (SOAP_G_PER_MOL["NaOH"], molar_mass("sodium oleate")),
    ]
    for convention, exact in pairs:
        assert convention != exact
        assert convention == pytest.approx(exact, rel=2e-3)


@pytest.mark.parametrize(
    ("catalyst", "base"), [("KOH", "KOH"), ("KOCH3", "KOH"), ("NaOH", "NaOH"), ("NaOCH3", "NaOH")]
)
def test_soap_follows_the_metal(catalyst: str, base: str) -> None:
    assert soap_base(catalyst) == base


def test_unknown_species_is_refused() -> None:
    with pytest.raises(KeyError):
        molar_mass("ethanol?")
