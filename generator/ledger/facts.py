"""The figures of one batch, from its own readings: amounts on one basis, dose, yield, closure, soap.

Plain numbers in the units their names say; None is unknown and stays unknown through every figure made from it. The
checks and the tables both take their figures from here, so that they cannot disagree.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field

from generator.formulas.columns import share_pct
from generator.formulas.constants import DensityLine, molar_mass
from generator.formulas.dose import base_rate_g, methanol_molar_ratio, methanol_pct_v_v, neutralising_g
from generator.formulas.stoichiometry import (
    ester_ceiling_kg,
    mean_fatty_acid_g_per_mol,
    triglyceride_from_saponification_g_per_mol,
    triglyceride_g_per_mol,
)
from generator.ledger.basis import FUEL, Amount, amount, density_line
from generator.ledger.bench import Acidity, Soap, acidity, purity_pct, soap_at
from generator.ledger.charges import after
from generator.log import Entry, Log
from generator.records import Batch, Catalyst, Oil, Use
from generator.units import Quantity


@dataclass(slots=True)
class Facts:
    """One batch in figures; see `tables.BATCHES` for what each name means."""

    batch: str
    oil_l: float | None = None
    oil_kg: float | None = None
    triglyceride_g_per_mol: float | None = None
    acidity: Acidity | None = None
    catalyst_of: str | None = None
    catalyst_g: float | None = None
    first_stage_g: float | None = None
    dose_neutralising_g: float | None = None
    dose_base_g: float | None = None
    methanol_l: float | None = None
    methanol_kg: float | None = None
    methanol_molar_ratio: float | None = None
    ester_theory_kg: float | None = None
    glycerol_layer_kg: float | None = None
    methanol_recovered_l: float | None = None
    methanol_recovered_kg: float | None = None
    fed_l: float | None = None
    fed_kg: float | None = None
    fuel_l: float | None = None
    fuel_kg: float | None = None
    soap_feed: Soap | None = None
    soap_between: Soap | None = None
    soap_product: Soap | None = None
    assumed: list[str] = field(default_factory=list)

    @property
    def dose_g(self) -> float | None:
        """Both terms of the maker's rule, as weighed."""
        return known(lambda a, b: a + b, self.dose_neutralising_g, self.dose_base_g)

    @property
    def dose_difference_pct(self) -> float | None:
        """Catalyst of the first stage against the rule."""
        return known(lambda weighed, rule: 100 * (weighed / rule - 1), self.first_stage_g, self.dose_g)

    @property
    def methanol_pct_v_v(self) -> float | None:
        """Methanol by volume of oil."""
        return known(methanol_pct_v_v, self.methanol_l, self.oil_l)

    @property
    def made_kg(self) -> float | None:
        """Fuel before the columns, or the finished fuel where no volume was written before them."""
        return self.fed_kg if self.fed_kg is not None else self.fuel_kg

    @property
    def heel_l(self) -> float | None:
        """Fuel the run left in the columns."""
        return known(lambda fed, fuel: fed - fuel, self.fed_l, self.fuel_l)

    @property
    def yield_volume_pct(self) -> float | None:
        """Finished fuel by volume of oil."""
        return known(share_pct, self.fuel_l, self.oil_l)

    @property
    def yield_mass_pct(self) -> float | None:
        """Fuel before the columns by mass of oil."""
        return known(share_pct, self.made_kg, self.oil_kg)

    @property
    def yield_theory_pct(self) -> float | None:
        """Fuel before the columns against the ester in theory."""
        return known(share_pct, self.made_kg, self.ester_theory_kg)

    @property
    def closure_pct(self) -> float | None:
        """Mass out over mass in; a batch that writes no methanol taken back is taken to have had none."""
        went_in = known(
            lambda oil, alcohol, base: oil + alcohol + base / 1000,
            self.oil_kg,
            self.methanol_kg,
            self.catalyst_g,
        )
        back = self.methanol_recovered_kg if self.methanol_recovered_kg is not None else 0.0
        came_out = known(lambda made, layer: made + layer + back, self.made_kg, self.glycerol_layer_kg)
        return known(share_pct, came_out, went_in)


def known(formula: Callable[..., float], *values: float | None) -> float | None:
    """Apply a formula where every value is known; unknown otherwise."""
    return None if any(value is None for value in values) else formula(*values)


def facts_of(log: Log, entry: Entry[Batch]) -> Facts:
    """All figures of one batch that its own file and the materials it names can give."""
    batch = entry.record
    facts = Facts(entry.id)
    _oil(log, batch, facts)
    _reaction(log, batch, facts)
    _products(log, batch, facts)
    _soap(log, batch, facts)
    return facts


def _sum(log: Log, uses: Sequence[Use], substance: str, facts: Facts, label: str) -> Amount | None:
    if not uses:
        return None
    litres = kg = 0.0
    assumed = False
    for use in uses:
        part = amount(log, use.amount, density_line(log, substance, use.lot))
        litres, kg, assumed = litres + part.litres, kg + part.kg, assumed or part.assumed
    if assumed:
        facts.assumed.append(label)
    return Amount(litres, kg, assumed)


