"""The figures of one batch, from its own readings: amounts on one basis, dose, theory, yield, closure, soap.

Numbers in the units their names say; None is unknown and stays unknown through every figure made from it. The checks and
the tables both take their figures from here, so that they cannot disagree: the checks on plain numbers, the tables on
numbers that carry their uncertainty.
"""

from __future__ import annotations

import functools
from collections.abc import Mapping, Sequence

from generator.data import rows
from generator.formulas.acidity import acid_value_mg_koh_per_g, ffa_pct
from generator.formulas.constants import SOAP_G_PER_MOL, DensityLine, molar_mass, soap_base
from generator.formulas.density import volume_of_mass_l
from generator.formulas.dose import methanol_molar_ratio, rest_of_kg
from generator.formulas.pretreatment import esterification_ester_kg, esterification_methanol_kg
from generator.formulas.stoichiometry import (
    ester_ceiling_kg,
    glycerol_in_theory_kg,
    mean_fatty_acid_g_per_mol,
    methanol_consumed_kg,
    neutral_triglyceride_g_per_mol,
    soap_from_ffa_kg,
    triglyceride_from_saponification_g_per_mol,
    triglyceride_g_per_mol,
    water_from_ffa_kg,
)
from generator.ledger.basis import FUEL, LAYER, Amount, amount, density_line
from generator.ledger.batch_facts import Facts, known
from generator.ledger.bench import acidity, purity_pct
from generator.ledger.charges import after
from generator.ledger.dose import HYDROXIDES, Base, base_of, shares_pct
from generator.ledger.pretreatment import treated
from generator.ledger.readings import EXACT, Readings, plain
from generator.ledger.soap import alkali, between, catalyst_left, last_sample, soap
from generator.log import Entry, Log
from generator.records import Batch, Catalyst, Oil, Use
from generator.units import Quantity

TYPICAL_OIL = "used cooking oil"


def facts_of(log: Log, entry: Entry[Batch], readings: Readings = EXACT) -> Facts:
    """All figures of one batch that its own file and the materials it names can give."""
    return _Reckoning(log, entry, readings).facts


