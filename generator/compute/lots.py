"""One row per lot: what came, what is left, what it cost, and how the fuel made from it turned out."""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal
from typing import Any

import pandas as pd

from generator.compute.frames import frame
from generator.ledger.costing import Held
from generator.ledger.ledgers import Ledgers
from generator.ledger.money import Fetching, paid_total, rate_days, refund_of
from generator.ledger.pool import unit_left
from generator.ledger.vats import brought
from generator.log import Entry
from generator.records import Lot
from generator.tables import LOTS


def lots(ledgers: Ledgers, batches: pd.DataFrame, costs: pd.DataFrame) -> pd.DataFrame:
    """All lots by day of receipt; one row each."""
    log = ledgers.log
    entries = sorted(log.lots.values(), key=lambda entry: (entry.record.received, entry.id))
    data = frame(LOTS, [_row(ledgers, entry) for entry in entries])
    outcome = _outcome(ledgers, batches, costs)
    for name in ("fuel_cost_per_l", "yield_volume_pct"):
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
        "refunded": float(refund_of(lot)),
        "rate_days": rate_days(lot.received, lot.paid, lot.freight, lot.value),
        "unit_cost": float(unit) if unit is not None else None,
        "acid_value_mg_koh_per_g": content["acid value"],
        "water_mg_per_kg": content["water"],
        "note": lot.note,
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
    table = pd.DataFrame(shares, columns=["lot", "batch", "kg"])
    table = table.merge(costs[["batch", "with_media_per_l"]], on="batch").merge(
        batches[["batch", "yield_volume_pct"]], on="batch"
    )
    out = {}
    for name, source in (("fuel_cost_per_l", "with_media_per_l"), ("yield_volume_pct", "yield_volume_pct")):
        known = table.dropna(subset=[source])
        known = known.assign(product=known["kg"] * known[source].astype(float))
        sums = known.groupby("lot")[["product", "kg"]].sum()
        out[name] = sums["product"] / sums["kg"]
    return pd.DataFrame(out)
