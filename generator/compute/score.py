"""What came of an offer that was bought, and the miss of its forecast by part: price and way, yield, other oil, the rest, single bills.

A forecast is for fuel of the lot alone. What came is what its batches cost, with all other oil in them and by the method their
oil is costed by: that part is told apart, and so is a way that was told and that the lot has not. What a single batch had to pay,
as a laboratory's bill, was told by the mean of many and came in whole: a part that says nothing of the oil.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

import pandas as pd

from generator.compute.frames import plain_rows
from generator.compute.hindsight import litres_of
from generator.compute.own_record import OwnRecord
from generator.formulas.economics import unit_cost
from generator.language import tell
from generator.ledger.batch_facts import known
from generator.ledger.ledgers import Ledgers
from generator.log import Entry, Log
from generator.records import Lot

PARTS = (
    "missed_price_per_l",
    "missed_yield_per_l",
    "missed_others_per_l",
    "missed_beside_per_l",
    "missed_single_per_l",
)
Came = Mapping[str, Any]
Oils = Mapping[str, Mapping[str, float]]  # kilograms of oil by batch and lot


def came_of(ledgers: Ledgers, lots: pd.DataFrame, costs: pd.DataFrame) -> dict[str, Came]:
    """By lot that an offer was bought as: what its fuel cost, the oil in that, its yield, its own price; nothing before it was used."""
    log, found = ledgers.log, dict[str, Came]()
    bought = [offer.record.bought_as for offer in log.offers.values() if offer.record.bought_as in log.lots]
    oils = {batch: ledgers.oil_of(batch) for batch in log.batches} if bought else {}
    cost = {row["batch"]: row for row in plain_rows(costs)} if bought else {}
    outcome = {row["lot"]: row for row in plain_rows(lots)} if bought else {}
    for name in bought:
        if name is not None:
            entry = log.lots[name]
            oil, other, credited = (
                _mean_of(oils, entry.id, cost, f"{part}_per_l") for part in ("oil", "other", "credits")
            )
            each = ledgers.unit_costs[entry.id]
            found[entry.id] = {
                "came_cost_per_l": outcome[entry.id]["fuel_cost_per_l"],
                "came_yield_pct": outcome[entry.id]["yield_volume_pct"],
                "oil_per_l": oil,
                "single_per_l": known(lambda one, two: one + two, other, credited),
                "own_per_l": float(each) / litres_of(ledgers, entry.id) if each is not None else None,
                "unlike": list(_unlike(ledgers, oils, entry)),
                "has_way": entry.record.freight is not None or bool(entry.record.collected),
            }
    return found


def _mean_of(oils: Oils, lot: str, costs: Mapping[str, Mapping[str, Any]], name: str) -> float | None:
    """A part of the cost of the fuel of a lot, over the same batches and by the same weights as that cost."""
    product = whole = 0.0
    for batch, lots in oils.items():
        kg = lots.get(lot)
        if kg is not None and costs[batch]["with_media_per_l"] is not None:
            product += kg * costs[batch][name]
            whole += kg
    return product / whole if whole else None


def _unlike(ledgers: Ledgers, oils: Oils, entry: Entry[Lot]) -> Iterator[str]:
    """Why the oil in the cost of its batches is not that of the lot alone."""
    if any(len(lots) > 1 for lots in oils.values() if entry.id in lots):
        yield tell("other oil in its batches")
    if ledgers.accounts[entry.id].total("poured") > 0:
        yield tell("drawn out of a vat")
    method = _method(ledgers.log, entry)
    if method:
        yield tell("oil by {method}", method=method)


def _method(log: Log, entry: Entry[Lot]) -> str:
    chosen = [one for one in log.settings.costing if one.material == entry.record.material]
    last = max(chosen, key=lambda one: one.since, default=None)
    return last.method if last is not None and last.method != "named lot" else ""


def score(row: Mapping[str, Any], own: OwnRecord, came: Came | None) -> dict[str, Any]:
    """The forecast of an offer against what came of its lot: the miss, its parts, and what the two sides do not share."""
    if came is None or came["came_cost_per_l"] is None:
        return {}
    cost, low, high = came["came_cost_per_l"], row["cost_low_per_l"], row["cost_high_per_l"]
    unlike = list(came["unlike"])
    if row["haulage"] and not came["has_way"]:
        unlike.append(tell("a way was told, its lot has none"))
    if not row["haulage"] and came["has_way"]:
        unlike.append(tell("no way was told, its lot has one"))
    return {
        "came_cost_per_l": cost,
        "came_yield_pct": came["came_yield_pct"],
        "came_single_per_l": came["single_per_l"],
        "missed_by_per_l": known(lambda told: cost - told, row["cost_per_l"]),
        **_parts(row, own.single_per_l, came),
        "unlike": "; ".join(unlike) or None,
        "within": None if low is None or high is None else "yes" if low <= cost <= high else "no",
    }


def _parts(row: Mapping[str, Any], single_told: float, came: Came) -> dict[str, float | None]:
    """The miss in five parts, which add up to it; none where a part of either side is unknown."""
    told = row["cost_per_l"], row["other_cost_per_l"], row["fuel_l"], row["usable_l"]
    found = tuple(
        came[name] for name in ("came_cost_per_l", "oil_per_l", "own_per_l", "came_yield_pct", "single_per_l")
    )
    if None in told or None in found or not row["usable_l"] or not came["came_yield_pct"]:
        return dict.fromkeys(PARTS)
    (cost, beside, fuel_l, usable_l), (came_cost, oil, own, pct, single) = told, found
    oil_told, of_own = cost - beside, unit_cost(own, pct / 100)
    at_told_yield = unit_cost(own, fuel_l / usable_l)
    by_single = single - single_told
    rest = came_cost - oil - beside - by_single
    parts = (at_told_yield - oil_told, of_own - at_told_yield, oil - of_own, rest, by_single)
    return dict(zip(PARTS, parts, strict=True))
