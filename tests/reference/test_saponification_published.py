"""Saponification, acid and glycerol in exercises with printed answers: from the titration to molar mass and glycerol.

School books take whole atomic masses (56, 92, 884, 890), so the tolerances are choices of constants, about 0.2 %.
"""

from __future__ import annotations

from collections.abc import Mapping

from generator.formulas.acidity import acid_value_mg_koh_per_g, base_demand_mol_per_kg
from generator.formulas.constants import molar_mass
from generator.formulas.profile import saponification_value_mg_koh_per_g
from generator.formulas.soap import residual_catalyst_mg_per_kg
from generator.formulas.stoichiometry import (
    ester_g_per_mol,
    glycerol_in_theory_kg,
    triglyceride_from_saponification_g_per_mol,
    triglyceride_g_per_mol,
)

from .case import Case, each

APPENDIX = ("Ramírez-Verduzco, Sustainability 14(11):6804 (2022)", "appendix B, doi 10.3390/su14116804")
INTERKLASA = "Interklasa, Polish education portal, fats"


def saponification_value_of_batch(base_ml: float, mol_per_l: float, fat_g: float) -> float:
    return acid_value_mg_koh_per_g(base_demand_mol_per_kg(base_ml, 0, mol_per_l, fat_g))


def glycerol_g(fat_g: float, saponification_value: float, acid_value: float) -> float:
    """All of the fat counts: the acid in it is taken off by the acid value."""
    triglyceride = triglyceride_from_saponification_g_per_mol(saponification_value, acid_value)
    return glycerol_in_theory_kg(fat_g, 0, triglyceride)


def saponification_value_of_mix(acids_pct: Mapping[str, float], triglyceride_pct: float, of: str) -> float:
    """Free acids by their moles, the rest as the triglyceride of one acid."""
    acids_mol_per_kg = sum(10 * share / molar_mass(acid) for acid, share in acids_pct.items())
    neutral = saponification_value_mg_koh_per_g({of: 100.0})
    return acid_value_mg_koh_per_g(acids_mol_per_kg) + triglyceride_pct / 100 * neutral


def triglyceride_of(fatty_acid: str) -> float:
    return triglyceride_g_per_mol(molar_mass(fatty_acid))


def ester_of(fatty_acid: str) -> float:
    return ester_g_per_mol(molar_mass(fatty_acid))


def base_in_a_gram_mg(acid_ml: float, acid_mol_per_l: float, base: str) -> float:
    return residual_catalyst_mg_per_kg(acid_ml, 0, acid_mol_per_l, 1000, molar_mass(base))


CASES = [
    *[
        Case(f"ester of {acid}", ester_of, {"fatty_acid": acid}, mass, 0.002, "L", *APPENDIX, "published")
        for acid, mass in (("16:0", 270.4507), ("18:0", 298.5038), ("18:1", 296.4879), ("18:2", 294.4721))
    ],
    *[
        Case(
            f"triglyceride of {acid}",
            triglyceride_of,
            {"fatty_acid": acid},
            mass,
            1.6,
            "K",
            INTERKLASA,
            "exercise 1, glycerides of 806 to 890 g/mol; whole atomic masses",
            "published",
        )
        for acid, mass in (("16:0", 806), ("18:0", 890))
    ],
    Case(
        "potassium hydroxide by acid, mg",
        base_in_a_gram_mg,
        {"acid_ml": 1, "acid_mol_per_l": 1, "base": "KOH"},
        56.11,
        0.005,
        "R",
        "United States Pharmacopeia, reproduced",
        "potassium hydroxide, assay: 1 mL of 1 N is 56.11 mg",
        "secondary copy",
    ),
    Case(
        "sodium hydroxide by acid, mg",
        base_in_a_gram_mg,
        {"acid_ml": 1, "acid_mol_per_l": 1, "base": "NaOH"},
        40.00,
        0.005,
        "R",
        "British Pharmacopoeia, reproduced",
        "sodium hydroxide VS: 1 mL of 1 M is 40.00 mg",
        "secondary copy",
    ),
]


@each(CASES)
def test_saponification(case: Case) -> None:
    case.check()
