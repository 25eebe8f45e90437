"""What is in stock of each kind, how long it lasts, how long the oldest has stood, and what the vessels hold of oil and fuel."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from decimal import Decimal
from typing import Any

import pandas as pd

from generator.compute.frames import frame
from generator.ledger.batch_facts import known
from generator.ledger.ledgers import Ledgers
from generator.ledger.oil_store import OilStore, is_recent, recent_days, recent_time, recently_used
from generator.ledger.stock import ZERO, Account
from generator.ledger.stored import stored
from generator.log import Log
from generator.tables import STOCK

DREGS = Decimal(
    "0.05"
)  # of a lot: with less than that left it is as good as used; common practice, no source
KINDS = ("oil", "alcohol", "catalyst", "acid", "medium")
FUEL, TOGETHER = "fuel", "oil and fuel"


def stock(ledgers: Ledgers) -> pd.DataFrame:
    """One row for each kind of material and the unit it is kept in, one for fuel in tanks, one for oil and fuel together.

    All as of the day the pages count from.
    """
    store, recent = ledgers.oil_store, recent_time(ledgers.log)
    rows = [*_of_lots(ledgers, store, recent), *_of_tanks(ledgers, recent)]
    data = frame(STOCK, [*rows, *_together(rows, store)])
    data["oldest_days"] = data["oldest_days"].astype("Int64")  # whole days, also where some are unknown
    return data


def _of_lots(ledgers: Ledgers, store: OilStore, recent: tuple[date, date]) -> Iterator[dict[str, Any]]:
    log, accounts = ledgers.log, ledgers.accounts
    vessels = log.settings.oil_storage
    for kind in KINDS:
        lots = [
            lot for lot in accounts if (of := log.material_of(lot)) is not None and of.record.kind == kind
        ]
        for unit in ("L", "kg"):
            kept = [accounts[lot] for lot in lots if accounts[lot].unit == unit]
            if not kept:
                continue
            left = float(sum(max(account.left, ZERO) for account in kept))
            used = float(sum(recently_used(account, recent) for account in kept))
            yield {
                "kind": kind,
                "unit": unit,
                **_lasting(log, recent, left, used),
                "room_l": store.room_l if kind == "oil" else None,
                "vessels_l": vessels.value if kind == "oil" and vessels is not None else None,
                **_age(ledgers, [one for account in kept for one in _standing(ledgers, account)]),
            }


def _of_tanks(ledgers: Ledgers, recent: tuple[date, date]) -> Iterator[dict[str, Any]]:
    """Fuel in all tanks, at the reference temperature; a tank that the book has below zero counts as empty."""
    log, books = ledgers.log, ledgers.tanks
    if not books:
        return
    left = float(sum(max(book.content, ZERO) for book in books.values()))
    used = sum(
        (
            move.litres
            for book in books.values()
            for move in book.movements
            if move.event == "draw" and is_recent(move.moment.date(), recent)
        ),
        ZERO,
    )
    vessels = float(sum(book.capacity for book in books.values()))
    yield {
        "kind": FUEL,
        "unit": "L",
        **_lasting(log, recent, left, float(used)),
        "room_l": vessels - left,
        "vessels_l": vessels,
        **_age(ledgers, [(part.filled, part.batch) for part in stored(books)]),
    }


def _together(rows: list[dict[str, Any]], store: OilStore) -> Iterator[dict[str, Any]]:
    """What all vessels for oil and fuel hold and have in them; unknown where those for oil are not written."""
    tanks = next((row for row in rows if row["kind"] == FUEL), None)
    oil = next((row for row in rows if row["kind"] == "oil"), None)
    if tanks is None or oil is None:
        return
    yield {
        "kind": TOGETHER,
        "unit": "L",
        "left": store.left_l + tanks["left"],
        "room_l": known(lambda one, other: one + other, store.room_l, tanks["room_l"]),
        "vessels_l": known(lambda one, other: one + other, oil["vessels_l"], tanks["vessels_l"]),
    }


def _lasting(log: Log, recent: tuple[date, date], left: float, used: float) -> dict[str, float | None]:
    days = recent_days(log, recent)
    return {
        "left": left,
        "used_per_day": used / days if days > 0 else None,
        "cover_days": left * days / used if used > 0 else None,
    }


def _standing(ledgers: Ledgers, account: Account) -> Iterator[tuple[date, str]]:
    """The lots that still stand in an account with the days on which they came, dregs left out."""
    log, vat = ledgers.log, ledgers.vats.get(account.lot)
    if account.left <= account.received * DREGS:
        return
    if vat is None:
        yield log.lots[account.lot].record.received, account.lot
    elif vat.last is not None:
        litres = vat.last.litres
        parts = [lot for lot, each in litres.items() if each > sum(litres.values()) * float(DREGS)]
        yield from ((log.lots[lot].record.received, lot) for lot in parts if lot in log.lots)


def _age(ledgers: Ledgers, standing: list[tuple[date, str]]) -> dict[str, Any]:
    if not standing:
        return {}
    day, name = min(standing)
    return {"oldest": name, "oldest_days": (ledgers.log.now() - day).days}
