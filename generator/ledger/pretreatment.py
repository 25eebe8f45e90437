"""An acid pre-treatment, planned or done: what it takes, what it makes, what stays with the oil and costs base."""

from __future__ import annotations

from dataclasses import dataclass, replace

from generator.formulas.acidity import base_demand_from_acid_value_mol_per_kg
from generator.formulas.pretreatment import (
    esterification_methanol_kg,
    esterification_water_kg,
    free_acid_converted_mol,
    mineral_acid_demand_mol,
    per_free_acid_kg,
)
from generator.ledger.basis import density_line
from generator.ledger.batch_facts import Facts, known
from generator.ledger.bench import acidity
from generator.ledger.parts import Part, part_of_pure, parts_of
from generator.ledger.readings import EXACT, Readings
from generator.log import Log
from generator.records import Batch, PlannedPretreatment, Pretreatment


@dataclass(frozen=True, slots=True)
class Treated:
    """A pre-treatment in figures; the contents of acid are per kilogram of oil as it was poured in."""

    done: bool
    acid_drained: bool | None
    acid: tuple[Part, ...] | None
    methanol: tuple[Part, ...] | None
    acid_pure_kg: float | None
    methanol_pure_kg: float | None
    before_mol_per_kg: float | None
    after_mol_per_kg: float | None
    after_basis: str | None
    mineral_mol: float | None
    free_after_mol_per_kg: float | None
    converted_mol: float | None

    @property
    def water_made_kg(self) -> float | None:
        """Water of the esterification."""
        return known(esterification_water_kg, self.converted_mol)

    @property
    def methanol_left_kg(self) -> float | None:
        """Methanol that the esterification did not take."""
        return known(
            lambda fed, mol: fed - esterification_methanol_kg(mol), self.methanol_pure_kg, self.converted_mol
        )

    @property
    def water_fed_kg(self) -> float | None:
        """Water that came with methanol and acid."""
        if self.acid is None or self.methanol is None:
            return None
        return sum((part.rest_kg for part in (*self.acid, *self.methanol)), 0.0)


def treated(log: Log, batch: Batch, facts: Facts, readings: Readings = EXACT) -> Treated | None:
    """The pre-treatment of a batch as it was done, or else as it is planned; None where there is none."""
    plan = batch.plan.pretreatment if batch.plan is not None else None
    before = facts.acidity.demand_mol_per_kg if facts.acidity is not None else None
    if batch.pretreatment is not None:
        found = _done(log, batch.pretreatment, before, readings)
        total = _titrated(log, batch, readings)
    elif plan is not None:
        found, total = _planned(log, batch, plan, facts, readings), None
    else:
        return None
    mineral_per_kg = known(lambda mol, kg: mol / kg, found.mineral_mol, facts.oil_kg)
    if total is not None:
        free = known(lambda all_of_it, mineral: all_of_it - mineral, total, mineral_per_kg)
        found = replace(found, after_mol_per_kg=total, after_basis="titrated", free_after_mol_per_kg=free)
    elif plan is not None and plan.target is not None:
        free = base_demand_from_acid_value_mol_per_kg(plan.target.value)
        total = known(lambda mineral, wanted=free: wanted + mineral, mineral_per_kg)
        found = replace(found, after_mol_per_kg=total, after_basis="target", free_after_mol_per_kg=free)
    converted = known(free_acid_converted_mol, facts.oil_kg, before, found.free_after_mol_per_kg)
    return replace(found, converted_mol=converted)


def _titrated(log: Log, batch: Batch, readings: Readings) -> float | None:
    after = batch.pretreatment.titration if batch.pretreatment is not None else None
    if after is None or not batch.oil:
        return None
    found = acidity(log, after, density_line(log, "oil", batch.oil[0].lot), readings)
    return found.demand_mol_per_kg if found is not None else None


def _done(log: Log, record: Pretreatment, before: float | None, readings: Readings) -> Treated:
    acid = parts_of(log, record.acid, readings)
    methanol = parts_of(log, record.methanol, readings)
    acid_kg = None if acid is None else sum((part.pure_kg for part in acid), 0.0)
    return Treated(
        done=True,
        acid_drained=record.acid_drained,
        acid=acid,
        methanol=methanol,
        acid_pure_kg=acid_kg,
        methanol_pure_kg=None if methanol is None else sum((part.pure_kg for part in methanol), 0.0),
        before_mol_per_kg=before,
        after_mol_per_kg=None,
        after_basis=None,
        mineral_mol=_mineral_mol(acid_kg, record.acid_drained),
        free_after_mol_per_kg=None,
        converted_mol=None,
    )


def _mineral_mol(acid_kg: float | None, drained: bool | None) -> float | None:
    if drained is None:
        return None
    return 0.0 if drained else known(mineral_acid_demand_mol, acid_kg)


def _planned(log: Log, batch: Batch, plan: PlannedPretreatment, facts: Facts, readings: Readings) -> Treated:
    rule = log.settings.dose.pretreatment if log.settings.dose is not None else None
    ffa = facts.acidity.ffa_oleic_pct if facts.acidity is not None else None
    acid_kg = methanol_kg = None
    if rule is not None:
        acid_kg = known(lambda kg, pct: per_free_acid_kg(kg, pct, rule.acid.value), facts.oil_kg, ffa)
        methanol_kg = known(lambda kg, pct: per_free_acid_kg(kg, pct, rule.methanol.value), facts.oil_kg, ffa)
    assert batch.plan is not None
    lot = next((item.lot for item in reversed(batch.plan.methanol) if item.amount is None), None)
    return Treated(
        done=False,
        acid_drained=plan.acid_drained,
        acid=_from_lot(log, plan.acid, acid_kg, readings),
        methanol=_from_lot(log, lot, methanol_kg, readings),
        acid_pure_kg=acid_kg,
        methanol_pure_kg=methanol_kg,
        before_mol_per_kg=facts.acidity.demand_mol_per_kg if facts.acidity is not None else None,
        after_mol_per_kg=None,
        after_basis=None,
        mineral_mol=_mineral_mol(acid_kg, plan.acid_drained),
        free_after_mol_per_kg=None,
        converted_mol=None,
    )


def _from_lot(
    log: Log, lot: str | None, pure_kg: float | None, readings: Readings
) -> tuple[Part, ...] | None:
    part = part_of_pure(log, lot, pure_kg, readings)
    return None if part is None else (part,)
