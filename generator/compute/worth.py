"""What an offer is worth on stated terms: acid value, water, price and the price at the pump; the one place where it is judged.

The table of offers, the steps that a page moves through and the command all ask here.
"""

from __future__ import annotations

from dataclasses import dataclass

from generator.compute.by_chemistry import ceiling_l, least_beside, triglyceride_of
from generator.compute.hindsight import TIERS
from generator.compute.own_record import Beside, OwnRecord, Quartiles, Yields
from generator.formulas.acidity import base_demand_from_acid_value_mol_per_kg, ffa_pct
from generator.formulas.constants import (
    FREE_ACID_G_PER_MOL,
    SOAP_G_PER_MOL,
    DensityLine,
    molar_mass,
    net_heat_mj_per_l,
    soap_base,
)
from generator.formulas.dose import base_rate_g, dose_g, neutralising_g
from generator.formulas.economics import (
    catalyst_cost_per_l,
    cost_per_diesel_l,
    cost_per_mj,
    diesel_equivalent_l,
    expected_fuel_l,
    lost_by_test,
    offer_cost_per_l,
    price_after_haulage,
    price_at_target,
    price_per_usable_kg,
    pump_worth_per_l,
    saving_per_l,
    usable_l,
)
from generator.formulas.stoichiometry import soap_from_ffa_kg
from generator.language import tell
from generator.ledger.batch_facts import known
from generator.ledger.dose import lies_above
from generator.ledger.oil_store import OilStore
from generator.ledger.tested import acid_value_of, result_of
from generator.log import Log
from generator.records import Offer

Ends = tuple[float | None, float | None, float | None]  # low, to expect, high


@dataclass(frozen=True, slots=True)
class Terms:
    """What can be moved. `asked` is per unit as the offer is asked (or for the whole); None is not tested or not known."""

    acid_value_mg_koh_per_g: float | None
    water_mg_per_kg: float | None
    asked: float | None
    diesel_per_l: float | None


@dataclass(frozen=True, slots=True)
class Worth:
    """What an offer is worth on its terms; money per litre at the reference temperature, ends from low to high.

    Cost is with media, as in `cost_per_l`, unless it says cash (nothing for media) or labour (with it).
    """

    terms: Terms
    ffa_pct: float | None
    usable_l: float
    lost_by: str
    per_usable_kg: float | None
    soap_kg: float | None
    dose_g_per_l: float | None
    fuel_l: Ends
    yield_basis: str
    other_per_l: float | None
    cost_per_l: Ends
    holds_pct: float | None
    cash_per_l: Ends
    labour_per_l: Ends
    cost_per_mj: float | None
    cost_per_diesel_l: float | None
    asked_per_l: float | None
    highest_per_l: float | None
    highest_range_per_l: tuple[float | None, float | None]
    highest_at_pump_per_l: float | None
    saving_per_l: float | None
    advice: str | None
    unknown: str | None


