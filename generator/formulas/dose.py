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

    Formula: m = n * m_oil * M / (p / 100)
    Where:
        m: catalyst as weighed, g
        n (base_demand_mol_per_kg): demand of the oil for base, mol/kg
        m_oil (oil_kg): oil, kg
        M (catalyst_g_per_mol): molar mass of the catalyst, g/mol
        p (purity_pct): purity of the catalyst, % m/m
    Range: purity above 0 to 100 %.
    Source: one mole of base for one of acid, mass to weigh = pure mass / purity; derived.
    """
    return base_demand_mol_per_kg * oil_kg * catalyst_g_per_mol / (purity_pct / 100)


def base_rate_g(
    rule_g_per_l: float, rule_g_per_mol: float, oil_l: float, catalyst_g_per_mol: float, purity_pct: float
) -> float:
    """Catalyst, as weighed, for the base rate: the rule is for a pure base, carried to the catalyst by moles.

    Formula: m = beta / M_rule * V * M / (p / 100)
    Where:
        m: catalyst as weighed, g
        beta (rule_g_per_l): the maker's rule, pure base per litre of oil, g/L
        M_rule (rule_g_per_mol): molar mass of the base the rule names, g/mol
        V (oil_l): oil, L
        M (catalyst_g_per_mol): molar mass of the catalyst, g/mol
        p (purity_pct): purity of the catalyst, % m/m
    Range: rules in use run from 3.5 to 9 g/L; purity above 0 to 100 %.
    Source: the maker's rule (7 g/L KOH: Clemson University student biodiesel programme, published); the
    conversion by moles is derived.
    """
    return rule_g_per_l / rule_g_per_mol * oil_l * catalyst_g_per_mol / (purity_pct / 100)


def methanol_molar_ratio(
    methanol_kg: float, purity_pct: float, oil_kg: float, triglyceride_g_per_mol: float
) -> float:
    """Moles of methanol per mole of oil taken as triglyceride; 3 are consumed, the rest is excess.

    Formula: r = m * p / 100 / M_MeOH * M_TG / m_oil
    Where:
        r: moles of methanol per mole of oil, mol/mol
        m (methanol_kg): methanol as fed, kg
        p (purity_pct): purity of the methanol, % m/m
        M_MeOH (molar_mass("methanol")): molar mass of methanol, g/mol
        M_TG (triglyceride_g_per_mol): mean molar mass of the oil as triglyceride, g/mol
        m_oil (oil_kg): oil, kg
    Range: usual feeds are 4.5 to 8 mol/mol.
    Source: amount = mass / molar mass, exact mass of methanol; derived.
    """
    return methanol_kg * purity_pct / 100 / molar_mass("methanol") * triglyceride_g_per_mol / oil_kg


def methanol_pct_v_v(methanol_l: float, oil_l: float) -> float:
    """Methanol by volume of oil, both at one temperature.

    Formula: phi = 100 * V / V_oil
    Where:
        phi: methanol by volume of oil, % vol
        V (methanol_l): methanol, L
        V_oil (oil_l): oil, L
    Range: usual feeds are 15 to 30 %.
    Source: a ratio; derived.
    """
    return 100 * methanol_l / oil_l


def methanol_for_ratio_kg(ratio_mol_per_mol: float, oil_kg: float, triglyceride_g_per_mol: float) -> float:
    """Pure methanol for so many moles of it per mole of oil taken as triglyceride.

    Formula: m_MeOH = r * M_MeOH * m_oil / M_TAG
    Where:
        m_MeOH: pure methanol, kg
        r (ratio_mol_per_mol): molar ratio, mol/mol
        M_MeOH (molar_mass("methanol")): molar mass of methanol, g/mol
        m_oil (oil_kg): oil, kg
        M_TAG (triglyceride_g_per_mol): mean molar mass of the oil, g/mol
    Range: 3 mol/mol are consumed; usual feeds are 4.5 to 8 mol/mol.
    Source: amount = mass / molar mass, exact mass of methanol; derived.
    """
    return ratio_mol_per_mol * molar_mass("methanol") * oil_kg / triglyceride_g_per_mol


def methanol_for_volume_kg(pct_v_v: float, oil_l: float, methanol_kg_per_m3: float) -> float:
    """Pure methanol for a share of the oil's volume, both at one temperature.

    Formula: m_MeOH = p / 100 * V_oil * rho / 1000
    Where:
        m_MeOH: pure methanol, kg
        p (pct_v_v): share of the oil's volume, %
        V_oil (oil_l): oil, L
        rho (methanol_kg_per_m3): density of methanol at that temperature, kg/m³
    Range: usual feeds are 15 to 30 %.
    Source: volume times density; derived.
    """
    return pct_v_v / 100 * oil_l * methanol_kg_per_m3 / 1000


def to_weigh_kg(pure_kg: float, purity_pct: float) -> float:
    """What to weigh of an impure lot to have so much of the pure substance: purity is applied here and nowhere else.

    Formula: m = m_pure / (w / 100)
    Where:
        m: mass to weigh, kg
        m_pure (pure_kg): pure substance, kg
        w (purity_pct): purity, % m/m
    Range: purity above 0 to 100 %.
    Source: definition of a mass fraction; derived.
    """
    return pure_kg / (purity_pct / 100)


def rest_of_kg(weighed_kg: float, purity_pct: float) -> float:
    """What a lot holds beside the substance it is named after: water of methanol, methanol of liquid methoxide.

    Formula: m_rest = m * (1 - w / 100)
    Where:
        m_rest: the rest, kg
        m (weighed_kg): mass as weighed, kg
        w (purity_pct): purity, % m/m
    Range: purity above 0 to 100 %.
    Source: definition of a mass fraction; derived.
    """
    return weighed_kg * (1 - purity_pct / 100)


def water_from_hydroxide_kg(pure_kg: float, base_g_per_mol: float) -> float:
    """Water that a hydroxide brings at most, whether it neutralises acid or turns to methoxide; a methoxide brings none.

    Formula: m_H2O = m * M_H2O / M
    Where:
        m_H2O: water, kg
        m (pure_kg): pure hydroxide, kg
        M_H2O (molar_mass("water")): molar mass of water, g/mol
        M (base_g_per_mol): molar mass of the hydroxide, g/mol
    Range: KOH and NaOH.
    Source: one mole of water per mole of hydroxide; derived.
    """
    return pure_kg * molar_mass("water") / base_g_per_mol


def stage_part(whole: float, share_pct: float) -> float:
    """The part of a dose that goes into one stage, in the unit of the whole.

    Formula: d_i = d * s / 100
    Where:
        d_i: part of one stage, unit of the whole
        d (whole): whole dose, any unit
        s (share_pct): share of the stage, %
    Range: shares above 0 that add up to 100 %.
    Source: the maker's own split; derived.
    """
    return whole * share_pct / 100


def dose_g(neutralising_g: float, base_rate_g: float) -> float:
    """Both terms of the maker's rule.

    Formula: m = m_n + m_b
    Where:
        m: catalyst as weighed, g
        m_n (neutralising_g): catalyst that neutralises the free acid, g
        m_b (base_rate_g): catalyst by the base rate, g
    Range: both 0 or above.
    Source: the maker's rule; derived.
    """
    return neutralising_g + base_rate_g


def dose_difference_pct(weighed_g: float, rule_g: float) -> float:
    """Catalyst as weighed against the rule.

    Formula: d = 100 * (m / m_rule - 1)
    Where:
        d: difference from the rule, %
        m (weighed_g): catalyst as weighed, g
        m_rule (rule_g): catalyst by the rule, g
    Range: catalyst by the rule above 0.
    Source: a ratio; derived.
    """
    return 100 * (weighed_g / rule_g - 1)
