"""Soap by titration with acid, the least the titration can show, and the acid a resin sets free.

The factor of the soap comes from the catalyst of the batch: sodium and potassium soap are 5 % apart.
"""

from __future__ import annotations

from generator.formulas.constants import molar_mass


def soap_mg_per_kg(
    acid_ml: float, blank_ml: float, acid_mol_per_l: float, sample_g: float, soap_g_per_mol: float
) -> float:
    """Soap from a titration with acid, to the end point of bromophenol blue.

    Formula: w = (S - B) * c * F * 1000 / m
    Where:
        w: soap, mg/kg
        S (acid_ml): acid used for the sample, mL
        B (blank_ml): acid used for the blank, mL
        c (acid_mol_per_l): amount concentration of the acid, mol/L
        F (soap_g_per_mol): molar mass of the soap, g/mol
        m (sample_g): sample, g
    Range: sample above 0; 0.01 mol/L acid is usual.
    Source: AOCS Cc 17-95 (reapproved 2009); formula from memory.
    """
    return (acid_ml - blank_ml) * acid_mol_per_l * soap_g_per_mol * 1000 / sample_g


def soap_detection_limit_mg_per_kg(
    acid_u_ml: float, blank_u_ml: float, acid_mol_per_l: float, sample_g: float, soap_g_per_mol: float
) -> float:
    """Least soap the titration can tell from none: three standard uncertainties of the blank difference.

    Formula: w = 3 * (u_S ** 2 + u_B ** 2) ** 0.5 * c * F * 1000 / m
    Where:
        w: detection limit, mg/kg
        u_S (acid_u_ml): standard uncertainty of the acid used for the sample, mL
        u_B (blank_u_ml): standard uncertainty of the acid used for the blank, mL
        c (acid_mol_per_l): amount concentration of the acid, mol/L
        F (soap_g_per_mol): molar mass of the soap, g/mol
        m (sample_g): sample, g
    Range: sample above 0, uncertainties 0 or above.
    Source: three standard uncertainties of a difference of two readings; derived.
    """
    u_ml: float = (acid_u_ml**2 + blank_u_ml**2) ** 0.5
    return 3 * u_ml * acid_mol_per_l * soap_g_per_mol * 1000 / sample_g


def acid_rise_mg_koh_per_g(soap_exchanged_mg_per_kg: float, soap_g_per_mol: float) -> float:
    """Rise of the acid value when a resin in acid form exchanges soap for its fatty acid.

    Only what the resin exchanged counts, not what an absorbent held.

    Formula: a = w * M_KOH / (1000 * M)
    Where:
        a: rise of the acid value, mg KOH/g
        w (soap_exchanged_mg_per_kg): soap that the resin exchanged, mg/kg
        M_KOH (molar_mass("KOH")): molar mass of potassium hydroxide, exact, g/mol
        M (soap_g_per_mol): molar mass of the soap, g/mol
    Range: soap 0 to 10000 mg/kg.
    Source: one mole of acid per mole of soap, exact mass of KOH; derived.
    """
    return soap_exchanged_mg_per_kg * molar_mass("KOH") / 1000 / soap_g_per_mol


def soap_for_acid_value_mg_per_kg(
    limit_mg_koh_per_g: float, before_mg_koh_per_g: float, soap_g_per_mol: float
) -> float:
    """Soap before an acid resin at which the acid value behind it reaches a limit.

    Below zero where the fuel lies above the limit before it comes to the resin.

    Formula: w = 1000 * M * (AV_lim - AV) / M_KOH
    Where:
        w: soap that the resin may exchange, mg/kg
        M (soap_g_per_mol): molar mass of the soap, g/mol
        AV_lim (limit_mg_koh_per_g): limit of the acid value, mg KOH/g
        AV (before_mg_koh_per_g): acid value before the resin, mg KOH/g
        M_KOH (molar_mass("KOH")): molar mass of potassium hydroxide, exact, g/mol
    Range: the resin exchanges all of the soap; what an absorbent before it holds does not count.
    Source: one mole of acid per mole of soap, exact mass of KOH; derived.
    """
    return 1000 * soap_g_per_mol * (limit_mg_koh_per_g - before_mg_koh_per_g) / molar_mass("KOH")


def residual_catalyst_mg_per_kg(
    acid_ml: float, blank_ml: float, acid_mol_per_l: float, sample_g: float, base_g_per_mol: float
) -> float:
    """Catalyst left in the fuel, counted as the base of the batch: the same titration, to the end point of phenolphthalein.

    Formula: w = (A - B) * c * M * 1000 / m
    Where:
        w: catalyst left, mg/kg
        A (acid_ml): acid used to the first end point, mL
        B (blank_ml): acid the blank used to it, mL
        c (acid_mol_per_l): amount concentration of the acid, mol/L
        M (base_g_per_mol): molar mass of the base, g/mol
        m (sample_g): sample, g
    Range: sample above 0; 0.01 mol/L acid is usual.
    Source: NREL/SR-510-36240 (2004), procedure as AOCS Cc 17-95; formula from memory.
    """
    return soap_mg_per_kg(acid_ml, blank_ml, acid_mol_per_l, sample_g, base_g_per_mol)
