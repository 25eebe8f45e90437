"""What is left of every lot: receipts, losses, draws and counts folded in time, in exact decimals."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal
from typing import NamedTuple

from generator.ledger.amounts import PLANNED, amounts
from generator.ledger.basis import exact_amount
from generator.ledger.parts import as_mass
from generator.ledger.slips import BACK
from generator.log import Entry, Log
from generator.problems import Place
from generator.records import Count, Loss, Lot, Pack, Regenerate, Return, Rinse, day_of
from generator.units import Quantity

ZERO = Decimal(0)
_KINDS = ("received", "recovered", "lost", "poured", "filled", "drawn", "returned", "counted")
ORDER = {what: place for place, what in enumerate(_KINDS)}  # of what happens on one day
CAME = ("received", "recovered", "filled")


@dataclass(frozen=True, slots=True)
class Line:
    """One line of a lot's account: what happened, how much, what the book says after it."""

    day: date
    what: str
    amount: Decimal
    balance: Decimal
    by: str
    place: Place


@dataclass(slots=True)
class Account:
    """The account of one lot, kept in `L` at the reference temperature or in `kg`."""

    lot: str
    unit: str
    lines: list[Line] = field(default_factory=list)
    unfit: list[tuple[Quantity, Place]] = field(default_factory=list)

    def total(self, what: str) -> Decimal:
        """The sum of one kind of line."""
        return sum((line.amount for line in self.lines if line.what == what), ZERO)

    @property
    def received(self) -> Decimal:
        """All that came in: the delivery, what the batches gave back, or what was poured into a vat."""
        return sum((line.amount for line in self.lines if line.what in CAME), ZERO)

    @property
    def left(self) -> Decimal:
        """What the book says is there."""
        return self.lines[-1].balance if self.lines else ZERO

    @property
    def counted_difference(self) -> Decimal:
        """Counted minus book, over all counts."""
        return self.total("counted")

    @property
    def usable(self) -> Decimal:
        """What came in, minus what was lost before use."""
        return self.received - self.total("lost")

    def drawn_by(self, who: str) -> Decimal:
        """What one batch or event drew."""
        return sum((line.amount for line in self.lines if line.what == "drawn" and line.by == who), ZERO)


class _Move(NamedTuple):
    lot: str
    day: date
    what: str
    quantity: Quantity
    by: str
    place: Place


def accounts(log: Log) -> dict[str, Account]:
    """Fold all movements of all lots; the order of the files does not matter."""
    moves: dict[str, list[_Move]] = {lot: [] for lot in log.lots}
    for move in (*_of_lots(log), *_of_batches(log), *_of_columns(log)):
        if move.lot in moves:
            moves[move.lot].append(move)
    return {lot: _fold(log, entry, moves[lot]) for lot, entry in log.lots.items()}


def _fold(log: Log, entry: Entry[Lot], moves: list[_Move]) -> Account:
    received = entry.record.quantity
    account = Account(entry.id, "kg" if received is not None and received.kind == "mass" else "L")
    balance = ZERO
    for move in sorted(moves, key=lambda move: (move.day, ORDER[move.what], move.by, move.place)):
        amount = counted(log, move.quantity, entry.id, account.unit)
        if amount is None:
            account.unfit.append((move.quantity, move.place))
            continue
        if move.what == "counted":
            amount, balance = amount - balance, amount
        else:
            balance += amount if move.what in CAME else -amount
        account.lines.append(Line(move.day, move.what, amount, balance, move.by, move.place))
    return account


def counted(log: Log, quantity: Quantity, lot: str, unit: str) -> Decimal | None:
    """An amount in the unit a lot is kept in; None where it cannot be counted in it. Acid crosses by its own density."""
    if unit == "kg":
        quantity = as_mass(log, lot, quantity)
    return exact_amount(log, quantity, lot, unit)


def _of_lots(log: Log) -> Iterator[_Move]:
    for entry in log.lots.values():
        lot = entry.record
        if lot.quantity is not None:
            yield _Move(entry.id, lot.received, "received", lot.quantity, "", entry.at("quantity"))
        for number, fill in enumerate(lot.filled):
            place = entry.at("filled", number, fill.amount.kind)
            yield _Move(fill.lot, fill.date, "poured", fill.amount, entry.id, place)
            yield _Move(entry.id, fill.date, "filled", fill.amount, fill.lot, place)
        yield from _listed(entry, "lost", "losses", lot.losses)
        yield from _listed(entry, "returned", "returns", lot.returns)
        yield from _listed(entry, "counted", "counts", lot.counts)


def _listed(
    entry: Entry[Lot], what: str, key: str, items: Sequence[Loss | Return | Count]
) -> Iterator[_Move]:
    for number, item in enumerate(items):
        name = "volume" if item.volume is not None else "mass"
        quantity = item.volume if item.volume is not None else item.mass
        assert quantity is not None
        yield _Move(entry.id, item.date, what, quantity, "", entry.at(key, number, name))


def _of_batches(log: Log) -> Iterator[_Move]:
    for entry in log.batches.values():
        for written in amounts(entry.record):
            if written.quantity is not None and written.lot is not None and written.name != PLANNED:
                what = "recovered" if written.name == BACK else "drawn"
                place = entry.at(*written.place)
                yield _Move(written.lot, entry.record.date, what, written.quantity, entry.id, place)


def _of_columns(log: Log) -> Iterator[_Move]:
    for entry in log.purifiers.values():
        for number, event in enumerate(entry.record.history):
            who = f"{entry.id} {event.event}"
            if isinstance(event, Pack) and event.lot is not None:
                yield _Move(
                    event.lot,
                    day_of(event.date),
                    "drawn",
                    event.mass,
                    who,
                    entry.at("history", number, "mass"),
                )
            if isinstance(event, Rinse | Regenerate) and event.used is not None:
                place = entry.at("history", number, "with", event.used.amount.kind)
                yield _Move(event.used.lot, day_of(event.date), "drawn", event.used.amount, who, place)
