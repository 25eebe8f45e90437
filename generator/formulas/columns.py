"""Fuel through a bed: how much, how long, how fast, and what stayed behind."""

from __future__ import annotations

import math


def bed_volumes(fuel_l: float, bed_l: float) -> float:
    """Fuel treated, in volumes of the settled bed as installed.

    Formula: BV = V / V_bed
    Where:
        BV: fuel treated, bed volumes
        V (fuel_l): fuel treated, L
        V_bed (bed_l): settled bed as installed, L
    Range: bed above 0.
    Source: U.S. EPA, Water Treatment Models (PSDM), definition; published formula.
    """
    return fuel_l / bed_l


def empty_bed_contact_min(bed_l: float, flow_l_per_h: float) -> float:
    """Empty-bed contact time: bed volume over flow, as if no medium stood in it.

    Formula: t = 60 * V_bed / Q
    Where:
        t: empty-bed contact time, min
        V_bed (bed_l): settled bed as installed, L
        Q (flow_l_per_h): flow, L/h
    Range: flow above 0.
    Source: U.S. EPA, Water Treatment Models (PSDM), definition; published formula.
    """
    return 60 * bed_l / flow_l_per_h


def bed_volumes_per_h(flow_l_per_h: float, bed_l: float) -> float:
    """Flow in bed volumes per hour: 60 over the contact time in minutes.

    Formula: q = Q / V_bed
    Where:
        q: flow, bed volumes/h
        Q (flow_l_per_h): flow, L/h
        V_bed (bed_l): settled bed as installed, L
    Range: bed above 0.
    Source: U.S. EPA, Water Treatment Models (PSDM), definition; published formula.
    """
    return flow_l_per_h / bed_l


def superficial_velocity_m_per_h(flow_l_per_h: float, diameter_cm: float) -> float:
    """Flow over the cross-section of the empty vessel; between the beads it is faster by the void share.

    Formula: v = Q / 1000 / (pi / 4 * (D / 100) ** 2)
    Where:
        v: velocity in the empty vessel, m/h
        Q (flow_l_per_h): flow, L/h
        pi (math.pi): circumference of a circle over its diameter, a pure number
        D (diameter_cm): inner diameter of the vessel, cm
    Range: diameter above 0.
    Source: U.S. EPA, Water Treatment Models (PSDM), definition; published formula.
    """
    return flow_l_per_h / 1000 / (math.pi / 4 * (diameter_cm / 100) ** 2)


def interstitial_velocity_m_per_h(velocity_m_per_h: float, void: float) -> float:
    """Velocity of the fuel between the grains of a bed.

    Formula: u = v / E
    Where:
        u: velocity between the grains, m/h
        v (velocity_m_per_h): velocity in the empty vessel, m/h
        E (void): void share of the bed, a pure number
    Range: void share above 0 to 1.
    Source: U.S. EPA, Water Treatment Models (PSDM), definition; published formula.
    """
    return velocity_m_per_h / void


def bulk_kg_per_l(medium_kg: float, bed_l: float) -> float:
    """Mass of medium in a litre of settled bed; a mass or a bed that was mistaken shows here.

    Formula: b = m / V_bed
    Where:
        b: medium per volume of bed, kg/L
        m (medium_kg): medium of the charge, kg
        V_bed (bed_l): settled bed as installed, L
    Range: bed above 0.
    Source: U.S. EPA, Water Treatment Models (PSDM), definition; published formula.
    """
    return medium_kg / bed_l


def void_share(bulk_kg_per_l: float, grain_kg_per_l: float) -> float:
    """Share of a bed that is not grain, from two weighings.

    Formula: E = 1 - b / g
    Where:
        E: void share of the bed, a pure number
        b (bulk_kg_per_l): medium per volume of settled bed, kg/L
        g (grain_kg_per_l): mass of a grain per its own volume, pores included, kg/L
    Range: grain above 0, heavier than the bed.
    Source: U.S. EPA, Water Treatment Models (PSDM), definition; published formula.
    """
    return 1 - bulk_kg_per_l / grain_kg_per_l


def equivalents_mol(soap_g: float, soap_g_per_mol: float) -> float:
    """Places of a resin that exchanged soap: one for each molecule.

    Formula: n = m / M
    Where:
        n: equivalents exchanged, mol
        m (soap_g): soap taken up, g
        M (soap_g_per_mol): molar mass of the soap, g/mol
    Range: soap counted as one salt.
    Source: amount = mass / molar mass, one charge per molecule; derived.
    """
    return soap_g / soap_g_per_mol


def taken_up_g(inlet_mg_per_kg: float, outlet_mg_per_kg: float, fuel_kg: float) -> float:
    """What the bed took out of the fuel; below zero where the fuel took it out of the bed.

    Formula: m = (w_in - w_out) * m_fuel / 1000
    Where:
        m: taken up, g
        w_in (inlet_mg_per_kg): content of the fuel before the bed, mg/kg
        w_out (outlet_mg_per_kg): content of the fuel behind the bed, mg/kg
        m_fuel (fuel_kg): fuel of the run, kg
    Range: contents 0 or above.
    Source: mass balance over the bed; derived.
    """
    return (inlet_mg_per_kg - outlet_mg_per_kg) * fuel_kg / 1000


def content_mg_per_kg(held_g: float, fuel_kg: float) -> float:
    """What a mass of fuel holds of something, by mass.

    Formula: w = 1000 * m / m_fuel
    Where:
        w: content of the fuel, mg/kg
        m (held_g): what it holds, g
        m_fuel (fuel_kg): the fuel, kg
    Range: fuel above 0.
    Source: a ratio; derived.
    """
    return 1000 * held_g / fuel_kg


def share_pct(part: float, whole: float) -> float:
    """A part in percent of the whole, both in one unit.

    Formula: s = 100 * a / b
    Where:
        s: share, %
        a (part): the part, any one unit
        b (whole): the whole, in the same unit
    Range: whole not 0.
    Source: a ratio; derived.
    """
    return 100 * part / whole


def flow_l_per_h(fuel_l: float, hours_h: float) -> float:
    """Mean flow of a run.

    Formula: Q = V / t
    Where:
        Q: flow, L/h
        V (fuel_l): fuel of the run, L
        t (hours_h): duration of the run, h
    Range: duration above 0.
    Source: a ratio; derived.
    """
    return fuel_l / hours_h


def media_kg_per_1000_l(medium_kg: float, fuel_l: float) -> float:
    """Medium used for a thousand litres of fuel.

    Formula: a = 1000 * m / V
    Where:
        a: medium per thousand litres, kg/1000 L
        m (medium_kg): medium of the charge, kg
        V (fuel_l): fuel the charge treated, L
    Range: fuel above 0.
    Source: a ratio; derived.
    """
    return 1000 * medium_kg / fuel_l
