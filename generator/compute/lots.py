"""One row per lot: what came, what is left, what it cost, and how the fuel made from it turned out."""

from __future__ import annotations

from typing import Any

import pandas as pd

from generator.compute.frames import frame
from generator.formulas.constants import DensityLine
from generator.ledger.basis import amount, density_line
from generator.ledger.bench import acidity
from generator.ledger.ledgers import Ledgers
from generator.ledger.money import Fetching, paid_total, refund_of
from generator.log import Entry, Log
from generator.records import Lot, Test, Titration
from generator.tables import LOTS
from generator.units import Quantity


def lots(ledgers: Ledgers, batches: pd.DataFrame, costs: pd.DataFrame) -> pd.DataFrame:
    """All lots by day of receipt; one row each."""
    log = ledgers.log
    entries = sorted(log.lots.values(), key=lambda entry: (entry.record.received, entry.id))
    data = frame(LOTS, [_row(ledgers, entry) for entry in entries])
    outcome = _outcome(log, batches, costs)
    for name in ("fuel_cost_per_l", "yield_volume_pct"):
        data[name] = data["lot"].map(outcome[name]).astype(float)
    return data


def _row(ledgers: Ledgers, entry: Entry[Lot]) -> dict[str, Any]:
    log, lot = ledgers.log, entry.record
    account, unit = ledgers.accounts[entry.id], ledgers.unit_costs[entry.id]
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
        "unit": account.unit,
        "quantity": float(account.received),
        "lost": float(account.total("lost")),
        "counted_difference": float(account.counted_difference),
        "drawn": float(account.total("drawn")),
        "returned": float(account.total("returned")),
        "left": float(account.left),
        "paid_total": float(paid) if paid is not None else None,
        "freight": float(lot.freight.amount) if lot.freight is not None else None,
        "fetched_km": float(way.km),
        "driving": float(way.driving) if way.driving is not None else None,
        "fetched_h": float(way.hours),
        "refunded": float(refund_of(lot)),
        "unit_cost": float(unit) if unit is not None else None,
        "acid_value_mg_koh_per_g": acid_value_of(log, lot.tests, density_line(log, "oil", entry.id)),
        "water_mg_per_kg": result_of(lot.tests, "water"),
        "note": lot.note,
    }


def acid_value_of(log: Log, tests: tuple[Test, ...], line: DensityLine) -> float | None:
    """The last acid value among tests, mg KOH/g: titrated by the workshop or written as a result; None where none is known."""
    found = (
        _titrated(log, test.titration, line) if test.titration is not None else _plain(test)
        for test in reversed(tests)
        if test.titration is not None or test.property == "acid value"
    )
    return next(found, None)


def result_of(tests: tuple[Test, ...], name: str) -> float | None:
    """The last uncensored result of a property among tests, in its base unit."""
    values = [_plain(test) for test in tests if test.property == name]
    return values[-1] if values else None


def _titrated(log: Log, titration: Titration, line: DensityLine) -> float | None:
    found = acidity(log, titration, line)
    return found.acid_value_mg_koh_per_g if found is not None else None


def _plain(test: Test) -> float | None:
    last = test.value
    return last.value if isinstance(last, Quantity) and not last.sign else None


def _outcome(log: Log, batches: pd.DataFrame, costs: pd.DataFrame) -> pd.DataFrame:
    """Per oil lot: cost and yield of the batches it went into, weighted by its mass in each; index: lot id.

    A batch whose figure is unknown leaves it out of that mean; the weights are those of the known ones.
    """
    shares = [
        (use.lot, entry.id, amount(log, use.amount, density_line(log, "oil", use.lot)).kg)
        for entry in log.batches.values()
        for use in entry.record.oil
    ]
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