class _Reckoning:
    """One batch on its way from readings to figures, in the order of the work."""

    def __init__(self, log: Log, entry: Entry[Batch], readings: Readings) -> None:
        self.log, self.batch, self.readings = log, entry.record, readings
        self.facts = Facts(entry.id)
        self._oil()
        self.before = treated(log, self.batch, self.facts, readings)
        self._pretreatment()
        self._theory()
        self._reaction()
        self._dose()
        self._products()
        self._soap()

    def _line(self, of: str, lot: str | None = None) -> DensityLine:
        return self.readings.density(density_line(self.log, of, lot), of)

    def _carried(self, quantity: Quantity, line: DensityLine, label: str) -> Amount:
        """An amount on both bases; a temperature that had to be assumed is noted."""
        found = amount(self.log, quantity, line, self.readings, label)
        if found.assumed and label not in self.facts.assumed:
            self.facts.assumed.append(label)
        return found

    def _oil(self) -> None:
        facts, batch = self.facts, self.batch
        if not batch.oil:
            return
        first = density_line(self.log, "oil", batch.oil[0].lot)
        if batch.titration is not None:
            facts.acidity = acidity(self.log, batch.titration, first, self.readings)
        litres = kg = moles = 0.0
        bases: list[str | None] = []
        for use in batch.oil:
            part = self._carried(use.amount, self._line("oil", use.lot), "oil")
            molar = self._triglyceride(use.lot, bases)
            litres, kg = litres + part.litres, kg + part.kg
            moles = moles + (part.kg / molar if molar is not None else 0.0)
        facts.oil_l, facts.oil_kg = litres, kg
        if None not in bases:
            facts.triglyceride_g_per_mol = kg / moles
            facts.oil_basis = ", ".join(dict.fromkeys(basis for basis in bases if basis is not None))

    def _triglyceride(self, lot: str, bases: list[str | None]) -> float | None:
        """Mean molar mass of an oil, g/mol, from its profile, its saponification value, or a typical used oil."""
        entry = self.log.material_of(lot)
        if entry is None or not isinstance(entry.record, Oil):
            bases.append(None)
            return None
        oil = entry.record
        if oil.profile is not None:
            molar = profile_g_per_mol(oil.profile)
        elif oil.saponification_value is not None:
            acidity, saponification = self.facts.acidity, oil.saponification_value.value
            acid = acidity.acid_value_mg_koh_per_g if acidity is not None else 0.0
            ffa = acidity.ffa_oleic_pct if acidity is not None else 0.0
            if plain(acid) > saponification / 2:  # the difference of two near values says nothing
                bases.append(None)
                return None
            whole = triglyceride_from_saponification_g_per_mol(saponification, acid)
            molar = neutral_triglyceride_g_per_mol(whole, ffa)
        else:
            bases.append("a typical used oil")
            return self.readings.oil_g_per_mol(_typical_g_per_mol(), entry.id, typical=True)
        bases.append("profile" if oil.profile is not None else "saponification value")
        return self.readings.oil_g_per_mol(molar, entry.id, typical=False)

    def _pretreatment(self) -> None:
        """Acid and layer of a pre-treatment that was done; unknown where its amounts are."""
        done = self.batch.pretreatment
        if done is None or self.before is None:
            return
        acid, after = self.before.acid, self.before.after_mol_per_kg
        self.facts.treated_acid_value_mg_koh_per_g = known(acid_value_mg_koh_per_g, after)
        self.facts.acid_kg = sum((part.kg for part in acid), 0.0) if acid is not None else None
        self.facts.treated_layer_kg = (
            self.readings.mass_kg(done.drained, "acid layer") if done.drained is not None else None
        )

    def _theory(self) -> None:
        """At full conversion of the neutral oil; acid that a pre-treatment turned to ester comes on top."""
        facts, before = self.facts, self.before
        ffa = facts.acidity.ffa_oleic_pct if facts.acidity is not None else None
        given = (facts.oil_kg, ffa, facts.triglyceride_g_per_mol)
        facts.neutral_ester_kg = known(ester_ceiling_kg, *given)
        facts.neutral_methanol_kg = known(methanol_consumed_kg, *given)
        facts.glycerol_theory_kg = known(glycerol_in_theory_kg, *given)
        if before is not None:
            facts.esterified_kg = known(esterification_ester_kg, before.converted_mol)
            facts.esterified_methanol_kg = known(esterification_methanol_kg, before.converted_mol)
            ffa = known(ffa_pct, before.free_after_mol_per_kg)
        facts.ester_theory_kg = _both(facts.neutral_ester_kg, facts.esterified_kg)
        facts.methanol_consumed_kg = _both(facts.neutral_methanol_kg, facts.esterified_methanol_kg)
        density = self._line(FUEL).at(self.log.reference_c)
        facts.ester_theory_l = known(lambda kg: volume_of_mass_l(kg, density), facts.ester_theory_kg)
        first = self._first_catalyst()
        if first is None:
            return
        factor = SOAP_G_PER_MOL[soap_base(first.of)]
        facts.soap_theory_kg = known(lambda kg, pct: soap_from_ffa_kg(kg, pct, factor), facts.oil_kg, ffa)
        if first.of in HYDROXIDES:
            facts.water_theory_kg = known(water_from_ffa_kg, facts.oil_kg, ffa)
        else:  # a methoxide gives methanol where a hydroxide gives water
            facts.water_theory_kg = 0.0

    def _first_catalyst(self) -> Catalyst | None:
        first = next((use for stage in self.batch.reaction for use in stage.catalyst), None)
        entry = self.log.material_of(first.lot) if first is not None else None
        return entry.record if entry is not None and isinstance(entry.record, Catalyst) else None

    def _reaction(self) -> None:
        facts, batch = self.facts, self.batch
        weighed = [self._grams(stage.catalyst) for stage in batch.reaction]
        if batch.reaction and any(stage.catalyst for stage in batch.reaction):
            facts.catalyst_g = known(lambda *grams: sum(grams), *weighed)
        self._methanol()

    def _methanol(self) -> None:
        """All methanol for the balance; the ratio counts what went into the reaction, with that of the catalyst."""
        facts, batch = self.facts, self.batch
        reaction = [use for stage in batch.reaction for use in stage.methanol]
        before = batch.pretreatment.methanol if batch.pretreatment is not None else ()
        if not reaction and not before:
            return
        treating = [self._carried(use.amount, self._line("methanol", use.lot), "methanol") for use in before]
        parts = [self._carried(use.amount, self._line("methanol", use.lot), "methanol") for use in reaction]
        pure = self._methanol_in_catalyst()
        for use, part in zip(reaction, parts, strict=True):
            purity = purity_pct(self.log, use.lot, self.readings)
            pure = known(lambda so_far, pct, kg=part.kg: so_far + kg * pct / 100, pure, purity)
        facts.methanol_l = sum((part.litres for part in (*parts, *treating)), 0.0)
        facts.methanol_kg = sum((part.kg for part in (*parts, *treating)), 0.0)
        if reaction:
            facts.reaction_methanol_l = sum((part.litres for part in parts), 0.0)
            facts.reaction_methanol_pure_kg = pure
            facts.methanol_molar_ratio = known(
                lambda kg, oil, molar: methanol_molar_ratio(kg, 100.0, oil, molar),
                pure,
                facts.oil_kg,
                facts.triglyceride_g_per_mol,
            )

    def _methanol_in_catalyst(self) -> float | None:
        """Methanol that came with a solution of the catalyst, kg; it is weighed with the catalyst."""
        total: float | None = 0.0
        for use in (use for stage in self.batch.reaction for use in stage.catalyst):
            entry = self.log.material_of(use.lot)
            if entry is not None and isinstance(entry.record, Catalyst) and entry.record.solvent is not None:
                weighed = self.readings.mass_kg(use.mass, "catalyst") if use.mass is not None else None
                rest = known(rest_of_kg, weighed, purity_pct(self.log, use.lot, self.readings))
                total = known(lambda so_far, more: so_far + more, total, rest)
        return total

    def _grams(self, uses: Sequence[Use]) -> float | None:
        """What was weighed; None where an entry is a volume."""
        masses = [
            self.readings.mass_kg(use.mass, "catalyst") if use.mass is not None else None for use in uses
        ]
        return known(lambda *kg: sum(kg) * 1000, *masses)

    def _dose(self) -> None:
        """The maker's rule for the catalyst of the batch, and for its first stage."""
        facts, base = self.facts, base_of(self.log, self.batch, self.facts, self.before, self.readings)
        if base is not None:
            facts.catalyst_of = base.of
            facts.catalyst_purity_pct, facts.dose_demand_mol_per_kg = base.purity_pct, base.demand_mol_per_kg
            facts.dose_neutralising_g, facts.dose_base_g = base.neutralising_g, base.base_g
            self._compared(base)

    def _compared(self, base: Base) -> None:
        """Which stages are held to which share of the rule: the first where the rule is split, all of them otherwise."""
        facts, shares = self.facts, shares_pct(self.log, self.batch)
        stages = self.batch.reaction
        split = len(stages) > 1 and len(shares) > 1
        facts.compared_pct = shares[0] if split else 100.0
        if facts.catalyst_g is None:
            return
        each = [[self._as_base_g(use, base) for use in stage.catalyst] for stage in stages]
        facts.all_stages_g = known(lambda *grams: sum(grams), *(one for stage in each for one in stage))
        facts.compared_g = known(lambda *grams: sum(grams), *each[0]) if split else facts.all_stages_g

    def _as_base_g(self, use: Use, base: Base) -> float | None:
        """What of the batch's base would hold as many moles as was weighed of this lot."""
        grams, entry = self._grams([use]), self.log.material_of(use.lot)
        if entry is None or not isinstance(entry.record, Catalyst):
            return None
        molar = molar_mass(entry.record.of) / molar_mass(base.of)
        purity = purity_pct(self.log, use.lot, self.readings)
        return known(lambda mass, pct: mass * pct / base.purity_pct / molar, grams, purity)

    def _products(self) -> None:
        facts, batch = self.facts, self.batch
        layer = batch.settled.glycerol if batch.settled is not None else None
        if layer is not None:
            facts.glycerol_layer_kg = self._carried(layer.amount, self._line(LAYER), "layer drawn off").kg
        if batch.methanol_recovered is not None:
            back = self._carried(
                batch.methanol_recovered.volume, self._line("methanol"), "methanol taken back"
            )
            facts.methanol_recovered_l, facts.methanol_recovered_kg = back.litres, back.kg
        volumes = [run.volume for run in batch.first_passes]
        if volumes and None not in volumes:
            fed = [self._carried(one, self._line(FUEL), "fuel fed") for one in volumes if one is not None]
            facts.fed_l = sum((one.litres for one in fed), 0.0)
            facts.fed_kg = sum((one.kg for one in fed), 0.0)
        if batch.fuel is not None:
            finished = self._carried(batch.fuel.amount, self._line(FUEL), "finished fuel")
            facts.fuel_l, facts.fuel_kg = finished.litres, finished.kg

    def _soap(self) -> None:
        facts, batch, log = self.facts, self.batch, self.log
        if not batch.polish:
            return
        acids = [run.acid_value.value.value for run in batch.first_passes if run.acid_value is not None]
        facts.feed_acid_value_mg_koh_per_g = acids[0] if acids else None
        purifier = log.purifiers.get(batch.polish[-1].purifier)
        if purifier is None:
            return
        vessels = [vessel.vessel for vessel in purifier.record.vessels]
        base = alkali(log, batch)
        feed, product = last_sample(batch, "feed"), last_sample(batch, "product")
        facts.soap_feed = soap(log, feed, base, self.readings) if feed else None
        facts.soap_product = soap(log, product, base, self.readings) if product else None
        if len(vessels) > 1:
            middle = last_sample(batch, between(batch) or after(vessels[-2]))
            facts.soap_between = soap(log, middle, base, self.readings) if middle else None
        facts.catalyst_feed = catalyst_left(log, feed, base, self.readings) if feed else None
        facts.catalyst_product = catalyst_left(log, product, base, self.readings) if product else None


def _both(one: float | None, other: float | None) -> float | None:
    return known(lambda a, b: a + b, one, other)


def profile_g_per_mol(profile: Mapping[str, Quantity]) -> float:
    """Mean molar mass of the triglyceride of a profile as it is written, g/mol."""
    return _of_shares_g_per_mol(tuple((name, share.value) for name, share in profile.items()))


@functools.lru_cache(maxsize=1024)
def _of_shares_g_per_mol(profile: tuple[tuple[str, float], ...]) -> float:
    return triglyceride_g_per_mol(mean_fatty_acid_g_per_mol(dict(profile)))


@functools.cache
def _typical_g_per_mol() -> float:
    profile: dict[str, float] = rows("oils")[TYPICAL_OIL]["profile"]
    return _of_shares_g_per_mol(tuple(profile.items()))
