"""What was drawn of late, and all oil that is there against the vessels that hold it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from generator.ledger.basis import material_density_line
from generator.ledger.stock import Account
from generator.log import Log

RECENT_DAYS = 90


@dataclass(frozen=True, slots=True)
class OilStore:
    """All oil in litres at the reference temperature, however its lots are kept; `room_l` is what its vessels still hold."""

    left_l: float
    used_l_per_day: float | None
    room_l: float | None


def oil_store(log: Log, accounts: Mapping[str, Account]) -> OilStore:
    """The oil that is there; a lot kept in kilograms counts by its density."""
    left = used = 0.0
    recent = recent_time(log)
    for lot, account in accounts.items():
        if (of := log.material_of(lot)) is None or of.record.kind != "oil":
            continue
        kg_per_l = material_density_line(log, "oil", of.id).at(log.reference_c) / 1000
        litres = 1.0 if account.unit == "L" else 1 / kg_per_l
        left += float(max(account.left, Decimal(0))) * litres
        used += float(recently_used(account, recent)) * litres
    days, vessels = recent_days(log, recent), log.settings.oil_storage
    room = vessels.value - left if vessels is not None else None
    return OilStore(left, used / days if days > 0 else None, room)


def recent_time(log: Log) -> tuple[date, date]:
    """The day after which a use is recent, and the day the pages count from; both are found in all records, so ask once."""
    today = log.now()
    return date.fromordinal(max(today.toordinal() - RECENT_DAYS, 1)), today  # an empty logbook has no day


def recent_days(log: Log, recent: tuple[date, date]) -> int:
    """How many days the recent use is counted over; a workshop younger than that has used it for fewer."""
    since, today = recent
    first = min((entry.record.date for entry in log.batches.values()), default=today)
    return (today - max(since, first)).days


def recently_used(account: Account, recent: tuple[date, date]) -> Decimal:
    """What was drawn from a lot of late."""
    return sum(
        (line.amount for line in account.lines if line.what == "drawn" and is_recent(line.day, recent)),
        Decimal(0),
    )


def is_recent(day: date, recent: tuple[date, date]) -> bool:
    """Whether a day is one of those that recent use is counted over."""
    since, today = recent
    return since < day <= today
