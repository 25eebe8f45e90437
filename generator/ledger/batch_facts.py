"""What is known of one batch in figures; unknown is None. Filled by `facts.facts_of`."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field

from generator.formulas.balance import (
    closure_pct,
    heel_l,
    settling_loss_kg,
    unaccounted_kg,
    yield_mass_pct,
    yield_theory_pct,
    yield_volume_pct,
)
from generator.formulas.dose import dose_difference_pct, dose_g, methanol_pct_v_v, stage_part
from generator.ledger.bench import Acidity
from generator.ledger.soap import Soap

USUAL_CLOSURE_PCT = (97.0, 103.0)  # of readings by hand; common practice, no source


@dataclass(slots=True)
class Facts:
    """One batch in figures; see `tables.BATCHES` for what each name means."""

    batch: str
    oil_l: float | None = None
    oil_kg: float | None = None
    triglyceride_g_per_mol: float | None = None
    oil_basis: str | None = None
    acidity: Acidity | None = None
    catalyst_of: str | None = None
    catalyst_g: float | None = None
    compared_g: float | None = None
    compared_pct: float = 100.0
    all_stages_g: float | None = None
    catalyst_purity_pct: float | None = None
    dose_demand_mol_per_kg: float | None = None
    dose_neutralising_g: float | None = None
    dose_base_g: float | None = None
    methanol_l: float | None = None
    methanol_kg: float | None = None
    reaction_methanol_l: float | None = None
    reaction_methanol_pure_kg: float | None = None
    methanol_molar_ratio: float | None = None
    treated_acid_value_mg_koh_per_g: float | None = None
    acid_kg: float | None = 0.0
    treated_layer_kg: float | None = 0.0
    ester_theory_kg: float | None = None
    neutral_ester_kg: float | None = None
    neutral_methanol_kg: float | None = None
    esterified_kg: float | None = 0.0
    esterified_methanol_kg: float | None = 0.0
    ester_theory_l: float | None = None
    glycerol_theory_kg: float | None = None
    methanol_consumed_kg: float | None = None
    soap_theory_kg: float | None = None
    water_theory_kg: float | None = None
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
    catalyst_feed: Soap | None = None
    catalyst_product: Soap | None = None
    feed_acid_value_mg_koh_per_g: float | None = None
    assumed: list[str] = field(default_factory=list)

    @property
    def dose_g(self) -> float | None:
        """Both terms of the maker's rule, as weighed."""
        return known(dose_g, self.dose_neutralising_g, self.dose_base_g)

    @property
    def dose_difference_pct(self) -> float | None:
        """Catalyst against the rule: the first stage against its share where the rule is split, all of it otherwise."""
        rule_g = known(lambda grams: stage_part(grams, self.compared_pct), self.dose_g)
        return known(dose_difference_pct, self.compared_g, rule_g)

    @property
    def dose_of_all_stages_pct(self) -> float | None:
        """All catalyst of the reaction against the rule."""
        return known(dose_difference_pct, self.all_stages_g, self.dose_g)

    @property
    def dose_compared(self) -> str | None:
        """What that difference is about, in words."""
        if self.dose_difference_pct is None:
            return None
        return "first stage" if self.compared_pct < 100 else "all stages"

    @property
    def methanol_pct_v_v(self) -> float | None:
        """Methanol of the reaction by volume of oil; a pre-treatment's is not in it."""
        return known(methanol_pct_v_v, self.reaction_methanol_l, self.oil_l)

    @property
    def made_kg(self) -> float | None:
        """Fuel before the columns, or the finished fuel where no volume was written before them."""
        return self.fed_kg if self.fed_kg is not None else self.fuel_kg

    @property
    def heel_l(self) -> float | None:
        """Fuel the run left in the columns."""
        return known(heel_l, self.fed_l, self.fuel_l)

    @property
    def yield_volume_pct(self) -> float | None:
        """Finished fuel by volume of oil."""
        return known(yield_volume_pct, self.fuel_l, self.oil_l)

    @property
    def yield_ceiling_pct(self) -> float | None:
        """Volume yield at full conversion without any loss."""
        return known(yield_volume_pct, self.ester_theory_l, self.oil_l)

    @property
    def yield_mass_pct(self) -> float | None:
        """Fuel before the columns by mass of oil."""
        return known(yield_mass_pct, self.made_kg, self.oil_kg)

    @property
    def yield_theory_pct(self) -> float | None:
        """Fuel before the columns against the ester in theory."""
        return known(yield_theory_pct, self.made_kg, self.ester_theory_kg)

    @property
    def settling_loss_kg(self) -> float | None:
        """Ester in theory that did not reach the columns: in the layer, the rag, the methanol, or not converted."""
        return known(settling_loss_kg, self.ester_theory_kg, self.made_kg)

    @property
    def mass_in_kg(self) -> float | None:
        """Oil, methanol, catalyst, and the acid of a pre-treatment."""
        return known(
            lambda oil, alcohol, base, acid: oil + alcohol + base / 1000 + acid,
            self.oil_kg,
            self.methanol_kg,
            self.catalyst_g,
            self.acid_kg,
        )

    @property
    def mass_out_kg(self) -> float | None:
        """Fuel before the columns, layers, methanol taken back; a batch that writes none is taken to have had none."""
        back = self.methanol_recovered_kg if self.methanol_recovered_kg is not None else 0.0
        return known(
            lambda made, layer, acid_layer: made + layer + acid_layer + back,
            self.made_kg,
            self.glycerol_layer_kg,
            self.treated_layer_kg,
        )

    @property
    def unaccounted_kg(self) -> float | None:
        """Mass in less mass out."""
        return known(unaccounted_kg, self.mass_in_kg, self.mass_out_kg)

    @property
    def closure_pct(self) -> float | None:
        """Mass out over mass in."""
        return known(closure_pct, self.mass_in_kg, self.mass_out_kg)


def known(formula: Callable[..., float], *values: float | None) -> float | None:
    """Apply a formula where every value is known; unknown otherwise."""
    for value in values:
        if value is None:
            return None
    return formula(*values)
