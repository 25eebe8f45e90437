"""Acid pre-treatment: methanol and acid by the maker's rule, what the esterification makes, the base its acid costs.

Arithmetic on the maker's rule, to be checked by them; no recipe. Acid goes into methanol, slowly, never the reverse.
"""

from __future__ import annotations

from generator.formulas.constants import molar_mass


def per_free_acid_kg(oil_kg: float, ffa_pct: float, rule_g_per_g: float) -> float:
    """Pure methanol or pure mineral acid for an oil, by a rule per gram of its free fatty acid.

    Formula: m = r * m_oil * FFA / 100
    Where:
        m: pure methanol or acid, kg
        r (rule_g_per_g): rule, g/g
        m_oil (oil_kg): oil, kg
        FFA (ffa_pct): free fatty acid, % m/m
    Range: free acid 0 to 100 %; 2.25 g/g of methanol and 0.05 g/g of sulfuric acid are in use.
    Source: Van Gerpen et al., Biodiesel Production Technology, NREL/SR-510-36244 (2004); from memory.
    """
    return rule_g_per_g * oil_kg * ffa_pct / 100


def free_acid_converted_mol(oil_kg: float, before_mol_per_kg: float, after_mol_per_kg: float) -> float:
    """Free fatty acid that turned to ester, from its content before and after, without mineral acid.

    Formula: n = m_oil * (b - a)
    Where:
        n: free fatty acid converted, mol
        m_oil (oil_kg): oil, kg
        b (before_mol_per_kg): free fatty acid before, mol/kg
        a (after_mol_per_kg): free fatty acid after, mol/kg
    Range: after not above before.
    Source: difference of two contents on the mass of the oil; derived.
    """
    return oil_kg * (before_mol_per_kg - after_mol_per_kg)


def esterification_water_kg(converted_mol: float) -> float:
    """Water that the esterification makes: one mole per mole of free fatty acid.

    Formula: m_H2O = n * M_H2O / 1000
    Where:
        m_H2O: water, kg
        n (converted_mol): free fatty acid converted, mol
        M_H2O (molar_mass("water")): molar mass of water, g/mol
    Range: 0 mol and above.
    Source: RCOOH + CH3OH = RCOOCH3 + H2O, exact mass; derived.
    """
    return converted_mol * molar_mass("water") / 1000


def esterification_methanol_kg(converted_mol: float) -> float:
    """Methanol that the esterification takes: one mole per mole of free fatty acid.

    Formula: m_MeOH = n * M_MeOH / 1000
    Where:
        m_MeOH: methanol, kg
        n (converted_mol): free fatty acid converted, mol
        M_MeOH (molar_mass("methanol")): molar mass of methanol, g/mol
    Range: 0 mol and above.
    Source: RCOOH + CH3OH = RCOOCH3 + H2O, exact mass; derived.
    """
    return converted_mol * molar_mass("methanol") / 1000


def esterification_ester_kg(converted_mol: float) -> float:
    """Ester that the esterification makes of free fatty acid taken as oleic acid.

    Formula: m_E = n * M_E / 1000
    Where:
        m_E: methyl ester, kg
        n (converted_mol): free fatty acid converted, mol
        M_E (molar_mass("methyl oleate")): molar mass of methyl oleate, g/mol
    Range: 0 mol and above.
    Source: RCOOH + CH3OH = RCOOCH3 + H2O, exact mass; derived.
    """
    return converted_mol * molar_mass("methyl oleate") / 1000


def mineral_acid_demand_mol(acid_kg: float) -> float:
    """Base that neutralises sulfuric acid: two moles per mole.

    Formula: n = 2000 * m / M_a
    Where:
        n: base, mol
        m (acid_kg): pure sulfuric acid, kg
        M_a (molar_mass("H2SO4")): molar mass of sulfuric acid, g/mol
    Range: acid that stayed with the oil; none where it was drained with its layer.
    Source: H2SO4 + 2 KOH = K2SO4 + 2 H2O, exact mass; derived.
    """
    return 2000 * acid_kg / molar_mass("H2SO4")


def base_for_mineral_acid_g(demand_mol: float, catalyst_g_per_mol: float, purity_pct: float) -> float:
    """Catalyst, as weighed, that neutralises mineral acid.

    Formula: m = n * M / (w / 100)
    Where:
        m: catalyst as weighed, g
        n (demand_mol): base wanted, mol
        M (catalyst_g_per_mol): molar mass of the catalyst, g/mol
        w (purity_pct): purity of the catalyst, % m/m
    Range: purity above 0 to 100 %.
    Source: mass to weigh = pure mass / purity; derived.
    """
    return demand_mol * catalyst_g_per_mol / (purity_pct / 100)
