"""One row per material and the unit it is kept in: what came in, was used, was lost and is left, and what each cost."""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal
from typing import Any

import pandas as pd

from generator.compute.frames import frame
from generator.ledger.costing import Inventory, by_amount
from generator.ledger.ledgers import Ledgers
from generator.ledger.money import refund_of
from generator.ledger.pool import Pool, unit_left
from generator.ledger.vats import brought
from generator.log import Log
from generator.tables import INVENTORY
from generator.units import to_exact


def inventory(ledgers: Ledgers) -> pd.DataFrame:
    """All pools by material, and all vats."""
    log, held = ledgers.log, ledgers.inventory
    tests = {name: brought(log, name) for name in log.lots}
    acid, water = (
        Inventory(log, held.accounts, by_amount(_exact(tests, name))).means()
        for name in ("acid value", "water")
    )
    for key in held.pools:
        mix = ledgers.vats[key.vat].last if key.vat else None
        if mix is not None:
            acid[key], water[key] = _exactly(mix.acid_value_mg_koh_per_g), _exactly(mix.water_mg_per_kg)
    return frame(INVENTORY, [_row(log, pool, acid[key], water[key]) for key, pool in held.pools.items()])


def _exact(tests: Mapping[str, Mapping[str, float | None]], name: str) -> dict[str, Decimal | None]:
    return {lot: _exactly(found[name]) for lot, found in tests.items()}


def _exactly(value: float | None) -> Decimal | None:
    """A float among decimals."""
    return to_exact(value) if value is not None else None


def _row(log: Log, pool: Pool, acid: Decimal | None, water: Decimal | None) -> dict[str, Any]:
    material, left = log.materials.get(pool.material), pool.left
    refunded = sum((refund_of(log.lots[lot].record) for lot in pool.each), Decimal(0))
    back = pool.returned.cost
    moved = {
        "came": pool.came,
        "used": pool.used,
        "poured": pool.poured,
        "returned": pool.returned,
        "lost": pool.lost,
        "left": left,
    }
    return {
        "material": pool.material,
        "kind": material.record.kind if material is not None else None,
        "unit": pool.unit,
        "vat": pool.vat or None,
        "method": pool.method,
        "since": pool.since.isoformat() if pool.since is not None else None,
        **{name: float(one.amount) for name, one in moved.items()},
        **{f"{name}_cost": _number(one.cost) for name, one in moved.items()},
        "refunded": float(refunded),
        "returned_gain": float(refunded - back) if pool.returned.amount and back is not None else None,
        "unit_cost": _number(unit_left(left)),
        "acid_value_mg_koh_per_g": _number(acid),
        "water_mg_per_kg": _number(water),
    }


def _number(cost: Decimal | None) -> float | None:
    return float(cost) if cost is not None else None
