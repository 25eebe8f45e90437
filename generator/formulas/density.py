"""Volume and mass at the temperature of the reading, and back at the reference temperature."""

from __future__ import annotations


def density_kg_per_m3(
    density_at_reference_kg_per_m3: float, slope_kg_per_m3_k: float, temperature_c: float, reference_c: float
) -> float:
    """Density at a temperature, by a straight line; the slope is given as a positive number.

    Units: kg/m³, kg/m³/K and °C in, kg/m³ out.
    Range: 0 to 60 °C, where the line is within 0.5 kg/m³ for esters.
    Source: EN 14214 density annex, form rho15 = rhoT + slope (T - 15); published formula, coefficient from
    memory.
    """
    return density_at_reference_kg_per_m3 - slope_kg_per_m3_k * (temperature_c - reference_c)


def volume_at_reference_l(
    volume_l: float, density_kg_per_m3: float, density_at_reference_kg_per_m3: float
) -> float:
    """Volume the same mass has at the reference temperature.

    Units: L and kg/m³ in, L out.
    Range: densities above 0.
    Source: mass is the same at both temperatures; derived.
    """
    return volume_l * density_kg_per_m3 / density_at_reference_kg_per_m3


def mass_kg(volume_l: float, density_kg_per_m3: float) -> float:
    """Mass of a volume at the temperature for which the density is given.

    Units: L and kg/m³ in, kg out.
    Range: volume 0 or above.
    Source: density is mass per volume; derived.
    """
    return volume_l * density_kg_per_m3 / 1000
