"""What to weigh: the maker's own rule and the neutralising part, by moles, each divided by purity once.

Arithmetic on the maker's rule, to be checked by them; no recipe. Alkali in methanol runs hot, methoxide burns
skin.
"""

from __future__ import annotations

from generator.formulas.constants import molar_mass


def neutralising_g(
    base_demand_mol_per_kg: float, oil_kg: float, catalyst_g_per_mol: float, purity_pct: float
) -> float:
    """Catalyst, as weighed, that neutralises the free acid of the oil.

    Units: mol/kg, kg, g/mol and % m/m in, g out.
    Range: purity above 0 to 100 %.
    Source: one mole of base for one of acid, mass to weigh = pure mass / purity; derived.
    """
    return base_demand_mol_per_kg * oil_kg * catalyst_g_per_mol / (purity_pct / 100)


def base_rate_g(
    rule_g_per_l: float, rule_g_per_mol: float, oil_l: float, catalyst_g_per_mol: float, purity_pct: float
) -> float:
    """Catalyst, as weighed, for the base rate: the rule is for a pure base, carried to the catalyst by moles.

    Units: g/L, g/mol, L and % m/m in, g out.
    Range: rules in use run from 3.5 to 9 g/L; purity above 0 to 100 %.
    Source: the maker's rule (7 g/L KOH is published by the Clemson University student biodiesel programme);
    the conversion by moles is derived.
    """
    return rule_g_per_l / rule_g_per_mol * oil_l * catalyst_g_per_mol / (purity_pct / 100)


def methanol_molar_ratio(
    methanol_kg: float, purity_pct: float, oil_kg: float, triglyceride_g_per_mol: float
) -> float:
    """Moles of methanol per mole of oil taken as triglyceride; 3 are consumed, the rest is excess.

    Units: kg, % m/m, kg and g/mol in, mol/mol out.
    Range: usual feeds are 4.5 to 8 mol/mol.
    Source: amount = mass / molar mass, exact mass of methanol; derived.
    """
    return methanol_kg * purity_pct / 100 / molar_mass("methanol") * triglyceride_g_per_mol / oil_kg


def methanol_pct_v_v(methanol_l: float, oil_l: float) -> float:
    """Methanol by volume of oil, both at one temperature.

    Units: L in, % of the oil's volume out.
    Range: usual feeds are 15 to 30 %.
    Source: a ratio; derived.
    """
    return 100 * methanol_l / oil_l
