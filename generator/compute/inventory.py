"""One row per material and the unit it is kept in: what came in, was used, was lost and is left, and what each cost."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

import pandas as pd

from generator.compute.results import frame
from generator.ledger.costing import Inventory, Moved, Pool
from generator.log import Log
from generator.tables import INVENTORY


def inventory(log: Log, held: Inventory) -> pd.DataFrame:
    """All pools by material."""
    return frame(INVENTORY, [_row(log, pool) for pool in held.pools.values()])


def _row(log: Log, pool: Pool) -> dict[str, Any]:
    material, left = log.materials.get(pool.material), pool.left
    moved = {"came": pool.came, "used": pool.used, "lost": pool.lost, "left": left}
    return {
        "material": pool.material,
        "kind": material.record.kind if material is not None else None,
        "unit": pool.unit,
        "method": pool.method,
        "since": pool.since.isoformat() if pool.since is not None else None,
        **{name: float(one.amount) for name, one in moved.items()},
        **{f"{name}_cost": _number(one.cost) for name, one in moved.items()},
        "unit_cost": _per_unit(left),
    }


def _per_unit(left: Moved) -> float | None:
    return _number(left.cost / left.amount) if left.cost is not None and left.amount > 0 else None


def _number(cost: Decimal | None) -> float | None:
    return float(cost) if cost is not None else None
