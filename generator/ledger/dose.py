"""What to weigh for a batch, planned or recorded, by the maker's own rule: base, methanol, stages, pre-treatment.

Arithmetic on the rule of `logbook.yaml`, to be checked by whoever weighs; no recipe. Purity is applied once to each lot,
where a pure amount becomes an amount to weigh. A figure that cannot be made is None, and `missing` names what it lacks.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from generator.formulas.constants import molar_mass
from generator.formulas.dose import (
    base_rate_g,
    dose_g,
    neutralising_g,
    rest_of_kg,
    stage_part,
    water_from_hydroxide_kg,
)
from generator.formulas.pretreatment import base_for_mineral_acid_g
from generator.language import tell
from generator.ledger.batch_facts import Facts, known
from generator.ledger.bench import purity_pct
from generator.ledger.methanol import Methanol, methanol_lots, methanol_of
from generator.ledger.parts import Part
from generator.ledger.pretreatment import Treated, treated
from generator.ledger.readings import EXACT, Readings, plain
from generator.log import Entry, Log
from generator.records import Batch, Catalyst
from generator.units import Quantity

HYDROXIDES = ("KOH", "NaOH")


@dataclass(frozen=True, slots=True)
class Base:
    """The catalyst as weighed: the terms of the rule apart. `mineral_g` is the part of the neutralising term that mineral
    acid takes: 0 where there is none, None where it is not known how much stayed.
    """

    lot: str
    of: str
    purity_pct: float
    same_lot: bool
    solvent: bool
    demand_mol_per_kg: float | None
    neutralising_g: float | None
    mineral_g: float | None
    base_g: float | None

    @property
    def total_g(self) -> float | None:
        """Both terms."""
        return known(dose_g, self.neutralising_g, self.base_g)

    @property
    def solvent_kg(self) -> float | None:
        """Methanol that comes with a solution in methanol."""
        if not self.solvent:
            return 0.0
        return known(lambda grams: rest_of_kg(grams / 1000, self.purity_pct), self.total_g)

    @property
    def water_kg(self) -> float | None:
        """Water that the base makes at most: a hydroxide one mole per mole, a methoxide none."""
        if self.of not in HYDROXIDES:
            return 0.0
        return known(
            lambda grams: water_from_hydroxide_kg(grams * self.purity_pct / 100_000, molar_mass(self.of)),
            self.total_g,
        )


@dataclass(frozen=True, slots=True)
class StageDose:
    """What goes into one stage."""

    share_pct: float
    catalyst_g: float | None
    methanol: tuple[Part, ...] | None


@dataclass(frozen=True, slots=True)
class Dose:
    """Every amount a maker weighs for one batch, and what the amounts rest on."""

    batch: str
    facts: Facts
    base: Base | None
    methanol: Methanol
    pretreatment: Treated | None
    stages: tuple[StageDose, ...]
    oil_water_kg: float | None
    oil_water_sign: str
    needs_drying: bool | None
    needs_pretreatment: bool | None
    missing: tuple[str, ...]


def dose_of(log: Log, entry: Entry[Batch], facts: Facts, readings: Readings = EXACT) -> Dose:
    """The dose of a batch; of `facts` only the oil is used: its amount, molar mass and acidity."""
    batch = entry.record
    before = treated(log, batch, facts, readings)
    base = base_of(log, batch, facts, before, readings)
    in_catalyst = base.solvent_kg if base is not None else None
    methanol = methanol_of(log, batch, facts, in_catalyst, readings)
    water = batch.water.value if batch.water is not None else None
    acid_value = facts.acidity.acid_value_mg_koh_per_g if facts.acidity is not None else None
    lines = log.settings.thresholds
    return Dose(
        batch=entry.id,
        facts=facts,
        base=base,
        methanol=methanol,
        pretreatment=before,
        stages=_stages(log, batch, base, methanol),
        oil_water_kg=known(
            lambda kg, content: kg * content / 1e6, facts.oil_kg, water.value if water is not None else None
        ),
        oil_water_sign=water.sign if water is not None else "",
        needs_drying=lies_above(water, lines.water) if water is not None else None,
        needs_pretreatment=lies_above(acid_value, lines.acid_value),
        missing=tuple(_missing(log, batch, facts, base, before)),
    )


def catalyst_lot(batch: Batch) -> str | None:
    """The lot of catalyst that the rule is reckoned for: the first that was weighed, or the planned one."""
    planned = batch.plan.catalyst if batch.plan is not None else None
    return next((use.lot for stage in batch.reaction for use in stage.catalyst), planned)


def lies_above(found: Quantity | float | None, line: Quantity | None) -> bool | None:
    """Whether a result lies above a line of the workshop; None where a result with < or > leaves that open."""
    if found is None or line is None:
        return None
    value, sign = (found.value, found.sign) if isinstance(found, Quantity) else (plain(found), "")
    if sign == "<":
        return False if value <= line.value else None
    if sign == ">":
        return True if value >= line.value else None
    return value > line.value


def base_of(
    log: Log, batch: Batch, facts: Facts, before: Treated | None, readings: Readings = EXACT
) -> Base | None:
    """The catalyst by the rule, with what a pre-treatment left; None where no lot of it is known."""
    lot = catalyst_lot(batch)
    entry, purity = log.material_of(lot) if lot else None, purity_pct(log, lot, readings)
    if lot is None or entry is None or not isinstance(entry.record, Catalyst) or purity is None:
        return None
    molar, rule = molar_mass(entry.record.of), log.settings.dose
    demand = facts.acidity.demand_mol_per_kg if facts.acidity is not None else None
    mineral_mol: float | None = 0.0
    titration = batch.titration
    if before is not None:
        demand, mineral_mol = before.after_mol_per_kg, before.mineral_mol
        titration = batch.pretreatment.titration if batch.pretreatment is not None else None
    return Base(
        lot=lot,
        of=entry.record.of,
        purity_pct=purity,
        same_lot=titration is not None and titration.titrant.lot == lot,
        solvent=entry.record.solvent is not None,
        demand_mol_per_kg=demand,
        neutralising_g=known(lambda need, kg: neutralising_g(need, kg, molar, purity), demand, facts.oil_kg),
        mineral_g=known(lambda mol: base_for_mineral_acid_g(mol, molar, purity), mineral_mol),
        base_g=None
        if rule is None
        else known(
            lambda litres: base_rate_g(rule.base.value, molar_mass(rule.of), litres, molar, purity),
            facts.oil_l,
        ),
    )


def shares_pct(log: Log, batch: Batch) -> tuple[float, ...]:
    """The shares of the stages: the plan's own, else the rule's, else all at once."""
    rule = log.settings.dose
    chosen = (batch.plan.stages if batch.plan is not None else ()) or (rule.stages if rule else ())
    written = [share.value for share in chosen]
    return tuple(100 * share / sum(written) for share in written) or (100.0,)


def _stages(log: Log, batch: Batch, base: Base | None, methanol: Methanol) -> tuple[StageDose, ...]:
    total = base.total_g if base is not None else None
    return tuple(
        StageDose(
            share_pct=share,
            catalyst_g=known(lambda grams, pct=share: stage_part(grams, pct), total),
            methanol=None
            if methanol.parts is None
            else tuple(_staged(part, share) for part in methanol.parts),
        )
        for share in shares_pct(log, batch)
    )


def _staged(part: Part, share_pct: float) -> Part:
    litres = known(lambda all_of_it: stage_part(all_of_it, share_pct), part.litres)
    return Part(part.lot, part.purity_pct, stage_part(part.kg, share_pct), litres, part.recovered)


def _missing(
    log: Log, batch: Batch, facts: Facts, base: Base | None, before: Treated | None
) -> Iterator[str]:
    """What an unknown amount lacks, and where it would be written."""
    rule = log.settings.dose
    if facts.acidity is None:
        yield _missing_acidity(batch)
    if facts.triglyceride_g_per_mol is None:
        yield tell("the material of every lot of oil, its acid value well below its saponification value")
    if base is None:
        yield tell("a lot of catalyst")
    if rule is None:
        yield tell("the workshop's rule ('dose' in logbook.yaml)")
    elif rule.methanol is None:
        yield tell("a rule for methanol ('methanol' under 'dose' in logbook.yaml)")
    if not methanol_lots(batch):
        yield tell("a lot of methanol")
    if before is not None:
        yield from _missing_before(log, batch, before)


def _missing_acidity(batch: Batch) -> str:
    if batch.titration is None:
        return tell("a titration of the oil")
    if batch.titration.titrant.standardised is not None:
        return tell("titrant used on the phthalate beyond the blank ('standardised' under 'titrant')")
    return tell("the purity of the titrant's lot")


def _missing_before(log: Log, batch: Batch, before: Treated) -> Iterator[str]:
    rule = log.settings.dose
    if not before.done and rule is not None and rule.pretreatment is None:
        yield tell("a rule for pre-treatment ('pretreatment' under 'dose' in logbook.yaml)")
    if before.acid is None:
        yield (
            tell("the density of the acid")
            if before.done
            else tell("a lot of acid ('acid' under 'pretreatment')")
        )
    if before.after_basis is None:
        yield tell("the acid value after pre-treatment: a titration after it, or 'target' in the plan")
    if before.acid_drained is None:
        yield tell("whether the acid left with its layer ('acid_drained')")
