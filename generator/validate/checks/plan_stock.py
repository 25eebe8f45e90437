"""Every lot holds what the planned batches take of it, in the order of their dates."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from generator.ledger.ledgers import Ledgers
from generator.ledger.planned import needs
from generator.problems import Problem


def check(ledgers: Ledgers) -> Iterator[Problem]:
    """Walk the planned batches; a lot that falls short is told once."""
    log, taken, told = ledgers.log, dict[str, Decimal](), set[str]()
    for entry in log.planned_in_time():
        for need in needs(log, entry, ledgers.doses[entry.id]):
            account = ledgers.accounts.get(need.lot)
            amount = need.amount_in(account.unit) if account is not None else None
            if account is None or amount is None:
                continue
            before = taken.get(need.lot, Decimal(0))
            taken[need.lot] = before + amount
            beyond = taken[need.lot] - account.left
            slack = account.received * log.settings.stock_tolerance.exact / 100
            if beyond > slack and need.lot not in told:
                told.add(need.lot)
                left = max(account.left - before, Decimal(0))
                yield Problem(
                    "plan-short",
                    entry.at(*need.path),
                    f"batch {entry.id} takes {amount:.1f} {account.unit} of lot '{need.lot}', which holds {left:.1f}",
                    "name a second lot, or write what was delivered",
                    (log.lots[need.lot].at("lot"),),
                )
