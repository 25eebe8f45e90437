"""What follows from the fatty acids of an oil. Estimates of quality from a profile never decide a pass."""

from __future__ import annotations

from collections.abc import Mapping

from generator.formulas.constants import molar_mass
from generator.formulas.stoichiometry import mean_fatty_acid_g_per_mol, triglyceride_g_per_mol


def double_bonds(fatty_acid: str) -> int:
    """Double bonds of a fatty acid, read from its short name: 2 for `18:2`.

    Units: a count.
    Range: names of the form carbon:double bonds.
    Source: the usual short name of fatty acids; from memory.
    """
    return int(fatty_acid.partition(":")[2])


def saponification_value_mg_koh_per_g(profile_pct: Mapping[str, float]) -> float:
    """Saponification value of the neutral oil: three moles of base per mole of triglyceride.

    Formula: SV = 3000 * M_KOH / M_TG
    Where:
        SV: saponification value, mg KOH/g
        M_KOH (molar_mass("KOH")): molar mass of potassium hydroxide, exact, g/mol
        M_TG (triglyceride_g_per_mol(mean_fatty_acid_g_per_mol(profile_pct))): molar mass of the mean triglyceride, g/mol
    Range: 169 to 313 mg KOH/g in 75 oils (Azam et al. 2005).
    Source: three moles of base per mole of triglyceride; derived.
    """
    return 3000 * molar_mass("KOH") / triglyceride_g_per_mol(mean_fatty_acid_g_per_mol(profile_pct))


def iodine_value_g_per_100_g(profile_pct: Mapping[str, float]) -> float:
    """Iodine value of the oil: one mole of iodine per double bond, each acid counted as its triglyceride.

    Formula: IV = 100 * M_I2 * sum(w_i * 3 * z_i / M_i) / sum(w_i)
    Where:
        IV: iodine value, g I₂/100 g
        M_I2 (molar_mass("I2")): molar mass of iodine, g/mol
        w_i (profile_pct): share of the fatty acid i, % m/m
        z_i ([double_bonds(acid) for acid in profile_pct]): its double bonds, a count
        M_i ([triglyceride_g_per_mol(molar_mass(acid)) for acid in profile_pct]): molar mass of its triglyceride, g/mol
    Range: 5 to 212 g I₂/100 g in 75 oils (Azam et al. 2005).
    Source: AOCS Cd 1c-85 with exact masses for its printed factors; from memory.
    """
    bound = sum(
        share * 3 * double_bonds(acid) / triglyceride_g_per_mol(molar_mass(acid))
        for acid, share in profile_pct.items()
    )
    return 100 * molar_mass("I2") * bound / sum(profile_pct.values())
