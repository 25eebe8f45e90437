"""The table of substances against a library of atomic masses and a published appendix."""

from __future__ import annotations

import chemicals
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
# Names the second library does not know under ours.
REGISTRY = {
    "KOH": "1310-58-3",
    "NaOH": "1310-73-2",
    "NaOCH3": "124-41-4",
    "KOCH3": "865-33-8",
    "H2SO4": "7664-93-9",
    "KHP": "877-24-7",
    "I2": "7553-56-2",
    "Na": "7440-23-5",
    "K": "7440-09-7",
    "palmitoleic acid": "373-49-9",
    "gondoic acid": "5561-99-9",
}
BOOK = (
    "He and Pryor, Biodiesel from Oils and Fats (2020), doi 10.21061/IntroBiosystemsEngineering/Biodiesel",
)
EU = ("Reg. (EEC) 2568/91", "annex XVIII, 4.5.1, molar masses of its example")
USP = "United States Pharmacopeia, reproduced"
CASES = [
    *[
        Case(
            f"{name} of a book",
            molar_mass,
            {"species": name},
            mass,
            0.005,
            "R",
            *BOOK,
            "variables",
            "published",
        )
        for name, mass in (("glycerol", 92.09), ("water", 18.02))
    ],
    *[
        Case(f"S1 {name}", molar_mass, {"species": name}, mass, 0.05, "R", *EU, "published")
        for name, mass in (
            ("16:0", 256.4),
            ("18:0", 284.5),
            ("16:1", 254.4),
            ("18:1", 282.5),
            ("18:2", 280.4),
            ("18:3", 278.4),
        )
    ],
    *[
        Case(name, molar_mass, {"species": name}, mass, tolerance, "K", USP, place, "secondary copy")
        for name, mass, tolerance, place in (
            ("methanol", 32.04, 0.005, "methyl alcohol, USP 29"),
            ("KOH", 56.11, 0.005, "potassium hydroxide, USP 32"),
            ("18:1", 282.46, 0.005, "oleic acid, USP 32"),
            ("16:0", 256.43, 0.01, "palmitic acid, USP 35; older atomic masses"),
            ("H2SO4", 98.07, 0.01, "volumetric solutions, USP 29; older atomic masses"),
            ("KHP", 204.22, 0.005, "potassium biphthalate, 0.1 N sodium hydroxide"),
        )
    ],
    Case(
        "NaOH",
        molar_mass,
        {"species": "NaOH"},
        40.00,
        0.005,
        "R",
        "British Pharmacopoeia, reproduced",
        "sodium hydroxide VS",
        "secondary copy",
    ),
    *[
        Case(f"M50 {name}", molar_mass, {"species": name}, mass, 0.002, "L", *APPENDIX, "published")
        for name, mass in (
            ("methyl palmitate", 270.4507),
            ("methyl stearate", 298.5038),
            ("methyl oleate", 296.4879),
            ("methyl linoleate", 294.4721),
        )
    ],
]


@each(CASES)
def test_molar_mass(case: Case) -> None:
    case.check()


@pytest.mark.parametrize("species", SPECIES)
def test_molar_mass_by_library(species: str) -> None:
    """M1 to M41: molmass, relative tolerance 1e-5 for the version of the atomic masses (library)."""
    assert molar_mass(species) == pytest.approx(Formula(SPECIES[species]["formula"]).mass, rel=1e-5)


@pytest.mark.parametrize("species", SPECIES)
def test_molar_mass_by_name(species: str) -> None:
    """chemicals looks the substance up by name or registry number: a formula typed wrong would show (library).

    Relative tolerance 1e-5 for the version of the atomic masses.
    """
    name = SPECIES[species].get("name", species)
    number = REGISTRY.get(name) or chemicals.CAS_from_any(name)
    assert molar_mass(species) == pytest.approx(chemicals.MW(number), rel=1e-5)


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
