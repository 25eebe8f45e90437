"""What the reaction can give at most: oil + 3 methanol = 3 ester + glycerol, by exact molar masses.

Free fatty acid is taken as oleic acid that turns to soap. Ester carried off in the soap and glycerol layer
comes on top and is not stoichiometric, so these are ceilings and no forecasts.
"""

from __future__ import annotations

from collections.abc import Mapping

from generator.formulas.constants import molar_mass


def mean_fatty_acid_g_per_mol(profile_pct: Mapping[str, float]) -> float:
    """Mean molar mass of the fatty acids: total mass over total moles; the profile need not add up to 100.

    Formula: M_FA = sum(w_i) / sum(w_i / M_i)
    Where:
        M_FA: mean molar mass of the fatty acids, g/mol
        w_i (profile_pct): share of the fatty acid i, % m/m
        M_i ([molar_mass(acid) for acid in profile_pct]): molar mass of the fatty acid i, g/mol
    Range: at least one share above 0, fatty acids of the table.
    Source: Reg. (EEC) 2568/91 annex XVIII, 4.5 (moles in 100 g); published formula.
    """
    moles = sum(share / molar_mass(acid) for acid, share in profile_pct.items())
    return sum(profile_pct.values()) / moles


def triglyceride_g_per_mol(fatty_acid_g_per_mol: float) -> float:
    """Molar mass of the triglyceride of a mean fatty acid: glycerol + 3 acid - 3 water.

    Formula: M_TG = M_glycerol + 3 * (M_FA - M_water)
    Where:
        M_TG: molar mass of the triglyceride, g/mol
        M_glycerol (molar_mass("glycerol")): molar mass of glycerol, g/mol
        M_FA (fatty_acid_g_per_mol): mean molar mass of the fatty acids, g/mol
        M_water (molar_mass("water")): molar mass of water, g/mol
    Range: fatty acids of 140 to 350 g/mol.
    Source: mass balance of the esterification; derived.
    """
    return molar_mass("glycerol") + 3 * (fatty_acid_g_per_mol - molar_mass("water"))


def fatty_acid_from_triglyceride_g_per_mol(triglyceride_g_per_mol: float) -> float:
    """Mean molar mass of the fatty acids of a triglyceride.

    Formula: M_FA = (M_TG - M_glycerol) / 3 + M_water
    Where:
        M_FA: mean molar mass of the fatty acids, g/mol
        M_TG (triglyceride_g_per_mol): molar mass of the triglyceride, g/mol
        M_glycerol (molar_mass("glycerol")): molar mass of glycerol, g/mol
        M_water (molar_mass("water")): molar mass of water, g/mol
    Range: triglycerides of 460 to 1090 g/mol.
    Source: molar mass of the triglyceride solved for the acid; derived.
    """
    return (triglyceride_g_per_mol - molar_mass("glycerol")) / 3 + molar_mass("water")


def ester_g_per_mol(fatty_acid_g_per_mol: float) -> float:
    """Molar mass of the methyl ester of a mean fatty acid: acid + methanol - water.

    Formula: M_E = M_FA + M_MeOH - M_water
    Where:
        M_E: mean molar mass of the methyl esters, g/mol
        M_FA (fatty_acid_g_per_mol): mean molar mass of the fatty acids, g/mol
        M_MeOH (molar_mass("methanol")): molar mass of methanol, g/mol
        M_water (molar_mass("water")): molar mass of water, g/mol
    Range: fatty acids of 140 to 350 g/mol.
    Source: mass balance of the esterification; derived.
    """
    return fatty_acid_g_per_mol + molar_mass("methanol") - molar_mass("water")


def triglyceride_from_saponification_g_per_mol(
    saponification_value_mg_koh_per_g: float, acid_value_mg_koh_per_g: float
) -> float:
    """Mean molar mass of the triglyceride from its saponification value.

    Formula: M_TG = 3000 * M_KOH / (SV - AV)
    Where:
        M_TG: molar mass of the mean triglyceride, g/mol
        M_KOH (molar_mass("KOH")): molar mass of potassium hydroxide, exact, g/mol
        SV (saponification_value_mg_koh_per_g): saponification value, mg KOH/g
        AV (acid_value_mg_koh_per_g): acid value, mg KOH/g
    Range: saponification values of 150 to 300, acid value well below.
    Source: ISO 3657:2020 annex B, AOCS Cd 3-25; formula from memory.
    """
    return 3000 * molar_mass("KOH") / (saponification_value_mg_koh_per_g - acid_value_mg_koh_per_g)


def neutral_triglyceride_g_per_mol(oil_g_per_mol: float, ffa_pct: float) -> float:
    """Molar mass of the triglyceride itself, from grams of whole oil per mole of it: its free acid is no triglyceride.

    Formula: M = M_o * (1 - FFA / 100)
    Where:
        M: mean molar mass of the triglyceride, g/mol
        M_o (oil_g_per_mol): whole oil that holds one mole of triglyceride, g/mol
        FFA (ffa_pct): free fatty acid as oleic acid, % m/m
    Range: free acid 0 to 100 %.
    Source: mass balance of the oil; derived.
    """
    return oil_g_per_mol * (1 - ffa_pct / 100)


