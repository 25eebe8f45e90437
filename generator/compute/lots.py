"""One row per lot: what came, what is left, what it cost, and how the fuel made from it turned out."""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal
from typing import Any

import pandas as pd

from generator.compute.costs import single_per_l
from generator.compute.frames import frame
from generator.ledger.costing import Held
from generator.ledger.ledgers import Ledgers
from generator.ledger.money import Fetching, paid_total, rate_days, refund_of
from generator.ledger.pool import unit_left
from generator.ledger.vats import brought
from generator.log import Entry
from generator.records import Lot
from generator.tables import LOTS

# what an oil, its acid and its yield decide; media are charged by litres whatever the oil, a laboratory's bill falls on whom it meets
COMPARED = ("oil", "methanol", "catalyst", "energy")
MEANS = ("compared_per_l", "single_per_l", "fuel_cost_per_l", "yield_volume_pct")
DIGITS = 9  # behind the point, that are told apart in a rank


def lots(ledgers: Ledgers, batches: pd.DataFrame, costs: pd.DataFrame) -> pd.DataFrame:
    """All lots by day of receipt; one row each."""
    log = ledgers.log
    entries = sorted(log.lots.values(), key=lambda entry: (entry.record.received, entry.id))
    data = frame(LOTS, [_row(ledgers, entry) for entry in entries])
    outcome = _outcome(ledgers, batches, costs)
    for name in outcome:
        data[name] = data["lot"].map(outcome[name]).astype(float)
    return data


def _row(ledgers: Ledgers, entry: Entry[Lot]) -> dict[str, Any]:
    log, lot = ledgers.log, entry.record
    account, unit = ledgers.accounts[entry.id], _unit_cost(ledgers, entry)
    content = _contents_of(ledgers, entry)
    way = ledgers.fetching.get(entry.id, Fetching())
    material = log.materials.get(lot.material)
    paid = paid_total(log, entry)
    return {
        "lot": entry.id,
        "material": lot.material,
        "kind": material.record.kind if material else None,
        "received": lot.received.isoformat(),
        "source": lot.source,
        "code": lot.code,
        "vat": "yes" if lot.vat else None,
        "unit": account.unit,
        "quantity": float(account.received),
        "lost": float(account.total("lost")),
        "counted_difference": float(account.counted_difference),
        "drawn": float(account.total("drawn")),
        "poured": float(account.total("poured")),
        "returned": float(account.total("returned")),
        "left": float(account.left),
        "paid_total": float(paid) if paid is not None else None,
        "freight": float(lot.freight.amount) if lot.freight is not None else None,
        "fetched_km": float(way.km),
        "driving": float(way.driving) if way.driving is not None else None,
        "fetched_h": float(way.hours),
        **_back(ledgers, entry),
        "rate_days": rate_days(lot.received, lot.paid, lot.freight, lot.value),
        "unit_cost": float(unit) if unit is not None else None,
        "acid_value_mg_koh_per_g": content["acid value"],
        "water_mg_per_kg": content["water"],
        "note": lot.note,
    }


def _back(ledgers: Ledgers, entry: Entry[Lot]) -> dict[str, float | None]:
    """What went back at what it cost, what was paid for it, and what was gained by it; nothing where nothing went back."""
    key = Held(entry.record.material, ledgers.accounts[entry.id].unit, entry.id if entry.record.vat else "")
    moved, refunded = ledgers.inventory.pools[key].went_back.get(entry.id), refund_of(entry.record)
    cost = moved.cost if moved is not None else None
    return {
        "returned_cost": float(cost) if cost is not None else None,
        "refunded": float(refunded),
        "returned_gain": float(refunded - cost) if cost is not None else None,
    }


def _unit_cost(ledgers: Ledgers, entry: Entry[Lot]) -> Decimal | None:
    """What a unit of a lot cost; of a vat, of what is left in it."""
    if not entry.record.vat:
        return ledgers.unit_costs[entry.id]
    return unit_left(ledgers.inventory.pools[Held(entry.record.material, "L", entry.id)].left)


def _contents_of(ledgers: Ledgers, entry: Entry[Lot]) -> Mapping[str, float | None]:
    """Acid value and water of a lot by its tests; of a vat, of what is in it."""
    vat = ledgers.vats.get(entry.id)
    if vat is None or vat.last is None:
        return brought(ledgers.log, entry.id)
    return {"acid value": vat.last.acid_value_mg_koh_per_g, "water": vat.last.water_mg_per_kg}


def _outcome(ledgers: Ledgers, batches: pd.DataFrame, costs: pd.DataFrame) -> pd.DataFrame:
    """Per oil lot: cost and yield of the batches it went into, weighted by its mass in each; index: lot id.

    A batch whose figure is unknown leaves it out of that mean; the weights are those of the known ones.
    """
    shares = [(lot, batch, kg) for batch in ledgers.log.batches for lot, kg in ledgers.oil_of(batch).items()]
    table = pd.DataFrame(shares, columns=["lot", "batch", "kg"]).merge(_figures(batches, costs), on="batch")
    out = {"batches": table.groupby("lot")["batch"].nunique()}
    for name in MEANS:
        known = table.dropna(subset=[name])
        known = known.assign(product=known["kg"] * known[name].astype(float))
        sums = known.groupby("lot")[["product", "kg"]].sum()
        out[name] = sums["product"] / sums["kg"]
    found = pd.DataFrame(out)
    return found.assign(rank=found["compared_per_l"].round(DIGITS).rank(method="min"))


def _figures(batches: pd.DataFrame, costs: pd.DataFrame) -> pd.DataFrame:
    """What is averaged of every batch; costs of single batches where the compared cost is known, so that they stand beside it."""
    compared = costs[[f"{part}_per_l" for part in COMPARED]].sum(axis=1, skipna=False)
    found = costs[["batch"]].assign(
        compared_per_l=compared,
        single_per_l=single_per_l(costs).where(compared.notna()),
        fuel_cost_per_l=costs["with_media_per_l"],
    )
    return found.merge(batches[["batch", "yield_volume_pct"]], on="batch")
