"""From burette readings to acid: the demand for base in moles first, then the figures people quote.

The demand in mol/kg is exact whatever base stands in the burette; acid value and free fatty acid are
conventions on it.
"""

from __future__ import annotations

from collections.abc import Sequence

from generator.formulas.constants import (
    KOH_CONVENTION_G_PER_MOL,
    OLEIC_CONVENTION_G_PER_MOL,
    molar_mass,
)

TITRANT_EXPANSION_PER_K = 0.0011
"""Relative expansion of an alcoholic titrant, 1/K (EN 14104, 2003 text, clause 10, note: secondary copy)."""


def titrant_mol_per_l(strength_g_per_l: float, base_g_per_mol: float, purity_pct: float) -> float:
    """Amount concentration of a titrant made by weighing a base of the given purity.

    Pure base: purity 100. Made from a lot: the lot's purity, so that purity is counted once.

    Formula: c = beta * p / (100 * M)
    Where:
        c: amount concentration of the titrant, mol/L
        beta (strength_g_per_l): base as weighed into a litre of titrant, g/L
        p (purity_pct): purity of the base, % m/m
        M (base_g_per_mol): molar mass of the base, g/mol
    Range: strength above 0, purity above 0 to 100 %.
    Source: amount = mass / molar mass; derived.
    """
    return strength_g_per_l * purity_pct / 100 / base_g_per_mol


def base_demand_mol_per_kg(
    titrant_ml: float, blank_ml: float, titrant_mol_per_l: float, sample_g: float
) -> float:
    """Base that neutralises one kilogram of oil; it counts mineral acid too.

    Formula: n = (V - B) * c / m
    Where:
        n: demand for base, mol/kg
        V (titrant_ml): titrant used for the sample, mL
        B (blank_ml): titrant used for the blank, mL
        c (titrant_mol_per_l): amount concentration of the titrant, mol/L
        m (sample_g): sample, g
    Range: sample above 0; below zero where the blank exceeds the reading.
    Source: EN 14104 (2003 text) clause 10, before its factor 56.1; secondary copy, blank from memory.
    """
    return (titrant_ml - blank_ml) * titrant_mol_per_l / sample_g


def acid_value_mg_koh_per_g(base_demand_mol_per_kg: float) -> float:
    """Acid value: the demand for base told as milligrams of potassium hydroxide.

    Formula: AV = M_KOH * n
    Where:
        AV: acid value, mg KOH/g
        M_KOH (KOH_CONVENTION_G_PER_MOL): molar mass of potassium hydroxide by convention, 56.1, g/mol
        n (base_demand_mol_per_kg): demand for base, mol/kg
    Range: 0 to 200 mg KOH/g for oils.
    Source: EN 14104 (2003 text) clause 10; secondary copy.
    """
    return KOH_CONVENTION_G_PER_MOL * base_demand_mol_per_kg


def base_demand_from_acid_value_mol_per_kg(acid_value_mg_koh_per_g: float) -> float:
    """Demand for base behind an acid value that a laboratory gave.

    Formula: n = AV / M_KOH
    Where:
        n: demand for base, mol/kg
        AV (acid_value_mg_koh_per_g): acid value, mg KOH/g
        M_KOH (KOH_CONVENTION_G_PER_MOL): molar mass of potassium hydroxide by convention, 56.1, g/mol
    Range: 0 to 200 mg KOH/g for oils.
    Source: EN 14104 (2003 text) clause 10, solved for the amount; secondary copy.
    """
    return acid_value_mg_koh_per_g / KOH_CONVENTION_G_PER_MOL


def ffa_pct(base_demand_mol_per_kg: float, acid_g_per_mol: float = OLEIC_CONVENTION_G_PER_MOL) -> float:
    """Free fatty acid, counted as oleic acid unless another acid is named: a tenth of its molar mass times the demand for base.

    Overstated after an acid pre-treatment, whose mineral acid counts too.

    Formula: FFA = M * n / 10
    Where:
        FFA: free fatty acid, % m/m
        M (acid_g_per_mol): molar mass of the acid it is counted as, by convention, g/mol
        n (base_demand_mol_per_kg): demand for base, mol/kg
    Range: 0 to 100 %.
    Source: AOCS Ca 5a-40 (reapproved 2009), calculations; numerator secondary copy, mass and blank from
    memory; other acids from memory.
    """
    return acid_g_per_mol / 10 * base_demand_mol_per_kg


def titrant_at_standard_temperature_ml(titrant_ml: float, temperature_c: float, standard_c: float) -> float:
    """Volume an alcoholic titrant would have at the temperature at which it was standardised.

    Formula: V_0 = V * (1 - alpha * (t - t_0))
    Where:
        V_0: volume at the temperature of standardisation, mL
        V (titrant_ml): volume as read, mL
        alpha (TITRANT_EXPANSION_PER_K): relative expansion of the titrant, 0.0011, 1/K
        t (temperature_c): temperature of the titration, °C
        t_0 (standard_c): temperature at which the titrant was standardised, °C
    Range: 0 to 40 °C.
    Source: EN 14104 (2003 text) clause 10, note; secondary copy.
    """
    return titrant_ml * (1 - TITRANT_EXPANSION_PER_K * (temperature_c - standard_c))


def spread_pct(readings: Sequence[float]) -> float:
    """Spread of repeated readings: the range over the mean.

    Formula: s = 100 * (max(x) - min(x)) / (sum(x) / n)
    Where:
        s: spread, %
        x (readings): readings, any one unit
        n (len(readings)): number of readings, a count
    Range: at least one reading, the mean not 0.
    Source: range over mean; the habit of rejecting 5 % is common practice, no source; the formula is derived.
    """
    return 100 * (max(readings) - min(readings)) / (sum(readings) / len(readings))


def standardised_mol_per_l(phthalate_g: float, purity_pct: float, titrant_ml: float) -> float:
    """Amount concentration of a titrant measured against potassium hydrogen phthalate.

    Formula: c = 10 * m * P / (M * V)
    Where:
        c: amount concentration of the titrant, mol/L
        m (phthalate_g): potassium hydrogen phthalate, g
        P (purity_pct): its purity, % m/m
        M (molar_mass("KHP")): its molar mass, g/mol
        V (titrant_ml): titrant to the end point, less the blank, mL
    Range: titrant above 0; 0.02 to 1 mol/L.
    Source: Eurachem/CITAC QUAM, 3rd ed., example A2; published formula.
    """
    return 10 * phthalate_g * purity_pct / (molar_mass("KHP") * titrant_ml)
