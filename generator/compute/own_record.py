"""What this workshop's own batches and lots say of an oil: yields, cost beside the oil, loss in preparation."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from statistics import quantiles

import numpy as np
import pandas as pd

from generator.compute.costs import CASH, WORN, single_per_l
from generator.compute.hindsight import RECENT, TIERS, Band, bands, lost_share
from generator.compute.likeness import LEAST_BATCHES, effective, weighted_quantile, weights_of
from generator.language import tell
from generator.ledger.basis import density_line
from generator.ledger.bench import purity_pct
from generator.ledger.ledgers import Ledgers
from generator.ledger.routes import UNKNOWN, Route, routes
from generator.records import Catalyst

LIKE_MG_KOH_PER_G = 1.0
RECENT_TITRATED = 96  # of which those of unlike acidity count for little

Quartiles = tuple[float, float, float]


@dataclass(frozen=True, slots=True)
class Made:
    """One finished batch: its acid value where it was titrated, its fuel per litre of oil, how it was worked."""

    acid_value_mg_koh_per_g: float | None
    fuel_l_per_oil_l: float
    route: Route = UNKNOWN


@dataclass(frozen=True, slots=True)
class Guess:
    """What someone would have said who looks at no oil: cost with media of all batches, their mean, their median, the mean without what single batches have to pay."""

    mean: float
    median: float
    without: float


@dataclass(frozen=True, slots=True)
class Yields:
    """Fuel per litre of oil to expect, low to high; None for unknown. `basis` says which batches it rests on."""

    low: float | None
    middle: float | None
    high: float | None
    basis: str


@dataclass(frozen=True, slots=True)
class Beside:
    """What a litre of fuel costs in one tier: all but the oil, and all but oil and catalyst."""

    oil: Quartiles | None
    catalyst: Quartiles | None


@dataclass(frozen=True, slots=True)
class OwnRecord:
    """The record as it was on a day; `beside` and `bands` by tier; what a kilogram of pure base of the dose's rule costs."""

    made: tuple[Made, ...]
    beside: Mapping[str, Beside]
    loss_share: float
    base_per_kg: float | None = None
    bands: Mapping[str, Band | None] = field(default_factory=dict)
    parts: Mapping[str, float] = field(default_factory=dict)  # mean of recent batches, per litre of fuel
    methanol_per_kg: float | None = None
    guess: Guess | None = None
    _asked: dict[float | None, Yields] = field(default_factory=dict, init=False, repr=False, compare=False)

    @property
    def single_per_l(self) -> float:
        """What recent batches paid for themselves alone, less what they were credited with, per litre of fuel."""
        return self.parts.get("other", 0.0) + self.parts.get("credits", 0.0)

    def yields_of(self, acid_value_mg_koh_per_g: float | None) -> Yields:
        """Of batches weighted by how like their oil was to this one, or of all where its acid value is unknown.

        Every way of working counts as often as lately, so that a purifier which gets the sweeter oil does not make sour oil look
        the better one. A pre-treatment is chosen by the oil, so that those with one, or without, count where they had like oil.
        Beyond the record, with no batch within 1 mg KOH/g, only chemistry speaks. Each acid value is reckoned once.
        """
        if acid_value_mg_koh_per_g not in self._asked:
            self._asked[acid_value_mg_koh_per_g] = self._yields_of(acid_value_mg_koh_per_g)
        return self._asked[acid_value_mg_koh_per_g]

    def _yields_of(self, acid_value_mg_koh_per_g: float | None) -> Yields:
        titrated = [one for one in self.made if one.acid_value_mg_koh_per_g is not None]
        titrated = titrated[-RECENT_TITRATED:]
        if acid_value_mg_koh_per_g is None or len(titrated) < LEAST_BATCHES:
            return _plain(self.made[-RECENT:])
        acids = np.array([one.acid_value_mg_koh_per_g for one in titrated], dtype=float)
        far = np.abs(acids - acid_value_mg_koh_per_g)
        if far.min() > LIKE_MG_KOH_PER_G:
            basis = tell(
                "chemistry: the ceiling only; own batches had acid values of {least} to {most}",
                least=f"{acids.min():.1f}",
                most=f"{acids.max():.1f}",
            )
            return Yields(None, None, None, basis)
        had = {
            one.route.pretreated for one, off in zip(titrated, far, strict=True) if off <= LIKE_MG_KOH_PER_G
        }
        kept = [place for place, one in enumerate(titrated) if one.route.pretreated in had]
        ways = [titrated[place].route for place in kept]
        weights = weights_of(far[kept], ways, lately=RECENT)
        yields = np.array([titrated[place].fuel_l_per_oil_l for place in kept])
        low, middle, high = (weighted_quantile(yields, weights, share) for share in (0.25, 0.5, 0.75))
        told = {"counted": f"{effective(weights):.0f}", "all": len(kept)}
        basis = (
            tell("own record, {counted} of {all} batches by weight of like acidity", **told)
            if len(set(ways)) == 1
            else tell(
                "own record, {counted} of {all} batches by weight of like acidity, every way of working as often as lately",
                **told,
            )
        )
        return Yields(low, middle, high, basis)

    def lost_by(self, tested_share: float) -> str:
        """What decides how much of an oil is usable: what was usually lost, or what its tests found where that is more."""
        pct = f"{100 * min(max(self.loss_share, tested_share), 1.0):.1f}"
        if self.loss_share >= tested_share:
            return tell("less the {pct}\u00a0% that lots of oil lost in preparation", pct=pct)
        return tell("less the {pct}\u00a0% of water and solids that its tests found", pct=pct)