def _oil(log: Log, batch: Batch, facts: Facts) -> None:
    total = _sum(log, batch.oil, "oil", facts, "oil")
    if total is None:
        return
    facts.oil_l, facts.oil_kg = total.litres, total.kg
    if batch.titration is not None:
        facts.acidity = acidity(log, batch.titration, _oil_line(log, batch))
    masses = [
        (amount(log, use.amount, density_line(log, "oil", use.lot)).kg, _triglyceride(log, use.lot, facts))
        for use in batch.oil
    ]
    if all(molar is not None for _, molar in masses):
        moles = sum(kg / molar for kg, molar in masses if molar is not None)
        facts.triglyceride_g_per_mol = total.kg / moles
    ffa = facts.acidity.ffa_pct if facts.acidity is not None else None
    facts.ester_theory_kg = known(ester_ceiling_kg, facts.oil_kg, ffa, facts.triglyceride_g_per_mol)


def _oil_line(log: Log, batch: Batch) -> DensityLine:
    return density_line(log, "oil", batch.oil[0].lot)


def _triglyceride(log: Log, lot: str, facts: Facts) -> float | None:
    entry = log.material_of(lot)
    if entry is None or not isinstance(entry.record, Oil):
        return None
    oil = entry.record
    if oil.profile is not None:
        profile = {name: share.value for name, share in oil.profile.items()}
        return triglyceride_g_per_mol(mean_fatty_acid_g_per_mol(profile))
    if oil.saponification_value is not None:
        acid = facts.acidity.acid_value_mg_koh_per_g if facts.acidity is not None else 0.0
        return triglyceride_from_saponification_g_per_mol(oil.saponification_value.value, acid)
    return None


def _reaction(log: Log, batch: Batch, facts: Facts) -> None:
    weighed = [
        [use.mass.value * 1000 if use.mass is not None else None for use in stage.catalyst]
        for stage in batch.reaction
    ]
    everything = [grams for stage in weighed for grams in stage]
    if everything and all(grams is not None for grams in everything):
        facts.catalyst_g = sum(grams for grams in everything if grams is not None)
        facts.first_stage_g = sum(grams for grams in weighed[0] if grams is not None)
    _dose(log, batch, facts)
    methanol = [use for stage in batch.reaction for use in stage.methanol]
    total = _sum(log, methanol, "methanol", facts, "methanol")
    if total is None:
        return
    facts.methanol_l, facts.methanol_kg = total.litres, total.kg
    pure = _pure_kg(log, methanol)
    facts.methanol_molar_ratio = known(
        lambda kg, oil, molar: methanol_molar_ratio(kg, 100.0, oil, molar),
        pure,
        facts.oil_kg,
        facts.triglyceride_g_per_mol,
    )


def _pure_kg(log: Log, uses: Sequence[Use]) -> float | None:
    total = 0.0
    for use in uses:
        purity = purity_pct(log, use.lot)
        if purity is None:
            return None
        total += amount(log, use.amount, density_line(log, "methanol", use.lot)).kg * purity / 100
    return total


def _dose(log: Log, batch: Batch, facts: Facts) -> None:
    """The maker's rule for the first catalyst of the batch, each term divided by purity once."""
    first = next((use for stage in batch.reaction for use in stage.catalyst), None)
    entry = log.material_of(first.lot) if first is not None else None
    if entry is None or not isinstance(entry.record, Catalyst):
        return
    facts.catalyst_of = entry.record.of
    molar, purity = molar_mass(entry.record.of), entry.record.purity.value
    demand = facts.acidity.demand_mol_per_kg if facts.acidity is not None else None
    facts.dose_neutralising_g = known(
        lambda need, kg: neutralising_g(need, kg, molar, purity), demand, facts.oil_kg
    )
    rule = log.settings.dose
    if rule is not None:
        rate, rule_molar = rule.base.value, molar_mass(rule.of)
        facts.dose_base_g = known(
            lambda litres: base_rate_g(rate, rule_molar, litres, molar, purity), facts.oil_l
        )


def _products(log: Log, batch: Batch, facts: Facts) -> None:
    layer = batch.settled.glycerol if batch.settled is not None else None
    if layer is not None and layer.mass is not None:
        facts.glycerol_layer_kg = layer.mass.value
    if batch.methanol_recovered is not None:
        back = amount(log, batch.methanol_recovered.volume, density_line(log, "methanol"))
        facts.methanol_recovered_l, facts.methanol_recovered_kg = back.litres, back.kg
    if batch.polish is not None and batch.polish.volume is not None:
        fed = _fuel(log, batch.polish.volume, facts, "fuel fed")
        facts.fed_l, facts.fed_kg = fed.litres, fed.kg
    if batch.fuel is not None:
        written = batch.fuel.volume if batch.fuel.volume is not None else batch.fuel.mass
        assert written is not None
        finished = _fuel(log, written, facts, "finished fuel")
        facts.fuel_l, facts.fuel_kg = finished.litres, finished.kg


def _fuel(log: Log, quantity: Quantity, facts: Facts, label: str) -> Amount:
    found = amount(log, quantity, density_line(log, FUEL))
    if found.assumed:
        facts.assumed.append(label)
    return found


def _soap(log: Log, batch: Batch, facts: Facts) -> None:
    if batch.polish is None or batch.polish.purifier not in log.purifiers:
        return
    vessels = [vessel.vessel for vessel in log.purifiers[batch.polish.purifier].record.vessels]
    facts.soap_feed = soap_at(log, batch, "feed")
    facts.soap_between = soap_at(log, batch, after(vessels[-2])) if len(vessels) > 1 else None
    facts.soap_product = soap_at(log, batch, "product")
