"""Yields on their bases, what the columns keep, and the mass that is not accounted for."""

from __future__ import annotations


def yield_volume_pct(fuel_l: float, oil_l: float) -> float:
    """Finished fuel by volume of oil, both at the reference temperature.

    Formula: y = 100 * V_f / V_o
    Where:
        y: volume yield, %
        V_f (fuel_l): finished fuel at the reference temperature, L
        V_o (oil_l): oil at the reference temperature, L
    Range: oil above 0; about 104.5 % is the most that full conversion gives.
    Source: a ratio; derived.
    """
    return 100 * fuel_l / oil_l


def yield_mass_pct(made_kg: float, oil_kg: float) -> float:
    """Fuel before the columns by mass of oil.

    Formula: y = 100 * m_f / m_o
    Where:
        y: mass yield, %
        m_f (made_kg): fuel before the columns, kg
        m_o (oil_kg): oil, kg
    Range: oil above 0.
    Source: a ratio; derived.
    """
    return 100 * made_kg / oil_kg


def yield_theory_pct(made_kg: float, theory_kg: float) -> float:
    """Fuel before the columns against the ester in theory.

    Above 100 %, methanol or glycerol is still in the fuel, or a reading is off.

    Formula: y = 100 * m_f / m_e
    Where:
        y: yield against theory, %
        m_f (made_kg): fuel before the columns, kg
        m_e (theory_kg): ester that the neutral oil gives at full conversion, kg
    Range: ester in theory above 0.
    Source: a ratio; derived.
    """
    return 100 * made_kg / theory_kg


def heel_l(fed_l: float, fuel_l: float) -> float:
    """Fuel that a run left in the columns; below zero where the beds released fuel.

    Formula: h = V_i - V_f
    Where:
        h: fuel left in the columns, L
        V_i (fed_l): fuel fed to the columns, L
        V_f (fuel_l): finished fuel, L
    Range: from minus to plus the void volume of the beds.
    Source: difference of two readings; derived.
    """
    return fed_l - fuel_l


def closure_pct(in_kg: float, out_kg: float) -> float:
    """Mass out over mass in.

    Formula: q = 100 * m_out / m_in
    Where:
        q: closure, %
        m_out (out_kg): fuel before the columns, layer and methanol taken back, kg
        m_in (in_kg): oil, methanol and catalyst, kg
    Range: mass in above 0; 97 to 103 % is a usual band for readings by hand (common practice, no source).
    Source: conservation of mass; derived.
    """
    return 100 * out_kg / in_kg


def unaccounted_kg(in_kg: float, out_kg: float) -> float:
    """Mass that went in and did not come out: evaporated, spilt, left in pipes, or misread.

    Formula: d = m_in - m_out
    Where:
        d: mass not accounted for, kg
        m_in (in_kg): mass in, kg
        m_out (out_kg): mass out, kg
    Range: any; below zero more came out than went in.
    Source: conservation of mass; derived.
    """
    return in_kg - out_kg


def settling_loss_kg(theory_kg: float, made_kg: float) -> float:
    """Ester in theory that did not reach the columns: in the layer, the rag, the methanol, or not converted.

    Formula: l = m_e - m_f
    Where:
        l: loss, kg
        m_e (theory_kg): ester that the neutral oil gives at full conversion, kg
        m_f (made_kg): fuel before the columns, kg
    Range: any; below zero where the fuel still holds methanol or glycerol, or a reading is off.
    Source: difference of the two; derived.
    """
    return theory_kg - made_kg
