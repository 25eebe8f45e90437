"""How far off forecasts would have been: every lot of oil told from the batches before its first one, against what its fuel cost.

Not what a forecast is (`worth`), and not those that were made (`offers`): what such forecasts miss by says how wide a range has to be.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from statistics import quantiles

import numpy as np
import numpy.typing as npt
import pandas as pd

from generator.compute.costs import single_per_l
from generator.formulas.economics import offer_cost_per_l, usable_l
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
    """A lot of oil: the place of its first batch, and kilograms of it by the place of each.

    `price` is what a litre cost as it came in, `lost` the share that lots before it had lost in preparation: what a forecast had to go by.
    """

    first: int
    price: float | None = None
    lost: float = 0.0
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
    record = _record(ledgers, recent)
    found: dict[str, list[float]] = {}
    for tier in TIERS:
        told = (_miss(lot, record, tier) for lot in lots.values())
        found[tier] = [miss for miss in told if miss is not None]
    return found


def _record(ledgers: Ledgers, costs: pd.DataFrame) -> _Record:
    def plain(name: str) -> Floats:
        return costs[name].to_numpy(dtype=float)

    pct = [ledgers.facts[batch].yield_volume_pct for batch in costs["batch"]]
    yields = np.array([np.nan if each is None else each / 100 for each in pct])
    cost = {tier: plain(column) for tier, column in TIERS.items()}
    alone = np.asarray(single_per_l(costs), dtype=np.float64)
    return _Record(cost, plain("oil_per_l"), alone, plain("fuel_l"), yields)


def _lots(ledgers: Ledgers, batches: list[str]) -> Mapping[str, _Lot]:
    """Lots of oil in the order of their first use."""
    found: dict[str, _Lot] = {}
    for place, batch in enumerate(batches):
        for name, kg in ledgers.oil_of(batch).items():
            found.setdefault(name, _Lot(place, _oil_per_l(ledgers, name))).kg[place] = kg
    for lot in found.values():
        lot.lost = lost_share(ledgers, (name for name, other in found.items() if other.first < lot.first))
    return found


def lost_share(ledgers: Ledgers, lots: Iterable[str]) -> float:
    """The part of some lots of oil that was lost in preparation, all together; a vat holds what was prepared before.

    One that lost nothing counts as well as one that lost much: an oil to come may be either.
    """
    came = lost = 0.0
    for name in lots:
        if name not in ledgers.log.lots or ledgers.log.lots[name].record.vat:
            continue  # drawn before it came, or prepared before
        account, litres = ledgers.accounts[name], litres_of(ledgers, name)
        came += float(account.received) * litres
        lost += float(account.total("lost")) * litres
    return lost / came if came > 0 else 0.0


def _miss(lot: _Lot, record: _Record, tier: str) -> float | None:
    """What the fuel of a lot cost, by its mass in each batch, less what its price and the batches before it would have told."""
    cost = record.cost[tier]
    known = [place for place in lot.kg if not np.isnan(cost[place])]
    before = np.flatnonzero(~np.isnan(cost[: lot.first]))[-RECENT:]
    if lot.price is None or not known or len(before) < FEWEST_BATCHES:
        return None
    alone = record.alone[before]
    own = float((alone * record.fuel_l[before]).sum() / record.fuel_l[before].sum())
    beside = float(np.median(cost[before] - record.oil[before] - alone)) + own
    fuel_l = usable_l(float(np.nanmedian(record.yields[before])), lot.lost)
    told = offer_cost_per_l(lot.price, fuel_l, beside)
    kg = np.array([lot.kg[place] for place in known])
    return float((cost[known] * kg).sum() / kg.sum()) - told


def _oil_per_l(ledgers: Ledgers, name: str) -> float | None:
    """What a litre of a lot cost as it came in, before anything of it was lost."""
    cost, account = ledgers.unit_costs.get(name), ledgers.accounts.get(name)
    if cost is None or account is None:
        return None
    kept = 1 - float(account.total("lost") / account.received) if account.received else 1.0
    return float(cost) * kept / litres_of(ledgers, name)


def litres_of(ledgers: Ledgers, name: str) -> float:
    """Litres at the reference temperature for each unit that a lot is kept in."""
    at = density_line(ledgers.log, "oil", name).at(ledgers.log.reference_c) / 1000
    return 1 / at if ledgers.accounts[name].unit == "kg" else 1.0
