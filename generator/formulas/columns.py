"""Fuel through a bed: how much, how long, how fast, and what stayed behind."""

from __future__ import annotations

import math


def bed_volumes(fuel_l: float, bed_l: float) -> float:
    """Fuel treated, in volumes of the settled bed as installed.

    Units: L in, bed volumes (L/L) out.
    Range: bed above 0.
    Source: U.S. EPA, Water Treatment Models (PSDM), definition; published formula.
    """
    return fuel_l / bed_l


def empty_bed_contact_min(bed_l: float, flow_l_per_h: float) -> float:
    """Empty-bed contact time: bed volume over flow, as if no medium stood in it.

    Units: L and L/h in, min out.
    Range: flow above 0.
    Source: U.S. EPA, Water Treatment Models (PSDM), definition; published formula.
    """
    return 60 * bed_l / flow_l_per_h


def bed_volumes_per_h(flow_l_per_h: float, bed_l: float) -> float:
    """Flow in bed volumes per hour: 60 over the contact time in minutes.

    Units: L/h and L in, 1/h out.
    Range: bed above 0.
    Source: U.S. EPA, Water Treatment Models (PSDM), definition; published formula.
    """
    return flow_l_per_h / bed_l


def superficial_velocity_m_per_h(flow_l_per_h: float, diameter_cm: float) -> float:
    """Flow over the cross-section of the empty vessel; between the beads it is faster by the void share.

    Units: L/h and cm in, m/h out.
    Range: diameter above 0.
    Source: U.S. EPA, Water Treatment Models (PSDM), definition; published formula.
    """
    return flow_l_per_h / 1000 / (math.pi / 4 * (diameter_cm / 100) ** 2)


def taken_up_g(inlet_mg_per_kg: float, outlet_mg_per_kg: float, fuel_kg: float) -> float:
    """What the bed took out of the fuel; below zero where the fuel took it out of the bed.

    Units: mg/kg and kg in, g out.
    Range: contents 0 or above.
    Source: mass balance over the bed; derived.
    """
    return (inlet_mg_per_kg - outlet_mg_per_kg) * fuel_kg / 1000


def share_pct(part: float, whole: float) -> float:
    """A part in percent of the whole, both in one unit.

    Units: any one unit in, % out.
    Range: whole not 0.
    Source: a ratio; derived.
    """
    return 100 * part / whole
