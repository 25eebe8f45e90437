"""Methanol for a batch by the maker's rule: by moles or by volume, lot by lot, with what is there already counted."""

from __future__ import annotations

from dataclasses import dataclass

from generator.formulas.dose import (
    methanol_for_ratio_kg,
    methanol_for_volume_kg,
    methanol_molar_ratio,
    methanol_pct_v_v,
)
from generator.ledger.basis import density_line
from generator.ledger.batch_facts import Facts, known
from generator.ledger.parts import Part, part_of_pure, part_of_use
from generator.ledger.readings import EXACT, Readings, plain
from generator.log import Log
from generator.records import Batch, PlannedMethanol


@dataclass(frozen=True, slots=True)
class Methanol:
    """Methanol by lots, against the rule; pure methanol counts. `parts` are what is poured, the rest is there already."""

    rule_kg: float | None
    parts: tuple[Part, ...] | None
    from_catalyst_kg: float | None
    pure_kg: float | None
    molar_ratio: float | None
    pct_v_v: float | None
    beyond_rule: bool
    from_catalyst_beyond_rule: bool

    @property
    def water_kg(self) -> float | None:
        """Water that comes with it."""
        return None if self.parts is None else sum((part.rest_kg for part in self.parts), 0.0)


def methanol_of(
    log: Log,
    batch: Batch,
    facts: Facts,
    from_catalyst_kg: float | None,
    readings: Readings = EXACT,
) -> Methanol:
    """What to pour of every lot, so that pure methanol adds up to the rule with what the catalyst brings.

    Methanol that a pre-treatment left is not counted: how much of it went with its layer is not known, and too little
    methanol stops the reaction.
    """
    kg_per_m3 = readings.density(density_line(log, "methanol"), "methanol").at(log.reference_c)
    rule_kg = _rule_kg(log, facts, kg_per_m3)
    wanted = known(lambda rule, already: rule - already, rule_kg, from_catalyst_kg)
    parts, beyond = _parts(log, methanol_lots(batch, rule_kg is not None), wanted, readings)
    poured = None if parts is None else sum((part.pure_kg for part in parts), 0.0)
    pure = known(lambda kg, already: kg + already, poured, from_catalyst_kg)
    litres = None if parts is None else sum(((part.litres or 0.0) for part in parts), 0.0)
    litres = known(lambda own, kg: own + kg * 1000 / kg_per_m3, litres, from_catalyst_kg)
    ratio = known(
        lambda kg, oil, molar: methanol_molar_ratio(kg, 100.0, oil, molar),
        pure,
        facts.oil_kg,
        facts.triglyceride_g_per_mol,
    )
    return Methanol(
        rule_kg=rule_kg,
        parts=parts,
        from_catalyst_kg=from_catalyst_kg,
        pure_kg=pure,
        molar_ratio=ratio,
        pct_v_v=known(methanol_pct_v_v, litres, facts.oil_l),
        beyond_rule=beyond,
        from_catalyst_beyond_rule=wanted is not None and plain(wanted) < 0,
    )


def methanol_lots(batch: Batch, rule_known: bool = True) -> tuple[PlannedMethanol, ...]:
    """The lots as planned; else those that were poured, of which the last takes the rest where a rule is known."""
    if batch.plan is not None:
        return batch.plan.methanol
    uses = [use for stage in batch.reaction for use in stage.methanol]
    last = uses[-1].lot if uses and rule_known else None
    fixed = [
        PlannedMethanol.model_construct(lot=use.lot, volume=use.volume, mass=use.mass)
        for use in uses
        if use.lot != last
    ]
    rest = [PlannedMethanol.model_construct(lot=last, volume=None, mass=None)] if last is not None else []
    return (*fixed, *rest)


def _rule_kg(log: Log, facts: Facts, kg_per_m3: float) -> float | None:
    """Pure methanol by the rule, kg."""
    rule = log.settings.dose.methanol if log.settings.dose is not None else None
    if rule is None:
        return None
    if rule.kind == "molar ratio":
        return known(
            lambda kg, molar: methanol_for_ratio_kg(rule.value, kg, molar),
            facts.oil_kg,
            facts.triglyceride_g_per_mol,
        )
    return known(lambda litres: methanol_for_volume_kg(rule.value, litres, kg_per_m3), facts.oil_l)


def _parts(
    log: Log, lots: tuple[PlannedMethanol, ...], wanted_kg: float | None, readings: Readings
) -> tuple[tuple[Part, ...] | None, bool]:
    """What is poured of each lot, and whether the written amounts already exceed what is wanted."""
    fixed = [
        part_of_use(log, item.lot, item.amount, readings) if item.amount is not None else None
        for item in lots
    ]
    written = [part for part in fixed if part is not None]
    so_far = sum((part.pure_kg for part in written), 0.0)
    beyond = wanted_kg is not None and plain(wanted_kg) < plain(so_far)
    rest_kg = 0.0 if beyond else known(lambda wanted: wanted - so_far, wanted_kg)
    found = [
        part_of_pure(log, item.lot, rest_kg, readings) if item.amount is None else part
        for item, part in zip(lots, fixed, strict=True)
    ]
    complete = tuple(part for part in found if part is not None)
    return (complete if complete and len(complete) == len(found) else None), beyond
