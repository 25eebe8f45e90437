"""No lot is drawn below zero, every draw is counted in a unit that fits its lot, and the vessels hold what is there."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from generator.ledger.ledgers import Ledgers
from generator.ledger.spoken import volume
from generator.ledger.stock import Account
from generator.log import Entry, Log
from generator.problems import Place, Problem
from generator.records import Lot

# of what they hold: what its temperature and the readings may add up to; common practice, no source
RIM = Decimal("0.02")


def check(ledgers: Ledgers) -> Iterator[Problem]:
    """Walk every lot's account."""
    log = ledgers.log
    tolerance_pct = log.settings.stock_tolerance.exact
    for name, account in ledgers.accounts.items():
        entry = log.lots[name]
        came = _came(entry)
        own, other = ("volume", "mass") if account.unit == "L" else ("mass", "volume")
        for quantity, place in account.unfit:
            yield Problem(
                "stock-unit",
                place,
                f"lot '{name}' is kept in {account.unit}, and '{quantity.text}' cannot be counted in it",
                f"write it in a unit of {own}, or the 'quantity' of {name} in one of {other}",
                (came,),
            )
        yield from _overdrawn(entry, account, account.received * tolerance_pct / 100)
        yield from _counts(entry, account)
        yield from _brim(log, entry, account)
    yield from _vessels(ledgers)


def _vessels(ledgers: Ledgers) -> Iterator[Problem]:
    log = ledgers.log
    vessels = log.settings.oil_storage
    if vessels is None:
        return
    store = ledgers.oil_store
    if store.left_l <= vessels.exact * (1 + RIM):
        return
    yield Problem(
        "storage-full",
        log.workshop.at("oil_storage"),
        f"the book has {volume(log, store.left_l)} of oil in stock, and its vessels hold {vessels.text}",
        "count the oil and write the counts in the lots' files, or write what all vessels hold",
    )


def _came(entry: Entry[Lot]) -> Place:
    """Where it is written what came in."""
    return entry.at("filled" if entry.record.vat else "quantity")


def _overdrawn(entry: Entry[Lot], account: Account, slack: object) -> Iterator[Problem]:
    came = _came(entry)
    for line in account.lines:
        if line.balance >= 0 or line.day < entry.record.received:  # the latter is told by the check of dates
            continue
        beyond = -line.balance > slack  # type: ignore[operator]
        by = f" by {line.by}" if line.by else ""
        message = f"lot '{account.lot}' is overdrawn{by}: {-line.balance:.2f} {account.unit} more than the book holds"
        if beyond:
            yield Problem(
                "stock-overdrawn",
                line.place,
                message,
                "check the amount and the lot; if the book is wrong, write a count in the lot's file",
                (came,),
            )
            return
        yield Problem(
            "stock-short",
            line.place,
            message,
            "within the tolerance of the readings; a count in the lot's file settles it",
            (came,),
        )


def _brim(log: Log, entry: Entry[Lot], account: Account) -> Iterator[Problem]:
    """Whether a vat ever held more than it can."""
    holds = entry.record.holds
    for line in account.lines if holds is not None and account.unit == "L" else ():
        if line.what == "filled" and line.balance > holds.exact * (1 + RIM):  # type: ignore[union-attr]
            yield Problem(
                "storage-full",
                line.place,
                f"vat '{account.lot}' holds {holds.text}, and the book has {volume(log, line.balance)} in it",  # type: ignore[union-attr]
                "check the amount; if the book is wrong, write a count in the vat's file",
                (entry.at("holds"),),
            )
            return


def _counts(entry: Entry[Lot], account: Account) -> Iterator[Problem]:
    for line in account.lines:
        if line.what == "counted" and abs(line.amount) > account.received * 5 / 100:
            yield Problem(
                "count-differs",
                line.place,
                f"the count of lot '{account.lot}' differs from the book by {line.amount:+.1f} {account.unit}",
                "the count holds from here; look for a draw or a loss that was not written",
            )
