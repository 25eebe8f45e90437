"""From burette readings to acid: the demand for base in moles first, then the figures people quote.

The demand in mol/kg is exact whatever base stands in the burette; acid value and free fatty acid are
conventions on it.
"""

from __future__ import annotations

from collections.abc import Sequence

from generator.formulas.constants import KOH_CONVENTION_G_PER_MOL, OLEIC_CONVENTION_G_PER_MOL

TITRANT_EXPANSION_PER_K = 0.0011
"""Relative expansion of an alcoholic titrant, 1/K (EN 14104, 2003 text, clause 10, note: secondary copy)."""


def titrant_mol_per_l(strength_g_per_l: float, base_g_per_mol: float, purity_pct: float) -> float:
    """Amount concentration of a titrant made by weighing a base of the given purity (mass %).

    Pure base: purity 100. Made from a lot: the lot's purity, so that purity is counted once.
    Units: g/L, g/mol and % in, mol/L out.
    Range: strength above 0, purity above 0 to 100.
    Source: amount = mass / molar mass; derived.
    """
    return strength_g_per_l * purity_pct / 100 / base_g_per_mol


def base_demand_mol_per_kg(
    titrant_ml: float, blank_ml: float, titrant_mol_per_l: float, sample_g: float
) -> float:
    """Base that neutralises one kilogram of oil: (V - B) c / m. Counts mineral acid too.

    Units: mL, mol/L and g in, mol/kg out.
    Range: sample above 0; below zero where the blank exceeds the reading.
    Source: EN 14104 (2003 text) clause 10, before its factor 56.1; secondary copy, blank from memory.
    """
    return (titrant_ml - blank_ml) * titrant_mol_per_l / sample_g


def acid_value_mg_koh_per_g(base_demand_mol_per_kg: float) -> float:
    """Acid value: 56.1 times the demand for base.

    Units: mol/kg in, mg KOH/g out.
    Range: 0 to 200 mg KOH/g for oils.
    Source: EN 14104 (2003 text) clause 10; secondary copy.
    """
    return KOH_CONVENTION_G_PER_MOL * base_demand_mol_per_kg


def base_demand_from_acid_value_mol_per_kg(acid_value_mg_koh_per_g: float) -> float:
    """Demand for base behind an acid value that a laboratory gave.

    Units: mg KOH/g in, mol/kg out.
    Range: 0 to 200 mg KOH/g for oils.
    Source: EN 14104 (2003 text) clause 10, solved for the amount; secondary copy.
    """
    return acid_value_mg_koh_per_g / KOH_CONVENTION_G_PER_MOL


def ffa_pct(base_demand_mol_per_kg: float) -> float:
    """Free fatty acid as oleic acid: 28.2 times the demand for base.

    Units: mol/kg in, % m/m out.
    Range: 0 to 100 %; overstated after an acid pre-treatment.
    Source: AOCS Ca 5a-40 (reapproved 2009), calculations; numerator secondary copy, mass and blank from
    memory.
    """
    return OLEIC_CONVENTION_G_PER_MOL / 10 * base_demand_mol_per_kg


def titrant_at_standard_temperature_ml(titrant_ml: float, temperature_c: float, standard_c: float) -> float:
    """Volume an alcoholic titrant would have at the temperature at which it was standardised.

    Units: mL and °C in, mL out.
    Range: 0 to 40 °C.
    Source: EN 14104 (2003 text) clause 10, note: V (1 - 0.0011 (t - t0)); secondary copy.
    """
    return titrant_ml * (1 - TITRANT_EXPANSION_PER_K * (temperature_c - standard_c))


def spread_pct(readings: Sequence[float]) -> float:
    """Spread of repeated readings: the range over the mean.

    Units: any one unit in, % out.
    Range: at least one reading, the mean not 0.
    Source: range over mean; derived. The habit of rejecting 5 % is common practice, no source.
    """
    return 100 * (max(readings) - min(readings)) / (sum(readings) / len(readings))
