"""Bench titrations -> acid demand of an oil, soap and catalyst of a fuel with their detection limits, step by step."""

from __future__ import annotations

from collections.abc import Callable, Sequence
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
    SOAP_G_PER_MOL,
    DensityLine,
    molar_mass,
    soap_base,
)
from generator.formulas.soap import (
    residual_catalyst_mg_per_kg,
    soap_detection_limit_mg_per_kg,
    soap_mg_per_kg,
)
from generator.ledger.basis import density_line, substance_of
from generator.ledger.readings import EXACT, Readings, plain
from generator.log import Log
from generator.records import Batch, Catalyst, Polish, SoapSample, Titrant, Titration
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


@dataclass(frozen=True, slots=True)
class Soap:
    """What a titration with acid says of soap or catalyst: the value, the least it can show, whether it lies above that."""

    acid_ml: float
    blank_ml: float
    acid_mol_per_l: float
    sample_g: float
    counted_g_per_mol: float
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


def purity_pct(log: Log, lot_id: str | None, readings: Readings = EXACT) -> float | None:
    """The purity of a lot by its material, %; None where it has none."""
    entry = log.material_of(lot_id) if lot_id else None
    purity = getattr(entry.record, "purity", None) if entry is not None else None
    if entry is None or lot_id is None or not isinstance(purity, Quantity):
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
    sample_g = _sample_g(sample, readings.density(line, "oil"), log, readings, "sample of oil")
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


def _sample_g(sample: Quantity, line: DensityLine, log: Log, readings: Readings, name: str) -> float:
    if sample.kind == "mass":
        return readings.sample_g(sample, name)
    at_c = readings.temperature_c(sample, log.settings.assumed_temperature.value, name)
    return readings.sample_ml(sample, name) * line.at(at_c) / 1000


def alkali(log: Log, batch: Batch) -> str | None:
    """The base whose soap the batch holds: `KOH` or `NaOH`; None where the catalyst is not known or mixed."""
    found = set()
    for stage in batch.reaction:
        for use in stage.catalyst:
            entry = log.material_of(use.lot)
            if entry is not None and isinstance(entry.record, Catalyst):
                found.add(soap_base(entry.record.of))
    return found.pop() if len(found) == 1 else None


def soap(log: Log, sample: SoapSample, base: str | None, readings: Readings = EXACT) -> Soap | None:
    """Soap from one titration; None where the alkali of the batch is not known.

    With two indicators the acid that the catalyst took is taken off first.
    """
    if base is None:
        return None
    acid_ml = readings.burette_ml([sample.acid], f"acid, {sample.point}")
    blank_ml = readings.burette_ml([sample.blank], f"blank, {sample.point}")
    ends = 1
    if sample.catalyst is not None:
        acid_ml = acid_ml - _first_end_point_ml(sample, readings)
        ends += _first_readings(sample)
    return _titrated(log, sample, acid_ml, blank_ml, SOAP_G_PER_MOL[base], readings, ends=ends)


def catalyst_left(log: Log, sample: SoapSample, base: str | None, readings: Readings = EXACT) -> Soap | None:
    """Catalyst left in the fuel, as the base of the batch; None without a first end point."""
    if base is None or sample.catalyst is None:
        return None
    net_ml = _first_end_point_ml(sample, readings)
    return _titrated(log, sample, net_ml, 0.0, molar_mass(base), readings, residual_catalyst_mg_per_kg)


def _first_readings(sample: SoapSample) -> int:
    """How many readings the first end point rests on: one, and its blank where there is one."""
    return 2 if sample.catalyst is not None and sample.catalyst.blank.value else 1


def _first_end_point_ml(sample: SoapSample, readings: Readings) -> float:
    assert sample.catalyst is not None
    acid_ml = readings.burette_ml([sample.catalyst.acid], f"acid to the first end point, {sample.point}")
    if not sample.catalyst.blank.value:
        return acid_ml
    return acid_ml - readings.burette_ml(
        [sample.catalyst.blank], f"blank to the first end point, {sample.point}"
    )


def _titrated(
    log: Log,
    sample: SoapSample,
    acid_ml: float,
    blank_ml: float,
    counted_g_per_mol: float,
    readings: Readings,
    formula: Callable[..., float] = soap_mg_per_kg,
    *,
    ends: int = 1,
) -> Soap:
    """One content; its detection limit counts as many readings of acid as the difference rests on."""
    line = readings.density(density_line(log, "fuel"), "fuel")
    sample_g = _sample_g(sample.sample, line, log, readings, f"sample, {sample.point}")
    normality = readings.normality_mol_per_l(sample.normality)
    drop_ml = log.settings.instruments.burette.value * 1000
    limit = soap_detection_limit_mg_per_kg(
        drop_ml * ends**0.5, drop_ml, plain(normality), plain(sample_g), counted_g_per_mol
    )
    value = formula(acid_ml, blank_ml, normality, sample_g, counted_g_per_mol)
    below = sample.acid.sign == "<"
    return Soap(
        acid_ml=acid_ml,
        blank_ml=blank_ml,
        acid_mol_per_l=normality,
        sample_g=sample_g,
        counted_g_per_mol=counted_g_per_mol,
        mg_per_kg=value,
        limit_mg_per_kg=max(limit, plain(value)) if below else limit,
        detected=not below and plain(value) >= limit,
    )


def last_sample(batch: Batch, point: str) -> SoapSample | None:
    """The last sample at a point of a batch, over all its runs; earlier ones stay in the file and on the page."""
    samples = [sample for run in batch.polish for sample in run.soap if sample.point == point]
    return samples[-1] if samples else None


def soap_of_run(log: Log, batch: Batch, run: Polish, point: str) -> Soap | None:
    """The last soap result at a point of one run."""
    samples = [sample for sample in run.soap if sample.point == point]
    return soap(log, samples[-1], alkali(log, batch)) if samples else None


def soap_at(log: Log, batch: Batch, point: str, readings: Readings = EXACT) -> Soap | None:
    """The last soap result at a point of a batch."""
    sample = last_sample(batch, point)
    return soap(log, sample, alkali(log, batch), readings) if sample is not None else None
