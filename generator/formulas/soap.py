"""Soap by titration with acid, the least the titration can show, and the acid a resin sets free.

The factor of the soap comes from the catalyst of the batch: sodium and potassium soap are 5 % apart.
"""

from __future__ import annotations

from generator.formulas.constants import molar_mass


def soap_mg_per_kg(
    acid_ml: float, blank_ml: float, acid_mol_per_l: float, sample_g: float, soap_g_per_mol: float
) -> float:
    """Soap: (S - B) N F 1000 / m, to the end point of bromophenol blue.

    Units: mL, mol/L, g and g/mol in, mg/kg out.
    Range: sample above 0; 0.01 mol/L acid is usual.
    Source: AOCS Cc 17-95 (reapproved 2009); formula from memory.
    """
    return (acid_ml - blank_ml) * acid_mol_per_l * soap_g_per_mol * 1000 / sample_g


def soap_detection_limit_mg_per_kg(
    acid_u_ml: float, blank_u_ml: float, acid_mol_per_l: float, sample_g: float, soap_g_per_mol: float
) -> float:
    """Least soap the titration can tell from none: three standard uncertainties of the blank difference.

    Units: mL, mol/L, g and g/mol in, mg/kg out.
    Range: sample above 0, uncertainties 0 or above.
    Source: 3 sqrt(uS² + uB²) N F 1000 / m; derived.
    """
    u_ml: float = (acid_u_ml**2 + blank_u_ml**2) ** 0.5
    return 3 * u_ml * acid_mol_per_l * soap_g_per_mol * 1000 / sample_g


def acid_rise_mg_koh_per_g(soap_exchanged_mg_per_kg: float, soap_g_per_mol: float) -> float:
    """Rise of the acid value when a resin in acid form exchanges soap for its fatty acid.

    Only what the resin exchanged counts, not what an absorbent held.
    Units: mg/kg and g/mol in, mg KOH/g out.
    Range: soap 0 to 10000 mg/kg.
    Source: one mole of acid per mole of soap, exact mass of KOH; derived.
    """
    return soap_exchanged_mg_per_kg * molar_mass("KOH") / 1000 / soap_g_per_mol