def own_record(ledgers: Ledgers, costs: pd.DataFrame) -> OwnRecord:
    """The record of a log, with the table of its costs."""
    route_of = routes(ledgers)
    batches = [(ledgers.facts[entry.id], route_of[entry.id]) for entry in ledgers.log.batches_in_time()]
    made = tuple(
        Made(facts.acidity.acid_value_mg_koh_per_g if facts.acidity is not None else None, pct / 100, route)
        for facts, route in batches
        if (pct := facts.yield_volume_pct) is not None
    )
    return OwnRecord(
        made,
        {tier: _beside(costs, column) for tier, column in TIERS.items()},
        lost_share(ledgers, _used(ledgers)),
        _base_per_kg(ledgers),
        bands(ledgers, costs),
        _parts(costs),
        _methanol_per_kg(ledgers),
        _guess(costs),
    )


def _guess(costs: pd.DataFrame) -> Guess | None:
    known = costs.dropna(subset=["with_media_per_l"])
    cost = known["with_media_per_l"]
    if known.empty:
        return None
    without = cost - single_per_l(known)
    return Guess(float(cost.mean()), float(cost.median()), float(without.mean()))


def _used(ledgers: Ledgers) -> Iterator[str]:
    """The lots of oil that something was drawn or poured from: what these lost in preparation is over."""
    for name, account in ledgers.accounts.items():
        material = ledgers.log.material_of(name)
        if (
            material is not None
            and material.record.kind == "oil"
            and (account.total("drawn") > 0 or account.total("poured") > 0)
        ):
            yield name


def _base_per_kg(ledgers: Ledgers) -> float | None:
    """What a kilogram of pure base of the rule costs, by the last lot of it that was bought by mass and has a price."""
    log, rule = ledgers.log, ledgers.log.settings.dose
    for entry in sorted(log.lots.values(), key=lambda lot: (lot.record.received, lot.id), reverse=True):
        material, purity, cost = (
            log.material_of(entry.id),
            purity_pct(log, entry.id),
            ledgers.unit_costs[entry.id],
        )
        if (
            rule is not None
            and purity is not None
            and cost is not None
            and ledgers.accounts[entry.id].unit == "kg"
            and material is not None
            and isinstance(material.record, Catalyst)
            and material.record.of == rule.of
            and material.record.solvent is None
        ):
            return float(cost) / (purity / 100)
    return None


def _methanol_per_kg(ledgers: Ledgers) -> float | None:
    """What a kilogram of methanol costs, by the last lot that was bought and has a price."""
    log = ledgers.log
    for entry in sorted(log.lots.values(), key=lambda lot: (lot.record.received, lot.id), reverse=True):
        material, cost = log.material_of(entry.id), ledgers.unit_costs[entry.id]
        if (
            material is not None
            and material.record.kind == "alcohol"
            and cost is not None
            and not entry.record.recovered
            and not entry.record.vat
        ):
            kg_per_l = density_line(log, "methanol", entry.id).at(log.reference_c) / 1000
            return float(cost) / (1.0 if ledgers.accounts[entry.id].unit == "kg" else kg_per_l)
    return None


def _parts(costs: pd.DataFrame) -> dict[str, float]:
    """What each part of the cost but the oil was per litre of fuel, in the batches that `_beside` rests on; labour where it is known."""
    found: dict[str, float] = {}
    for tier, parts in (("with_media_per_l", (*CASH[1:], *WORN)), ("with_labour_per_l", ("labour",))):
        recent = costs.dropna(subset=[tier]).tail(RECENT)
        if len(recent) >= LEAST_BATCHES:
            litres = recent["fuel_l"].sum()
            found |= {part: float((recent[part]).sum() / litres) for part in parts}
    return found


def _beside(costs: pd.DataFrame, tier: str) -> Beside:
    """Quartiles of recent batches; a cost or a credit of its own, as for a laboratory, falls on few of them and counts by its mean.

    A median would never see what one batch in ten has to pay for all.
    """
    recent = costs.dropna(subset=[tier]).tail(RECENT)
    if recent.empty:
        return Beside(None, None)
    alone = single_per_l(recent)
    own = (alone * recent["fuel_l"]).sum() / recent["fuel_l"].sum()
    beside_oil = recent[tier] - recent["oil_per_l"] - alone + own
    return Beside(
        _quartiles(beside_oil.tolist()),
        _quartiles((beside_oil - recent["catalyst_per_l"]).tolist()),
    )


def _plain(made: Sequence[Made]) -> Yields:
    low, middle, high = _quartiles([one.fuel_l_per_oil_l for one in made]) or (None, None, None)
    basis = (
        tell("chemistry: the ceiling only; {made} of the five batches that are needed", made=len(made))
        if low is None
        else tell("own record, {batches} batches", batches=len(made))
    )
    return Yields(low, middle, high, basis)


def _quartiles(values: list[float]) -> Quartiles | None:
    """The quartiles of at least five values."""
    if len(values) < LEAST_BATCHES:
        return None
    low, middle, high = quantiles(values, n=4)
    return float(low), float(middle), float(high)
