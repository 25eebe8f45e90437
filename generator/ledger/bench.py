"""Bench titrations -> acid demand of an oil, soap of a fuel with its detection limit."""

from __future__ import annotations

from dataclasses import dataclass

from generator.formulas.acidity import (
    acid_value_mg_koh_per_g,
    base_demand_mol_per_kg,
    ffa_pct,
    spread_pct,
    titrant_mol_per_l,
)
from generator.formulas.constants import SOAP_G_PER_MOL, DensityLine, molar_mass, soap_base
from generator.formulas.soap import soap_detection_limit_mg_per_kg, soap_mg_per_kg
from generator.ledger.basis import density_line
from generator.log import Log
from generator.records import Batch, Catalyst, SoapSample, Titrant, Titration
from generator.units import Quantity


@dataclass(frozen=True, slots=True)
class Acidity:
    """What a titration of an oil says."""

    demand_mol_per_kg: float
    acid_value_mg_koh_per_g: float
    ffa_pct: float
    spread_pct: float


@dataclass(frozen=True, slots=True)
class Soap:
    """What a soap titration says: the value, the least it can show, and whether it lies above that."""

    mg_per_kg: float
    limit_mg_per_kg: float
    detected: bool

    @property
    def low_mg_per_kg(self) -> float:
        """The least it can be: zero where nothing was detected."""
        return self.mg_per_kg if self.detected else 0.0

    @property
    def high_mg_per_kg(self) -> float:
        """The most it can be: the detection limit where nothing was detected."""
        return self.mg_per_kg if self.detected else self.limit_mg_per_kg


def purity_pct(log: Log, lot_id: str | None) -> float | None:
    """The purity of a lot by its material, %; None where it has none."""
    entry = log.material_of(lot_id) if lot_id else None
    purity = getattr(entry.record, "purity", None) if entry is not None else None
    return purity.value if isinstance(purity, Quantity) else None


def _titrant_mol_per_l(log: Log, titrant: Titrant) -> float | None:
    purity = 100.0 if titrant.lot is None else purity_pct(log, titrant.lot)
    if purity is None:
        return None
    if titrant.strength.kind == "amount concentration":
        return titrant.strength.value * purity / 100
    return titrant_mol_per_l(titrant.strength.value, molar_mass(titrant.of), purity)


def acidity(log: Log, titration: Titration, line: DensityLine) -> Acidity | None:
    """Acid demand, acid value and free fatty acid; None where the titrant's purity is not known."""
    strength = _titrant_mol_per_l(log, titration.titrant)
    if strength is None:
        return None
    readings_ml = [reading.value * 1000 for reading in titration.readings]
    sample_g = _sample_g(titration.sample, line, log)
    mean_ml = sum(readings_ml) / len(readings_ml)
    demand = base_demand_mol_per_kg(mean_ml, titration.blank.value * 1000, strength, sample_g)
    spread = spread_pct(readings_ml) if mean_ml > 0 else 0.0
    return Acidity(demand, acid_value_mg_koh_per_g(demand), ffa_pct(demand), spread)


def _sample_g(sample: Quantity, line: DensityLine, log: Log) -> float:
    if sample.kind == "mass":
        return sample.value * 1000
    at_c = log.settings.assumed_temperature.value if sample.at_c is None else sample.at_c
    return sample.value * line.at(at_c)


def alkali(log: Log, batch: Batch) -> str | None:
    """The base whose soap the batch holds: `KOH` or `NaOH`; None where the catalyst is not known or mixed."""
    found = set()
    for stage in batch.reaction:
        for use in stage.catalyst:
            entry = log.material_of(use.lot)
            if entry is not None and isinstance(entry.record, Catalyst):
                found.add(soap_base(entry.record.of))
    return found.pop() if len(found) == 1 else None


def soap(log: Log, sample: SoapSample, base: str | None) -> Soap | None:
    """Soap from one titration; None where the alkali of the batch is not known."""
    if base is None:
        return None
    factor = SOAP_G_PER_MOL[base]
    sample_g = _sample_g(sample.sample, density_line(log, "fuel"), log)
    normality = sample.normality.value
    burette_ml = log.settings.instruments.burette.value * 1000
    limit = soap_detection_limit_mg_per_kg(burette_ml, burette_ml, normality, sample_g, factor)
    value = soap_mg_per_kg(sample.acid.value * 1000, sample.blank.value * 1000, normality, sample_g, factor)
    return Soap(
        value,
        max(limit, value) if sample.acid.sign == "<" else limit,
        sample.acid.sign != "<" and value >= limit,
    )


def soap_at(log: Log, batch: Batch, point: str) -> Soap | None:
    """The last soap result at a point of a batch; earlier ones stay in the file and on the page."""
    samples = [sample for sample in (batch.polish.soap if batch.polish else ()) if sample.point == point]
    return soap(log, samples[-1], alkali(log, batch)) if samples else None