@dataclass(frozen=True, slots=True)
class OnOffer:
    """An offer with all that does not move: its amount, the way to it, the record it is judged by.

    `units` is the amount in the unit that the price is per; `store` the oil that is there, where the offer is still open.
    """

    log: Log
    offer: Offer
    own: OwnRecord
    litres: float
    units: float | None
    haulage: float | None
    line: DensityLine
    target_per_l: float | None
    diesel_per_l: float | None
    store: OilStore | None

    def terms(self) -> Terms:
        """The terms as they are written in its file, and the price at the pump of its day."""
        return Terms(
            acid_value_of(self.log, self.offer.tests, self.line),
            result_of(self.offer.tests, "water"),
            float(self.offer.asked.amount),
            self.diesel_per_l,
        )

    def worth(self, terms: Terms) -> Worth:
        """What it is worth on these terms."""
        own = self.own.yields_of(terms.acid_value_mg_koh_per_g)
        usable = self.usable_l(terms.water_mg_per_kg)
        usable_kg = usable * self.line.at(self.log.reference_c) / 1000
        demand = known(base_demand_from_acid_value_mol_per_kg, terms.acid_value_mg_koh_per_g)
        acid_pct = known(ffa_pct, demand)
        dose = self._dose(demand)
        molar = triglyceride_of(self.log, self.offer.material, terms.acid_value_mg_koh_per_g)
        ceiling = known(lambda mean: ceiling_l(self.log, self.line, mean, acid_pct), molar)
        fuel = self._fuel(own, ceiling, usable)
        other = {tier: self._other(beside, dose, usable, fuel) for tier, beside in self.own.beside.items()}
        if not any(beside.oil for beside in self.own.beside.values()):  # too few batches: chemistry alone
            least = least_beside(self.own, usable_kg, usable, dose, fuel[2], molar)
            other = dict.fromkeys(TIERS, (None, None, least))
        oil_cost = known(lambda price, units: price * units + (self.haulage or 0.0), terms.asked, self.units)
        tiers = {tier: self._range(tier, _ends(oil_cost, fuel, rest)) for tier, rest in other.items()}
        cost, beside_oil = tiers["media"], other["media"][1]
        diesel_l = diesel_equivalent_l(1.0, net_heat_mj_per_l("fuel"), net_heat_mj_per_l("diesel"))
        at_pump = known(lambda price: pump_worth_per_l(price, diesel_l), terms.diesel_per_l)
        return Worth(
            terms=terms,
            ffa_pct=known(lambda mol: ffa_pct(mol, FREE_ACID_G_PER_MOL[self.log.settings.ffa_as]), demand),
            usable_l=usable,
            lost_by=self.own.lost_by(self._tested(terms.water_mg_per_kg)),
            per_usable_kg=known(price_per_usable_kg, oil_cost, usable_kg or None),
            soap_kg=self._soap_kg(acid_pct, usable_kg),
            dose_g_per_l=dose,
            fuel_l=fuel,
            yield_basis=own.basis,
            other_per_l=beside_oil,
            cost_per_l=cost,
            holds_pct=self._holds_pct(cost),
            cash_per_l=tiers["cash"],
            labour_per_l=tiers["labour"],
            cost_per_mj=known(lambda each: cost_per_mj(each, net_heat_mj_per_l("fuel")), cost[1]),
            cost_per_diesel_l=known(lambda each: cost_per_diesel_l(each, diesel_l), cost[1]),
            asked_per_l=known(lambda price, units: price * units / self.litres, terms.asked, self.units),
            highest_per_l=self._highest(self.target_per_l, beside_oil, fuel[1]),
            highest_range_per_l=self._highest_range(other["media"], fuel),
            highest_at_pump_per_l=self._highest(at_pump, beside_oil, fuel[1]),
            saving_per_l=known(
                lambda price, each: saving_per_l(price, diesel_l, each), terms.diesel_per_l, cost[1]
            ),
            advice=self._advice(terms),
            unknown=_unknown(terms),
        )

    def usable_l(self, water_mg_per_kg: float | None) -> float:
        """Oil left after the usual loss, or after the water and the solids that were found where these are more."""
        return usable_l(self.litres, min(max(self.own.loss_share, self._tested(water_mg_per_kg)), 1.0))

    def _tested(self, water_mg_per_kg: float | None) -> float:
        return lost_by_test(water_mg_per_kg or 0.0, result_of(self.offer.tests, "solids") or 0.0)

    @property
    def room_l(self) -> float | None:
        """What the vessels for oil would still hold with it, before any loss; below zero it does not fit."""
        return known(lambda room: room - self.litres, self.store.room_l if self.store is not None else None)

    def lasts_days(self, usable_l: float) -> float | None:
        """How long all oil would last with it at the recent use."""
        used = self.store.used_l_per_day if self.store is not None else None
        return (self.store.left_l + usable_l) / used if self.store is not None and used else None

    def is_wet(self, water_mg_per_kg: float | None) -> bool | None:
        """Whether it lies above the workshop's line; with `usable_l` all that water decides. None for not tested, or no line."""
        return lies_above(water_mg_per_kg, self.log.settings.thresholds.water)

    def as_asked(self, per_l: float | None) -> float | None:
        """A price per litre at the reference temperature as one per unit of the price that is asked."""
        return known(lambda price, units: price * self.litres / units, per_l, self.units)

    def _range(self, tier: str, ends: Ends) -> Ends:
        """A forecast with as much on each side as such forecasts were off by; by quartiles of batches where too few can be told."""
        band, middle = self.own.bands.get(tier), ends[1]
        if band is None or middle is None:
            return ends
        return middle - band.below, middle, middle + band.above

    def _holds_pct(self, ends: Ends) -> float | None:
        """In how many of a hundred cases a range of the cost with media should hold; nothing of a single end, or of too few lots."""
        band = self.own.bands.get("media")
        return None if band is None or None in ends else band.holds_pct

    def _fuel(self, own: Yields, ceiling: float | None, usable: float) -> Ends:
        high = own.high if own.high is not None else ceiling
        made = [known(expected_fuel_l, share, usable) for share in (own.low, own.middle, high)]
        low, middle, most = (None if litres is None or litres <= 0 else litres for litres in made)
        return low, middle, most

    def _other(self, beside: Beside, dose: float | None, usable: float, fuel: Ends) -> Ends:
        """All but the oil, for little, middling and much fuel: high, middling and low; the catalyst by this oil's dose.

        Where dose, fuel or the price of the base is unknown it is that of the record.
        """
        if dose is None or self.own.base_per_kg is None or beside.catalyst is None:
            return _down(beside.oil)
        high, middle, low = (
            of_record
            if made is None
            else rest + catalyst_cost_per_l(dose, usable, made, self.own.base_per_kg)
            for made, rest, of_record in zip(fuel, reversed(beside.catalyst), _down(beside.oil), strict=True)
        )
        return high, middle, low

    def _highest(self, target: float | None, other: float | None, fuel: float | None) -> float | None:
        return known(
            lambda goal, rest, made: price_after_haulage(
                price_at_target(goal, rest, made / self.litres), self.haulage or 0.0, self.litres
            ),
            target,
            other,
            fuel,
        )

    def _highest_range(self, other: Ends, fuel: Ends) -> tuple[float | None, float | None]:
        """The price at which even the high end of the cost is the target, and that at which the low end is; by the same range."""
        band, target = self.own.bands.get("media"), self.target_per_l
        if band is None or other[1] is None or fuel[1] is None:
            return self._highest(target, other[0], fuel[0]), self._highest(target, other[2], fuel[2])
        goals = known(lambda goal: goal - band.above, target), known(lambda goal: goal + band.below, target)
        low, high = (self._highest(goal, other[1], fuel[1]) for goal in goals)
        return low, high

    def _dose(self, demand: float | None) -> float | None:
        """Pure base per litre of oil by the maker's rule, g/L."""
        rule = self.log.settings.dose
        if rule is None or demand is None:
            return None
        molar = molar_mass(rule.of)
        oil_kg_per_l = self.line.at(self.log.reference_c) / 1000
        need = neutralising_g(demand, oil_kg_per_l, molar, 100.0)
        return dose_g(need, base_rate_g(rule.base.value, molar, 1.0, molar, 100.0))

    def _soap_kg(self, acid_pct: float | None, usable_kg: float) -> float | None:
        """Soap of the rule's base that neutralising the free acid makes; most of it leaves with the glycerol."""
        rule = self.log.settings.dose
        if rule is None:
            return None
        molar = SOAP_G_PER_MOL[soap_base(rule.of)]
        return known(lambda pct: soap_from_ffa_kg(usable_kg, pct, molar), acid_pct)

    def _advice(self, terms: Terms) -> str | None:
        lines = self.log.settings.thresholds
        advice = []
        if self.is_wet(terms.water_mg_per_kg) and lines.water is not None:
            advice.append(
                tell("dry it first: above the workshop's line of {line} water", line=lines.water.text)
            )
        found = terms.acid_value_mg_koh_per_g
        if lies_above(found, lines.acid_value) and lines.acid_value is not None:
            advice.append(
                tell(
                    "pre-treat or blend it: acid value {found}, above the workshop's line of {line}",
                    found=f"{found:.1f}",
                    line=lines.acid_value.text,
                )
            )
        return "; ".join(advice) or None


def _ends(oil_cost: float | None, fuel: Ends, other: Ends) -> Ends:
    """What a litre costs, from low to high; little fuel makes it dear."""
    high, middle, low = (
        known(offer_cost_per_l, oil_cost, made, rest) for made, rest in zip(fuel, other, strict=True)
    )
    return low, middle, high


def _down(quartiles: Quartiles | None) -> Ends:
    """From high to low: much is spent beside the oil where little fuel comes."""
    if quartiles is None:
        return None, None, None
    low, middle, high = quartiles
    return high, middle, low


def _unknown(terms: Terms) -> str | None:
    tested = (("titration", terms.acid_value_mg_koh_per_g), ("water", terms.water_mg_per_kg))
    return ", ".join(name for name, value in tested if value is None) or None
