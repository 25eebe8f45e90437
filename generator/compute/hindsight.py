"""How far off forecasts would have been: every lot of oil told from the batches before its first one, against what its fuel cost.

Not what a forecast is (`worth`), and not those that were made (`offers`): what such forecasts miss by says how wide a range has to be.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from statistics import quantiles

import numpy as np
import numpy.typing as npt
import pandas as pd

from generator.formulas.economics import offer_cost_per_l
from generator.ledger.basis import density_line
from generator.ledger.ledgers import Ledgers

TIERS = {"cash": "cash_per_l", "media": "with_media_per_l", "labour": "with_labour_per_l"}
HOLDS_PCT = 80  # of the lots to come; a decision, told on the page
FEWEST_LOTS, FEWEST_BATCHES = 3, 5
RECENT, LOOKED_AT = 24, 96  # batches that a forecast rests on, and those whose lots are looked at
Floats = npt.NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Band:
    """How far below and above a forecast its range reaches, and in how many of a hundred cases it should hold."""

    below: float
    above: float
    holds_pct: float


@dataclass(frozen=True, slots=True)
class _Record:
    """The batches that are looked at, in time: cost by tier, of it the oil and what is a batch's own, fuel, yield."""

    cost: Mapping[str, Floats]
    oil: Floats
    alone: Floats
    fuel_l: Floats
    yields: Floats


@dataclass(slots=True)
class _Lot:
    """A lot of oil: the place of its first batch, and kilograms of it by the place of each."""

    first: int
    kg: dict[int, float] = field(default_factory=dict)


def bands(ledgers: Ledgers, costs: pd.DataFrame) -> dict[str, Band | None]:
    """By tier; None where fewer than three lots can be told."""
    return {tier: band(found) for tier, found in misses(ledgers, costs).items()}


def band(found: list[float]) -> Band | None:
    """The range that one more of these would lie in, by their order; it always holds the forecast itself.

    Of n that come in any order one more lies below the k-th in k of n + 1 cases, whatever their law (conformal prediction: Vovk,
    Gammerman and Shafer, Algorithmic Learning in a Random World, 2005; published formula, from memory). Under nine the outermost are taken.
    """
    if len(found) < FEWEST_LOTS:
        return None
    tenths = quantiles(found, n=10)
    low, high = max(tenths[0], min(found)), min(tenths[-1], max(found))
    return Band(max(-low, 0.0), max(high, 0.0), min(HOLDS_PCT, 100 * (len(found) - 1) / (len(found) + 1)))


def misses(ledgers: Ledgers, costs: pd.DataFrame) -> dict[str, list[float]]:
    """What came less what would have been told, by tier, per litre of fuel; lots of the last 96 batches in the order of their use."""
    recent = costs.tail(LOOKED_AT + RECENT)
    lots = _lots(ledgers, list(recent["batch"]))
    prices = {name: _oil_per_l(ledgers, name) for name in lots}
    record = _record(ledgers, recent)
    found: dict[str, list[float]] = {}
    for tier in TIERS:
        told = (_miss(prices[name], lot, record, tier) for name, lot in lots.items())
        found[tier] = [miss for miss in told if miss is not None]
    return found


def _record(ledgers: Ledgers, costs: pd.DataFrame) -> _Record:
    def plain(name: str) -> Floats:
        return costs[name].to_numpy(dtype=float)

    pct = [ledgers.facts[batch].yield_volume_pct for batch in costs["batch"]]
    yields = np.array([np.nan if each is None else each / 100 for each in pct])
    cost = {tier: plain(column) for tier, column in TIERS.items()}
    alone = plain("other_per_l") + plain("credits_per_l")
    return _Record(cost, plain("oil_per_l"), alone, plain("fuel_l"), yields)


def _lots(ledgers: Ledgers, batches: list[str]) -> Mapping[str, _Lot]:
    found: dict[str, _Lot] = {}
    for place, batch in enumerate(batches):
        for name, kg in ledgers.oil_of(batch).items():
            found.setdefault(name, _Lot(place)).kg[place] = kg
    return found


def _miss(price: float | None, lot: _Lot, record: _Record, tier: str) -> float | None:
    """What the fuel of a lot cost, by its mass in each batch, less what its price and the batches before it would have told."""
    cost = record.cost[tier]
    known = [place for place in lot.kg if not np.isnan(cost[place])]
    before = np.flatnonzero(~np.isnan(cost[: lot.first]))[-RECENT:]
    if price is None or not known or len(before) < FEWEST_BATCHES:
        return None
    alone = record.alone[before]
    own = float((alone * record.fuel_l[before]).sum() / record.fuel_l[before].sum())
    beside = float(np.median(cost[before] - record.oil[before] - alone)) + own
    told = offer_cost_per_l(price, float(np.nanmedian(record.yields[before])), beside)
    kg = np.array([lot.kg[place] for place in known])
    return float((cost[known] * kg).sum() / kg.sum()) - told


def _oil_per_l(ledgers: Ledgers, name: str) -> float | None:
    """What a usable litre of a lot cost."""
    cost = ledgers.unit_costs.get(name)
    if cost is None:
        return None
    at = density_line(ledgers.log, "oil", name).at(ledgers.log.reference_c) / 1000
    return float(cost) * (at if ledgers.accounts[name].unit == "kg" else 1.0)
