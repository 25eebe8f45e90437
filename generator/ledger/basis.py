"""Amounts as written -> litres at the reference temperature and kilograms, by the density of what was measured."""

from __future__ import annotations

from dataclasses import dataclass, replace
from decimal import Decimal

from generator.formulas.constants import DensityLine, default_density
from generator.formulas.density import mass_kg, volume_at_reference_l
from generator.ledger.readings import EXACT, Readings
from generator.log import Log
from generator.records import Oil
from generator.units import Quantity, to_exact

FUEL, LAYER = "fuel", "layer"


@dataclass(frozen=True, slots=True)
class Amount:
    """An amount on both bases, and whether its temperature had to be assumed."""

    litres: float
    kg: float
    assumed: bool


def density_line(log: Log, substance: str, lot_id: str | None = None) -> DensityLine:
    """The density of `oil`, `methanol` or `fuel`: that of the lot's material where it gives one, else the tool's row."""
    lot = log.lots.get(lot_id) if lot_id else None
    return material_density_line(log, substance, lot.record.material if lot is not None else None)


def material_density_line(log: Log, substance: str, material: str | None) -> DensityLine:
    """The density of a material: its own where it gives one, else the tool's row of the substance."""
    default = default_density(substance)
    entry = log.materials.get(material) if material else None
    if entry is not None and isinstance(entry.record, Oil) and entry.record.density is not None:
        own = entry.record.density
        at_c = default.reference_c if own.at_c is None else own.at_c
        return replace(
            default, kg_per_m3=own.value, reference_c=at_c, source="the logbook", confidence="its own"
        )
    return default


def amount(
    log: Log, quantity: Quantity, line: DensityLine, readings: Readings = EXACT, name: str = ""
) -> Amount:
    """Carry a volume or a mass to litres at the reference temperature and to kilograms."""
    at_reference = line.at(log.reference_c)
    if quantity.kind == "mass":
        kg = readings.mass_kg(quantity, name)
        return Amount(kg * 1000 / at_reference, kg, False)
    volume_l = readings.volume_l(quantity, name)
    at_c = readings.temperature_c(quantity, log.settings.assumed_temperature.value, name)
    density = line.at(at_c)
    litres = volume_at_reference_l(volume_l, density, at_reference)
    return Amount(litres, mass_kg(volume_l, density), quantity.at_c is None)


def substance_of(kind: str) -> str | None:
    """Which density belongs to a kind of material; None where none is known (catalysts, media, other)."""
    return {"oil": "oil", "alcohol": "methanol"}.get(kind)


def exact_amount(log: Log, quantity: Quantity, lot_id: str, unit: str) -> Decimal | None:
    """Carry an amount to the unit a lot is kept in (`L` at the reference temperature, or `kg`).

    None where that would need a density nobody knows.
    """
    if unit == "kg" and quantity.kind == "mass":
        return quantity.exact
    material = log.material_of(lot_id)
    substance = substance_of(material.record.kind) if material is not None else None
    if substance is None:
        return quantity.exact if unit == "L" and quantity.kind == "volume" else None
    if quantity.kind == "volume" and unit == "L" and quantity.at_c == log.reference_c:
        return quantity.exact
    carried = amount(log, quantity, density_line(log, substance, lot_id))
    return to_exact(carried.kg if unit == "kg" else carried.litres)
