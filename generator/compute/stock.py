"""What is in stock of each kind, how long it lasts at the recent use, how long the oldest of it has stood, and room for oil."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from decimal import Decimal
from typing import Any

import pandas as pd

from generator.compute.frames import frame
from generator.ledger.oil_store import oil_store, recent_days, recently_used
from generator.ledger.stock import Account
from generator.log import Log
from generator.tables import STOCK

DREGS = Decimal(
    "0.05"
)  # of a lot: with less than that left it is as good as used; common practice, no source
KINDS = ("oil", "alcohol", "catalyst", "acid", "medium")


def stock(log: Log, accounts: Mapping[str, Account]) -> pd.DataFrame:
    """One row for each kind of material and the unit it is kept in, as of the day the pages count from."""
    return frame(STOCK, list(_rows(log, accounts)))


def _rows(log: Log, accounts: Mapping[str, Account]) -> Iterator[dict[str, Any]]:
    today, days = log.now(), recent_days(log)
    room = oil_store(log, accounts).room_l
    for kind in KINDS:
        lots = [
            lot for lot in accounts if (of := log.material_of(lot)) is not None and of.record.kind == kind
        ]
        for unit in ("L", "kg"):
            kept = [accounts[lot] for lot in lots if accounts[lot].unit == unit]
            if not kept:
                continue
            left = float(sum(max(account.left, Decimal(0)) for account in kept))
            used = float(sum(recently_used(log, account) for account in kept))
            standing = [log.lots[account.lot] for account in kept if account.left > account.received * DREGS]
            oldest = min(standing, key=lambda entry: (entry.record.received, entry.id), default=None)
            yield {
                "kind": kind,
                "unit": unit,
                "left": left,
                "used_per_day": used / days if days > 0 else None,
                "cover_days": left * days / used if used > 0 else None,
                "room_l": room if kind == "oil" else None,
                "oldest": oldest.id if oldest is not None else None,
                "oldest_days": (today - oldest.record.received).days if oldest is not None else None,
            }