def ester_ceiling_kg(oil_kg: float, ffa_pct: float, triglyceride_g_per_mol: float) -> float:
    """Ester that the neutral oil gives at full conversion; free acid gives none, it turns to soap.

    Formula: m = m_oil * (1 - FFA / 100) * 3 * M_E / M_TG
    Where:
        m: ester in theory, kg
        m_oil (oil_kg): oil, kg
        FFA (ffa_pct): free fatty acid as oleic acid, % m/m
        M_TG (triglyceride_g_per_mol): molar mass of the mean triglyceride, g/mol
        M_E (ester_g_per_mol(fatty_acid_from_triglyceride_g_per_mol(triglyceride_g_per_mol))): mean molar mass of its methyl esters, g/mol
    Range: free acid 0 to 100 %.
    Source: mass balance of the transesterification; derived.
    """
    ester = ester_g_per_mol(fatty_acid_from_triglyceride_g_per_mol(triglyceride_g_per_mol))
    return _neutral_kg(oil_kg, ffa_pct) * 3 * ester / triglyceride_g_per_mol


def glycerol_in_theory_kg(oil_kg: float, ffa_pct: float, triglyceride_g_per_mol: float) -> float:
    """Pure glycerol that the neutral oil gives at full conversion; the layer drawn off is far larger.

    Formula: m = m_oil * (1 - FFA / 100) * M_glycerol / M_TG
    Where:
        m: glycerol in theory, kg
        m_oil (oil_kg): oil, kg
        FFA (ffa_pct): free fatty acid as oleic acid, % m/m
        M_TG (triglyceride_g_per_mol): molar mass of the mean triglyceride, g/mol
        M_glycerol (molar_mass("glycerol")): molar mass of glycerol, g/mol
    Range: free acid 0 to 100 %.
    Source: mass balance of the transesterification; derived.
    """
    return _neutral_kg(oil_kg, ffa_pct) * molar_mass("glycerol") / triglyceride_g_per_mol


def methanol_consumed_kg(oil_kg: float, ffa_pct: float, triglyceride_g_per_mol: float) -> float:
    """Methanol that ends in the ester at full conversion; what was fed beyond it is excess.

    Formula: m = m_oil * (1 - FFA / 100) * 3 * M_MeOH / M_TG
    Where:
        m: methanol consumed, kg
        m_oil (oil_kg): oil, kg
        FFA (ffa_pct): free fatty acid as oleic acid, % m/m
        M_TG (triglyceride_g_per_mol): molar mass of the mean triglyceride, g/mol
        M_MeOH (molar_mass("methanol")): molar mass of methanol, g/mol
    Range: free acid 0 to 100 %.
    Source: mass balance of the transesterification; derived.
    """
    return _neutral_kg(oil_kg, ffa_pct) * 3 * molar_mass("methanol") / triglyceride_g_per_mol


def soap_from_ffa_kg(oil_kg: float, ffa_pct: float, soap_g_per_mol: float) -> float:
    """Soap that the free fatty acid makes when it is neutralised.

    Formula: m = m_oil * FFA / 100 * M_soap / M_oleic
    Where:
        m: soap, kg
        m_oil (oil_kg): oil, kg
        FFA (ffa_pct): free fatty acid as oleic acid, % m/m
        M_soap (soap_g_per_mol): molar mass of the soap, g/mol
        M_oleic (molar_mass("18:1")): molar mass of oleic acid, exact, g/mol
    Range: free acid 0 to 100 %.
    Source: one mole of soap per mole of oleic acid, exact mass of the acid; derived.
    """
    return oil_kg * ffa_pct / 100 * soap_g_per_mol / molar_mass("18:1")


def water_from_ffa_kg(oil_kg: float, ffa_pct: float) -> float:
    """Water that comes of neutralising the free fatty acid with a hydroxide (a methoxide gives methanol).

    Formula: m = m_oil * FFA / 100 * M_water / M_oleic
    Where:
        m: water, kg
        m_oil (oil_kg): oil, kg
        FFA (ffa_pct): free fatty acid as oleic acid, % m/m
        M_water (molar_mass("water")): molar mass of water, g/mol
        M_oleic (molar_mass("18:1")): molar mass of oleic acid, exact, g/mol
    Range: free acid 0 to 100 %.
    Source: one mole of water per mole of oleic acid; derived.
    """
    return oil_kg * ffa_pct / 100 * molar_mass("water") / molar_mass("18:1")


def _neutral_kg(oil_kg: float, ffa_pct: float) -> float:
    return oil_kg * (1 - ffa_pct / 100)
