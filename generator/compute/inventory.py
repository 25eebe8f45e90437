"""One row per material and the unit it is kept in: what came in, was used, was lost and is left, and what each cost."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

import pandas as pd

from generator.compute.frames import frame
from generator.compute.lots import acid_value_of, result_of
from generator.ledger.basis import density_line
from generator.ledger.costing import Inventory, by_amount, unit_left
from generator.ledger.money import refund_of
from generator.ledger.pool import Pool
from generator.log import Log
from generator.tables import INVENTORY
from generator.units import to_exact


def inventory(log: Log, held: Inventory) -> pd.DataFrame:
    """All pools by material."""
    acid, water = (Inventory(log, held.accounts, by_amount(each)).means() for each in _brought(log))
    return frame(INVENTORY, [_row(log, pool, acid[key], water[key]) for key, pool in held.pools.items()])


def _brought(log: Log) -> tuple[dict[str, Decimal | None], dict[str, Decimal | None]]:
    """The acid value and the water of every lot by its own tests."""
    acids: dict[str, Decimal | None] = {}
    waters: dict[str, Decimal | None] = {}
    for name, entry in log.lots.items():
        acid = acid_value_of(log, entry.record.tests, density_line(log, "oil", name))
        water = result_of(entry.record.tests, "water")
        acids[name] = to_exact(acid) if acid is not None else None
        waters[name] = to_exact(water) if water is not None else None
    return acids, waters


def _row(log: Log, pool: Pool, acid: Decimal | None, water: Decimal | None) -> dict[str, Any]:
    material, left = log.materials.get(pool.material), pool.left
    refunded = sum(refund_of(log.lots[lot].record) for lot in pool.each)
    moved = {"came": pool.came, "used": pool.used, "returned": pool.returned, "lost": pool.lost, "left": left}
    return {
        "material": pool.material,
        "kind": material.record.kind if material is not None else None,
        "unit": pool.unit,
        "method": pool.method,
        "since": pool.since.isoformat() if pool.since is not None else None,
        **{name: float(one.amount) for name, one in moved.items()},
        **{f"{name}_cost": _number(one.cost) for name, one in moved.items()},
        "refunded": float(refunded),
        "unit_cost": _number(unit_left(left)),
        "acid_value_mg_koh_per_g": _number(acid),
        "water_mg_per_kg": _number(water),
    }


def _number(cost: Decimal | None) -> float | None:
    return float(cost) if cost is not None else None
