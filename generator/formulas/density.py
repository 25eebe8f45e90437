"""Volume and mass at the temperature of the reading, and back at the reference temperature."""

from __future__ import annotations


def density_kg_per_m3(
    density_at_reference_kg_per_m3: float, slope_kg_per_m3_k: float, temperature_c: float, reference_c: float
) -> float:
    """Density at a temperature, by a straight line; the slope is given as a positive number.

    Formula: rho = rho_ref - b * (t - t_ref)
    Where:
        rho: density at the temperature, kg/m³
        rho_ref (density_at_reference_kg_per_m3): density at the reference temperature, kg/m³
        b (slope_kg_per_m3_k): fall of the density per kelvin, kg/m³/K
        t (temperature_c): temperature, °C
        t_ref (reference_c): reference temperature, °C
    Range: 0 to 60 °C, where the line is within 0.5 kg/m³ for esters.
    Source: EN 14214 density annex, form of the correction; published formula, coefficient from memory.
    """
    return density_at_reference_kg_per_m3 - slope_kg_per_m3_k * (temperature_c - reference_c)


def volume_at_reference_l(
    volume_l: float, density_kg_per_m3: float, density_at_reference_kg_per_m3: float
) -> float:
    """Volume the same mass has at the reference temperature.

    Formula: V_ref = V * rho / rho_ref
    Where:
        V_ref: volume at the reference temperature, L
        V (volume_l): volume as measured, L
        rho (density_kg_per_m3): density at the temperature of the measurement, kg/m³
        rho_ref (density_at_reference_kg_per_m3): density at the reference temperature, kg/m³
    Range: densities above 0.
    Source: mass is the same at both temperatures; derived.
    """
    return volume_l * density_kg_per_m3 / density_at_reference_kg_per_m3


def mass_kg(volume_l: float, density_kg_per_m3: float) -> float:
    """Mass of a volume at the temperature for which the density is given.

    Formula: m = V * rho / 1000
    Where:
        m: mass, kg
        V (volume_l): volume, L
        rho (density_kg_per_m3): density at the temperature of the volume, kg/m³
    Range: volume 0 or above.
    Source: density is mass per volume; derived.
    """
    return volume_l * density_kg_per_m3 / 1000


def volume_of_mass_l(mass_kg: float, density_kg_per_m3: float) -> float:
    """Volume of a mass at the temperature for which the density is given.

    Formula: V = 1000 * m / rho
    Where:
        V: volume, L
        m (mass_kg): mass, kg
        rho (density_kg_per_m3): density, kg/m³
    Range: density above 0.
    Source: density is mass per volume; derived.
    """
    return 1000 * mass_kg / density_kg_per_m3
