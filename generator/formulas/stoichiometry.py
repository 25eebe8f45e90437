"""What the reaction can give at most: oil + 3 methanol = 3 ester + glycerol, by exact molar masses.

Free fatty acid is taken as oleic acid that turns to soap. Ester carried off in the soap and glycerol layer
comes on top and is not stoichiometric, so these are ceilings and no forecasts.
"""

from __future__ import annotations

from collections.abc import Mapping

from generator.formulas.constants import molar_mass


def mean_fatty_acid_g_per_mol(profile_pct: Mapping[str, float]) -> float:
    """Mean molar mass of the fatty acids: total mass over total moles; the profile need not add up to 100.

    Units: % m/m by fatty acid (`18:1`) in, g/mol out.
    Range: at least one share above 0, fatty acids of the table.
    Source: Reg. (EEC) 2568/91 annex XVIII, 4.5 (moles in 100 g); published formula.
    """
    moles = sum(share / molar_mass(acid) for acid, share in profile_pct.items())
    return sum(profile_pct.values()) / moles


def triglyceride_g_per_mol(fatty_acid_g_per_mol: float) -> float:
    """Molar mass of the triglyceride of a mean fatty acid: glycerol + 3 acid - 3 water.

    Units: g/mol in and out.
    Range: fatty acids of 140 to 350 g/mol.
    Source: mass balance of the esterification; derived.
    """
    return molar_mass("glycerol") + 3 * (fatty_acid_g_per_mol - molar_mass("water"))


def fatty_acid_from_triglyceride_g_per_mol(triglyceride_g_per_mol: float) -> float:
    """Mean molar mass of the fatty acids of a triglyceride.

    Units: g/mol in and out.
    Range: triglycerides of 460 to 1090 g/mol.
    Source: `triglyceride_g_per_mol` solved for the acid; derived.
    """
    return (triglyceride_g_per_mol - molar_mass("glycerol")) / 3 + molar_mass("water")


def ester_g_per_mol(fatty_acid_g_per_mol: float) -> float:
    """Molar mass of the methyl ester of a mean fatty acid: acid + methanol - water.

    Units: g/mol in and out.
    Range: fatty acids of 140 to 350 g/mol.
    Source: mass balance of the esterification; derived.
    """
    return fatty_acid_g_per_mol + molar_mass("methanol") - molar_mass("water")


def triglyceride_from_saponification_g_per_mol(
    saponification_value_mg_koh_per_g: float, acid_value_mg_koh_per_g: float
) -> float:
    """Mean molar mass of the triglyceride from its saponification value: 3 M(KOH) 1000 / (SV - AV).

    Units: mg KOH/g in, g/mol out.
    Range: saponification values of 150 to 300, acid value well below.
    Source: ISO 3657:2020 annex B, AOCS Cd 3-25; formula from memory.
    """
    return 3000 * molar_mass("KOH") / (saponification_value_mg_koh_per_g - acid_value_mg_koh_per_g)


def ester_ceiling_kg(oil_kg: float, ffa_pct: float, triglyceride_g_per_mol: float) -> float:
    """Ester that the neutral oil gives at full conversion; free acid gives none, it turns to soap.

    Units: kg, % m/m as oleic and g/mol in, kg out.
    Range: free acid 0 to 100 %.
    Source: mass balance of the transesterification; derived.
    """
    ester = ester_g_per_mol(fatty_acid_from_triglyceride_g_per_mol(triglyceride_g_per_mol))
    return _neutral_kg(oil_kg, ffa_pct) * 3 * ester / triglyceride_g_per_mol


def glycerol_in_theory_kg(oil_kg: float, ffa_pct: float, triglyceride_g_per_mol: float) -> float:
    """Pure glycerol that the neutral oil gives at full conversion; the layer drawn off is far larger.

    Units: kg, % m/m as oleic and g/mol in, kg out.
    Range: free acid 0 to 100 %.
    Source: mass balance of the transesterification; derived.
    """
    return _neutral_kg(oil_kg, ffa_pct) * molar_mass("glycerol") / triglyceride_g_per_mol


def methanol_consumed_kg(oil_kg: float, ffa_pct: float, triglyceride_g_per_mol: float) -> float:
    """Methanol that ends in the ester at full conversion; what was fed beyond it is excess.

    Units: kg, % m/m as oleic and g/mol in, kg out.
    Range: free acid 0 to 100 %.
    Source: mass balance of the transesterification; derived.
    """
    return _neutral_kg(oil_kg, ffa_pct) * 3 * molar_mass("methanol") / triglyceride_g_per_mol


def soap_from_ffa_kg(oil_kg: float, ffa_pct: float, soap_g_per_mol: float) -> float:
    """Soap that the free fatty acid makes when it is neutralised.

    Units: kg, % m/m as oleic and g/mol in, kg out.
    Range: free acid 0 to 100 %.
    Source: one mole of soap per mole of oleic acid, exact mass of the acid; derived.
    """
    return oil_kg * ffa_pct / 100 * soap_g_per_mol / molar_mass("18:1")


def water_from_ffa_kg(oil_kg: float, ffa_pct: float) -> float:
    """Water that comes of neutralising the free fatty acid with a hydroxide (a methoxide gives methanol).

    Units: kg and % m/m as oleic in, kg out.
    Range: free acid 0 to 100 %.
    Source: one mole of water per mole of oleic acid; derived.
    """
    return oil_kg * ffa_pct / 100 * molar_mass("water") / molar_mass("18:1")


def _neutral_kg(oil_kg: float, ffa_pct: float) -> float:
    return oil_kg * (1 - ffa_pct / 100)
