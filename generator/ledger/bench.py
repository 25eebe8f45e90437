"""Bench titrations of an oil -> its acid demand, acid value and free fatty acid, step by step."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from generator.formulas.acidity import (
    acid_value_mg_koh_per_g,
    base_demand_mol_per_kg,
    ffa_pct,
    spread_pct,
    standardised_mol_per_l,
    titrant_at_standard_temperature_ml,
    titrant_mol_per_l,
)
from generator.formulas.constants import (
    FREE_ACID_G_PER_MOL,
    DensityLine,
    molar_mass,
)
from generator.ledger.basis import substance_of
from generator.ledger.readings import EXACT, Readings, plain
from generator.log import Log
from generator.records import Titrant, Titration
from generator.units import Quantity


@dataclass(frozen=True, slots=True)
class Acidity:
    """What a titration of an oil says, with the steps that lead there."""

    titrant_ml: float
    blank_ml: float
    titrant_mol_per_l: float
    sample_g: float
    demand_mol_per_kg: float
    acid_value_mg_koh_per_g: float
    ffa_oleic_pct: float
    ffa_pct: float
    spread_pct: float


def purity_pct(log: Log, lot_id: str | None, readings: Readings = EXACT) -> float | None:
    """The purity of a lot by its material, %; None where it has none."""
    if lot_id is None:
        return None
    entry = log.material_of(lot_id)
    purity = getattr(entry.record, "purity", None) if entry is not None else None
    if entry is None or not isinstance(purity, Quantity):
        return None
    return readings.purity_pct(purity.value, substance_of(entry.record.kind) or entry.record.kind, lot_id)


def made_mol_per_l(log: Log, titrant: Titrant, readings: Readings = EXACT) -> float | None:
    """What the titrant holds by how it was made, mol/L; None where its purity is not known."""
    purity = 100.0 if titrant.lot is None else purity_pct(log, titrant.lot, readings)
    if purity is None:
        return None
    strength = readings.strength(titrant.strength)
    if titrant.strength.kind == "amount concentration":
        return strength * purity / 100
    return titrant_mol_per_l(strength, molar_mass(titrant.of), purity)


def measured_mol_per_l(titrant: Titrant, readings: Readings = EXACT) -> float | None:
    """What the titrant was measured to hold, mol/L; None where it was not standardised."""
    measured = titrant.standardised
    if measured is None:
        return None
    phthalate_g = readings.sample_g(measured.phthalate, "phthalate")
    net_ml = readings.burette_ml([measured.titrant], "titrant on phthalate")
    if measured.blank.value:
        net_ml = net_ml - readings.burette_ml([measured.blank], "blank on phthalate")
    return standardised_mol_per_l(phthalate_g, measured.purity.value, net_ml) if plain(net_ml) > 0 else None


def acidity(log: Log, titration: Titration, line: DensityLine, readings: Readings = EXACT) -> Acidity | None:
    """Acid demand, acid value and free fatty acid; None where the titrant's purity is not known."""
    titrant = titration.titrant
    if titrant.standardised is not None:
        strength = measured_mol_per_l(titrant, readings)
    else:
        strength = made_mol_per_l(log, titrant, readings)
    if strength is None:
        return None
    titrant_ml = _at_strength_ml(titration, readings.burette_ml(titration.readings, "titration"))
    blank_ml = _at_strength_ml(titration, readings.burette_ml([titration.blank], "blank of the titration"))
    sample = titration.sample
    if sample.at_c is None and titration.temperature is not None:
        sample = replace(sample, at_c=titration.temperature.value)
    sample_g = sample_g_of(sample, readings.density(line, "oil"), log, readings, "sample of oil")
    demand = base_demand_mol_per_kg(titrant_ml, blank_ml, strength, sample_g)
    return Acidity(
        titrant_ml=titrant_ml,
        blank_ml=blank_ml,
        titrant_mol_per_l=strength,
        sample_g=sample_g,
        demand_mol_per_kg=demand,
        acid_value_mg_koh_per_g=acid_value_mg_koh_per_g(demand),
        ffa_oleic_pct=ffa_pct(demand),
        ffa_pct=ffa_pct(demand, FREE_ACID_G_PER_MOL[log.settings.ffa_as]),
        spread_pct=_spread_pct(titration.readings),
    )


def is_temperature_corrected(titration: Titration) -> bool:
    """Whether the titrant is alcoholic and both of its temperatures are known."""
    titrant = titration.titrant
    return titrant.solvent == "alcohol" and titrant.at is not None and titration.temperature is not None


def _at_strength_ml(titration: Titration, ml: float) -> float:
    if not is_temperature_corrected(titration):
        return ml
    assert titration.temperature is not None and titration.titrant.at is not None
    return titrant_at_standard_temperature_ml(ml, titration.temperature.value, titration.titrant.at.value)


def _spread_pct(readings: Sequence[Quantity]) -> float:
    values = [reading.value for reading in readings]
    return spread_pct(values) if sum(values) > 0 else 0.0


def sample_g_of(sample: Quantity, line: DensityLine, log: Log, readings: Readings, name: str) -> float:
    """What a sample weighs, g; one taken by volume through its density at its temperature."""
    if sample.kind == "mass":
        return readings.sample_g(sample, name)
    at_c = readings.temperature_c(sample, log.settings.assumed_temperature.value, name)
    return readings.sample_ml(sample, name) * line.at(at_c) / 1000
