"""Titrations worked out in textbooks, teaching laboratories, pharmacopoeias and papers, through our formulas."""

from __future__ import annotations

from generator.formulas.acidity import (
    acid_value_mg_koh_per_g,
    base_demand_from_acid_value_mol_per_kg,
    base_demand_mol_per_kg,
    ffa_pct,
    standardised_mol_per_l,
    titrant_mol_per_l,
)
from generator.formulas.constants import molar_mass

from .case import Case, each

OPENSTAX = ("OpenStax, Chemistry 2e", "4.5, module m68716")
VIRTUAL_LAB = ("Virtual Labs (India), saponification of fats and oils, experiment 8", "table of readings")
USP = "United States Pharmacopeia, reproduced"
BP = "British Pharmacopoeia, reproduced"
ENERGIES = ("Energies 5(8):2683 (2012), doi 10.3390/en5082683", "abstract: acid value 3.76, free acid 1.88 %")
SERBIAN = ("Sharma et al. (2008), quoted in an open chapter on frying oil", "acid value against free acid")


def demand(v_ml: float, b_ml: float, c_mol_per_l: float, m_g: float) -> float:
    """Moles per kilogram of the sample, or per litre where the sample is in mL."""
    return base_demand_mol_per_kg(v_ml, b_ml, c_mol_per_l, m_g)


def diprotic(v_ml: float, c_mol_per_l: float, sample_ml: float) -> float:
    """An acid that takes two moles of base: half the demand."""
    return base_demand_mol_per_kg(v_ml, 0, c_mol_per_l, sample_ml) / 2


def saponification_value(blank_ml: float, back_ml: float, c_mol_per_l: float, m_g: float) -> float:
    """Back titration with acid: what the blank takes more is what the fat took; mg KOH/g as for an acid value."""
    return acid_value_mg_koh_per_g(base_demand_mol_per_kg(blank_ml, back_ml, c_mol_per_l, m_g))


def mean_saponification_value(rows: tuple[tuple[float, float, float], ...]) -> float:
    return sum(saponification_value(blank, back, 0.5, m) for m, back, blank in rows) / len(rows)


def acid_value(v_ml: float, c_mol_per_l: float, m_g: float) -> float:
    return acid_value_mg_koh_per_g(base_demand_mol_per_kg(v_ml, 0, c_mol_per_l, m_g))


def ffa_of_acid_value(acid_value_mg_koh_per_g: float) -> float:
    return ffa_pct(base_demand_from_acid_value_mol_per_kg(acid_value_mg_koh_per_g))


def pure_base_mol_per_l(base: str, strength_g_per_l: float) -> float:
    return titrant_mol_per_l(strength_g_per_l, molar_mass(base), 100)


READINGS = ((1.51, 7.3, 20.1), (1.50, 7.5, 20.0), (1.53, 7.0, 20.2))
PRINTED = (237.77, 233.75, 242.00)

CASES = [
    Case(
        "hydrochloric acid by sodium hydroxide",
        demand,
        {"v_ml": 35.23, "b_ml": 0, "c_mol_per_l": 0.250, "m_g": 50.00},
        0.176,
        5e-4,
        "R",
        OPENSTAX[0],
        f"{OPENSTAX[1]}, example 4.10",
        "published",
    ),
    Case(
        "acid rain, as sulfuric acid",
        diprotic,
        {"v_ml": 1.7, "c_mol_per_l": 0.0811, "sample_ml": 20.0},
        3.4e-3,
        5e-5,
        "R",
        OPENSTAX[0],
        f"{OPENSTAX[1]}, end of chapter, acid rain",
        "published",
    ),
    Case(
        "hydrochloric acid by sodium hydroxide, another book",
        demand,
        {"v_ml": 20.70, "b_ml": 0, "c_mol_per_l": 0.500, "m_g": 15.00},
        0.690,
        5e-4,
        "R",
        "Mountain Heights Academy, open course in chemistry",
        "titration calculations, first example",
        "published",
    ),
    *[
        Case(
            f"saponification value, row {n}",
            saponification_value,
            {"blank_ml": blank, "back_ml": back, "c_mol_per_l": 0.5, "m_g": m},
            printed,
            0.005,
            "R",
            VIRTUAL_LAB[0],
            f"{VIRTUAL_LAB[1]}, row {n}",
            "published",
        )
        for n, ((m, back, blank), printed) in enumerate(zip(READINGS, PRINTED, strict=True), 1)
    ],
    Case(
        "saponification value, mean",
        mean_saponification_value,
        {"rows": READINGS},
        237.84,
        0.01,
        "R",
        *VIRTUAL_LAB,
        "published",
    ),
    Case(
        "free acid of an esterified oil",
        ffa_of_acid_value,
        {"acid_value_mg_koh_per_g": 3.76},
        1.88,
        0.012,
        "K",
        *ENERGIES,
        "published",
    ),
    Case(
        "free acid of a feedstock, 1 %",
        ffa_of_acid_value,
        {"acid_value_mg_koh_per_g": 2.0},
        1.0,
        0.01,
        "K",
        *SERBIAN,
        "secondary copy",
    ),
    Case(
        "free acid of a feedstock, 2 %",
        ffa_of_acid_value,
        {"acid_value_mg_koh_per_g": 4.0},
        2.0,
        0.02,
        "K",
        *SERBIAN,
        "secondary copy",
    ),
    Case(
        "phthalate, sample exercise",
        standardised_mol_per_l,
        {"phthalate_g": 1.3009, "purity_pct": 100, "titrant_ml": 41.20},
        0.1546,
        5e-5,
        "R",
        "Zumdahl and Zumdahl, Chemistry (attribution from memory), as quoted in open course notes",
        "neutralisation titration: 1.3009 g against 41.20 mL",
        "secondary copy",
    ),
    Case(
        "phthalate, 0.1 mol/L",
        standardised_mol_per_l,
        {"phthalate_g": 0.02042, "purity_pct": 100, "titrant_ml": 1},
        0.1,
        2.5e-5,
        "R",
        BP,
        "sodium hydroxide VS: 1 mL of 0.1 M is 20.42 mg of phthalate",
        "secondary copy",
    ),
    Case(
        "phthalate, 1 mol/L",
        standardised_mol_per_l,
        {"phthalate_g": 0.2042, "purity_pct": 100, "titrant_ml": 1},
        1.0,
        2.5e-4,
        "R",
        BP,
        "sodium hydroxide VS: 1 mL of 1 M is 204.2 mg of phthalate",
        "secondary copy",
    ),
    Case(
        "normal potassium hydroxide",
        pure_base_mol_per_l,
        {"base": "KOH", "strength_g_per_l": 56.11},
        1.0,
        9e-5,
        "R",
        USP,
        "potassium hydroxide, assay: 1 mL of 1 N is 56.11 mg",
        "secondary copy",
    ),
    Case(
        "tenth normal sodium hydroxide",
        pure_base_mol_per_l,
        {"base": "NaOH", "strength_g_per_l": 4.00},
        0.1,
        1.25e-4,
        "R",
        BP,
        "sodium hydroxide VS: 1 mL of 0.1 M is 4.00 mg",
        "secondary copy",
    ),
    Case(
        "limit of soybean oil in two editions",
        acid_value,
        {"v_ml": 2.5, "c_mol_per_l": 0.020, "m_g": 10},
        0.3,
        0.05,
        "R",
        USP,
        "soybean oil: 2.5 mL of 0.020 N on 10 g (USP 28, 29), acid value 0.3 (USP 35)",
        "secondary copy",
    ),
]


@each(CASES)
def test_titration(case: Case) -> None:
    case.check()
