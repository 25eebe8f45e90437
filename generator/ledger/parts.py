"""What is taken of one lot of methanol or acid: the mass as it is, the pure substance in it, the volume it fills."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from generator.formulas.dose import rest_of_kg, to_weigh_kg
from generator.ledger.basis import amount, density_line
from generator.ledger.bench import purity_pct
from generator.ledger.readings import EXACT, Readings
from generator.log import Log
from generator.records import Acid, Use
from generator.units import Quantity, quantity


@dataclass(frozen=True, slots=True)
class Part:
    """What is taken from one lot: mass as it is, the pure substance in it, its volume at the reference temperature."""

    lot: str
    purity_pct: float
    kg: float
    litres: float | None
    recovered: bool = False

    @property
    def pure_kg(self) -> float:
        """The substance itself."""
        return self.kg - self.rest_kg

    @property
    def rest_kg(self) -> float:
        """What is beside it: the water of methanol and of acid."""
        return rest_of_kg(self.kg, self.purity_pct)


def part_of_pure(log: Log, lot: str | None, pure_kg: float | None, readings: Readings = EXACT) -> Part | None:
    """How much of a lot holds so much of the pure substance; None where lot, purity or amount is not known."""
    purity = purity_pct(log, lot, readings)
    if lot is None or purity is None or pure_kg is None:
        return None
    return part_of_mass(log, lot, purity, to_weigh_kg(pure_kg, purity), readings)


def part_of_mass(log: Log, lot: str, purity: float, kg: float, readings: Readings = EXACT) -> Part:
    """A mass of a lot, with its volume at the reference temperature where a density is known."""
    recovered = lot in log.lots and log.lots[lot].record.recovered
    return Part(lot, purity, kg, _litres(log, lot, kg, readings), recovered)


def _litres(log: Log, lot: str, kg: float, readings: Readings) -> float | None:
    material = log.material_of(lot)
    if material is not None and material.record.kind == "alcohol":
        line = readings.density(density_line(log, "methanol", lot), "methanol")
        return kg * 1000 / line.at(log.reference_c)
    if material is not None and isinstance(material.record, Acid) and material.record.density is not None:
        return kg * 1000 / material.record.density.value
    return None


def parts_of(log: Log, uses: Iterable[Use], readings: Readings = EXACT) -> tuple[Part, ...] | None:
    """What was taken of methanol or acid, lot by lot; None where a purity or a density is not known."""
    found = [part_of_use(log, use.lot, use.amount, readings) for use in uses]
    known_parts = tuple(part for part in found if part is not None)
    return known_parts if len(known_parts) == len(found) else None


def part_of_use(log: Log, lot: str, taken: Quantity, readings: Readings = EXACT) -> Part | None:
    """One amount of methanol or acid as it was written."""
    material, purity = log.material_of(lot), purity_pct(log, lot, readings)
    if material is None or purity is None:
        return None
    if material.record.kind == "alcohol":
        line = readings.density(density_line(log, "methanol", lot), "methanol")
        kg = amount(log, taken, line, readings, "methanol").kg
    else:
        weighed = as_mass(log, lot, taken)
        if weighed.kind != "mass":
            return None
        kg = readings.mass_kg(weighed, "acid")
    return part_of_mass(log, lot, purity, kg, readings)


def as_mass(log: Log, lot: str, taken: Quantity) -> Quantity:
    """A volume of acid as its mass, by the density of its material; anything else as it stands."""
    material = log.material_of(lot)
    if taken.kind != "volume" or material is None or not isinstance(material.record, Acid):
        return taken
    density = material.record.density
    if density is None:
        return taken
    return replace(quantity("1 kg", ("mass",)), text=taken.text, number=taken.exact * density.exact / 1000)
