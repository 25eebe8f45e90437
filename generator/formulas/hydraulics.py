"""What a bed costs in pressure: drops carried to like flow and temperature, and the band a clean bed would lie in.

A drop says fouling, not exhaustion. Nothing here is an allowable pressure: that is the vessel maker's.
"""

from __future__ import annotations

import math
from typing import Final

VISCOSITY_40_MPA_S: Final = 3.92
"""Dynamic viscosity of methyl oleate at 40 °C, mPa·s (thermo 0.6.1; library)."""

VISCOSITY_SLOPE_K: Final = 2300.0
"""Slope of the logarithm of that viscosity over the inverse temperature, K; its values of 15 to 60 °C within 4 % (derived)."""


def fuel_viscosity_mpa_s(temperature_c: float) -> float:
    """Dynamic viscosity of a fuel like methyl oleate.

    Formula: mu = mu_40 * exp(B * (1 / (t + 273.15) - 1 / 313.15))
    Where:
        mu: dynamic viscosity, mPa·s
        mu_40 (VISCOSITY_40_MPA_S): the same at 40 °C, mPa·s
        B (VISCOSITY_SLOPE_K): slope over the inverse temperature, K
        t (temperature_c): temperature, °C
    Range: 5 to 60 °C; fuels in use lie some 25 % around it at one temperature.
    Source: Andrade's equation through values of thermo 0.6.1 for methyl oleate; derived.
    """
    return VISCOSITY_40_MPA_S * math.exp(VISCOSITY_SLOPE_K * (1 / (temperature_c + 273.15) - 1 / 313.15))


def like_drop_kpa(
    drop_kpa: float, flow_l_per_h: float, like_flow_l_per_h: float, temperature_c: float
) -> float:
    """A drop of pressure as it would be at another flow and at 20 °C.

    Formula: p_like = p * Q_like / Q * mu_20 / mu
    Where:
        p_like: drop at like flow and viscosity, kPa
        p (drop_kpa): drop as read, kPa
        Q (flow_l_per_h): flow of the run, L/h
        Q_like (like_flow_l_per_h): flow it is carried to, L/h
        mu_20 (fuel_viscosity_mpa_s(20.0)): dynamic viscosity of the fuel at 20 °C, mPa·s
        mu (fuel_viscosity_mpa_s(temperature_c)): dynamic viscosity of the fuel in the run, mPa·s
    Range: particle Reynolds numbers below 10, where the drop is in proportion to flow and viscosity; flow above 0.
    Source: the viscous term of Ergun's equation; derived.
    """
    return (
        drop_kpa
        * like_flow_l_per_h
        / flow_l_per_h
        * fuel_viscosity_mpa_s(20.0)
        / fuel_viscosity_mpa_s(temperature_c)
    )


def bed_depth_m(bed_l: float, diameter_cm: float) -> float:
    """Depth of a settled bed in a round vessel.

    Formula: L = V_bed / 1000 / (pi / 4 * (D / 100) ** 2)
    Where:
        L: depth of the bed, m
        V_bed (bed_l): settled bed as installed, L
        pi (math.pi): circumference of a circle over its diameter, a pure number
        D (diameter_cm): inner diameter of the vessel, cm
    Range: diameter above 0.
    Source: volume of a cylinder; derived.
    """
    return bed_l / 1000 / (math.pi / 4 * (diameter_cm / 100) ** 2)


def particle_reynolds(
    velocity_m_per_s: float, particle_mm: float, void: float, density_kg_per_m3: float, viscosity_mpa_s: float
) -> float:
    """Reynolds number of a bed of particles; below 10 the drop of pressure is nearly all viscous.

    Formula: Re = rho * U * d / (mu * (1 - E))
    Where:
        Re: particle Reynolds number, a pure number
        rho (density_kg_per_m3): density of the fuel, kg/m³
        U (velocity_m_per_s): velocity in the empty vessel, m/s
        d (particle_mm): diameter of a ball of like volume times its sphericity, mm
        mu (viscosity_mpa_s): dynamic viscosity, mPa·s
        E (void): void share of the bed, a pure number
    Range: void share between 0 and 1, viscosity above 0.
    Source: Ergun (1952), as in fluids 1.3.1, packed_bed; library.
    """
    return density_kg_per_m3 * velocity_m_per_s * particle_mm / (viscosity_mpa_s * (1 - void))


def ergun_kpa(
    velocity_m_per_s: float,
    depth_m: float,
    particle_mm: float,
    void: float,
    density_kg_per_m3: float,
    viscosity_mpa_s: float,
) -> float:
    """Drop of pressure across a clean bed of particles: a viscous and an inertial term.

    Formula: p = L / 1000 * (150 * mu / 1000 * (1 - E) ** 2 * U / ((d / 1000) ** 2 * E ** 3) + 1.75 * rho * (1 - E) * U ** 2 / (d / 1000 * E ** 3))
    Where:
        p: drop across the bed, kPa
        L (depth_m): depth of the bed, m
        mu (viscosity_mpa_s): dynamic viscosity, mPa·s
        E (void): void share of the bed, a pure number
        U (velocity_m_per_s): velocity in the empty vessel, m/s
        d (particle_mm): diameter of a ball of like volume times its sphericity, mm
        rho (density_kg_per_m3): density of the fuel, kg/m³
    Range: void share between 0 and 1; a tenth in it is a factor of about 1.5 in the drop, so a band and no point.
    Source: Ergun (1952), as in fluids 1.3.1, packed_bed; library.
    """
    particle_m, solid = particle_mm / 1000, 1 - void
    viscous = 150 * viscosity_mpa_s / 1000 * solid**2 * velocity_m_per_s / (particle_m**2 * void**3)
    inertial = 1.75 * density_kg_per_m3 * solid * velocity_m_per_s**2 / (particle_m * void**3)
    return depth_m / 1000 * (viscous + inertial)
