"""What was drawn cost by the method chosen for its material: the lot that was named, first in first out, a moving average.

The lot that a batch names says which stuff it is, for tracing; the method says what it cost. A pool is all lots of one
material kept in one unit. A bought lot comes in as what was left of it for use, at all that was paid, so that a loss in
preparation makes the rest dearer; what a count finds missing is a loss of its own. Exact decimals: what came in is what was
used, what was lost and what is left, to the last digit.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal
from functools import cached_property

from generator.ledger.money import paid_total
from generator.ledger.stock import ORDER, ZERO, Account, Line, counted
from generator.log import Log
from generator.records import Costing, Use

NAMED, FIFO, AVERAGE = "named lot", "FIFO", "moving average"
PLACES = Decimal("1e-12")  # of the money of one draw
Key = tuple[str, date, str]  # lot, day, by whom


@dataclass(slots=True)
class Moved:
    """An amount and what it cost; of a cost that is unknown no sum is known."""

    amount: Decimal = ZERO
    cost: Decimal | None = ZERO

    def add(self, amount: Decimal, cost: Decimal | None) -> None:
        """Add one more."""
        self.amount += amount
        self.cost = _sum(self.cost, cost)

    def split(self, part: Decimal) -> Decimal | None:
        """Take a part away, and tell its share of the cost."""
        cost = self.cost if part == self.amount else self.share(part)
        self.amount -= part
        self.cost = _sum(self.cost, -cost if cost is not None else None)
        return cost

    def share(self, part: Decimal) -> Decimal | None:
        """The share that a part has in the cost."""
        return None if self.cost is None else (self.cost * part / self.amount).quantize(PLACES)


@dataclass(slots=True)
class Pool:
    """All lots of one material kept in one unit, and what moved in and out of it; `since` is when its method began.

    What is there lies in `lots`, each for itself, or in `queue`, the oldest first; `owed` is what was drawn beyond the book.
    """

    material: str
    unit: str
    method: str = NAMED
    since: date | None = None
    lots: dict[str, Moved] = field(default_factory=dict)
    queue: deque[Moved] = field(default_factory=deque)
    owed: dict[str, Moved] = field(default_factory=dict)
    each: dict[str, Decimal | None] = field(default_factory=dict)
    there: dict[str, Decimal] = field(default_factory=dict)
    came: Moved = field(default_factory=Moved)
    used: Moved = field(default_factory=Moved)
    lost: Moved = field(default_factory=Moved)
    draws: dict[Key, Moved] = field(default_factory=dict)

    @property
    def left(self) -> Moved:
        """What is left, and what it cost."""
        found = Moved()
        for layer in (*self.lots.values(), *self.queue):
            found.add(layer.amount, layer.cost)
        for owed in self.owed.values():
            found.add(-owed.amount, -owed.cost if owed.cost is not None else None)
        return found

    def put(self, lot: str, amount: Decimal, cost: Decimal | None) -> None:
        """Bring something in; first of all it makes up for what was drawn beyond the book."""
        self.there[lot] = self.there.get(lot, ZERO) + amount
        self._lay(lot, amount, cost)

    def _lay(self, lot: str, amount: Decimal, cost: Decimal | None) -> None:
        owed = self.owed.get(self._name(lot))
        if owed is not None:
            part = min(owed.amount, amount)
            paid = owed.split(part)
            amount, cost = amount - part, _sum(cost, -paid if paid is not None else None)
            if not owed.amount:
                del self.owed[self._name(lot)]
        if not amount:
            self.lost.add(ZERO, cost)  # it was drawn at another price than it came in at
        elif self.method == NAMED:
            self.lots.setdefault(lot, Moved()).add(amount, cost)
        elif self.method == AVERAGE and self.queue:
            self.queue[0].add(amount, cost)
        else:
            self.queue.append(Moved(amount, cost))

    def take(self, lot: str, amount: Decimal) -> Decimal | None:
        """Take something out, and tell what it cost; beyond the book at the cost of the lot that was named."""
        self.there[lot] = self.there.get(lot, ZERO) - amount
        cost: Decimal | None = ZERO
        while amount and (layer := self._next(lot)) is not None:
            part = min(amount, layer.amount)
            cost = _sum(cost, layer.split(part))
            amount -= part
            if not layer.amount:
                self._drop(lot)
        if amount:
            short = _times(self.each.get(lot), amount)
            self.owed.setdefault(self._name(lot), Moved()).add(amount, short)
            cost = _sum(cost, short)
        return cost

    def _next(self, lot: str) -> Moved | None:
        if self.method == NAMED:
            return self.lots.get(lot)
        return self.queue[0] if self.queue else None

    def _drop(self, lot: str) -> None:
        if self.method == NAMED:
            del self.lots[lot]
        else:
            self.queue.popleft()

    def _name(self, lot: str) -> str:
        """Who owes what was drawn beyond the book: the lot, or all lots together."""
        return lot if self.method == NAMED else ""

    def change(self, method: str, since: date) -> None:
        """Go over to another method: what is there keeps what it cost in all.

        A lot that is named from now on costs what the pool did in the middle.
        """
        left, owed = self.left, self.owed
        layers = [*self.lots.items(), *(("", layer) for layer in self.queue)]
        was, self.method, self.since = self.method, method, since
        if method == was:
            return
        self.lots, self.queue, self.owed = {}, deque(), {}
        if method == NAMED:
            self._lay_by_lot(left)
            return
        for each in owed.values():
            self.owed.setdefault("", Moved()).add(each.amount, each.cost)
        for lot, layer in layers:
            self._lay(lot, layer.amount, layer.cost)

    def _lay_by_lot(self, left: Moved) -> None:
        """What the book says is there of every lot, at the mean of the pool; at its own cost where nothing is left in all."""
        there = [(lot, amount) for lot, amount in sorted(self.there.items()) if amount]
        mean = left.cost / left.amount if left.cost is not None and left.amount > 0 else None
        rest = left.cost
        for lot, amount in there:
            each = self.each.get(lot) if left.amount <= 0 and left.cost is not None else mean
            cost = rest if lot == there[-1][0] else _times(each, amount)
            rest = _sum(rest, -cost if cost is not None else None)
            self.each[lot] = each
            if amount > 0:
                self.lots[lot] = Moved(amount, cost)
            else:
                self.owed[lot] = Moved(-amount, -cost if cost is not None else None)
        if not there:
            self.lost.add(ZERO, rest)


@dataclass(frozen=True, slots=True)
class Worth:
    """What a unit of a lot is worth, and all of it as it came in: its cost, or something else that mixes by amount."""

    each: Mapping[str, Decimal | None]
    whole: Callable[[str, Decimal], Decimal | None]


class Inventory:
    """What every draw cost; a pool is folded when it is first asked for."""

    def __init__(
        self, log: Log, accounts: Mapping[str, Account], unit_costs: Mapping[str, Decimal | None]
    ) -> None:
        """Keep the accounts; a unit of a lot by itself costs what `unit_costs` says."""
        self.log, self.accounts, self.unit_costs = log, accounts, unit_costs
        self.methods: dict[str, list[Costing]] = {}
        for chosen in log.settings.costing:
            self.methods.setdefault(chosen.material, []).append(chosen)

    def cost_of(self, use: Use, day: date, by: str) -> Decimal | None:
        """What an amount cost that someone took from a lot that day; None where no price or no fitting unit is known."""
        account = self.accounts.get(use.lot)
        taken = counted(self.log, use.amount, use.lot, account.unit) if account is not None else None
        each = self.unit_cost(use.lot, day, by)
        return each * taken if each is not None and taken is not None else None

    def unit_cost(self, lot: str, day: date, by: str) -> Decimal | None:
        """What a unit cost of all that someone took from a lot that day."""
        entry = self.log.lots.get(lot)
        methods = self.methods.get(entry.record.material, []) if entry is not None else []
        if entry is None or all(day < method.since for method in methods):
            return self.unit_costs.get(lot)
        drawn = self.pools[entry.record.material, self.accounts[lot].unit].draws.get((lot, day, by))
        if drawn is None or drawn.cost is None:
            return None
        return drawn.cost / drawn.amount if drawn.amount else self.unit_costs.get(lot)

    def drawn_until(self, day: date) -> Decimal:
        """What all cost that was drawn until a day, that day counted; lots without a price left out."""
        return sum(
            (
                each * line.amount
                for lot, account in self.accounts.items()
                for line in account.lines
                if line.what == "drawn" and line.day <= day
                if (each := self.unit_cost(lot, line.day, line.by)) is not None
            ),
            ZERO,
        )

    @cached_property
    def pools(self) -> dict[tuple[str, str], Pool]:
        """All pools by material and unit, folded to the end of the log."""
        return self._all(Worth(self.unit_costs, self._paid))

    def carried(self, each: Mapping[str, Decimal | None]) -> dict[tuple[str, str], Decimal | None]:
        """The mean of what is left in every pool of something that its lots bring with them, weighted by amount.

        Lots of one material have one density, so that litres weigh as kilograms do. None where some of what is left brings
        an unknown, or where nothing is left.
        """
        found = self._all(Worth(each, lambda lot, amount: _times(each.get(lot), amount)))
        left = {key: pool.left for key, pool in found.items()}
        return {
            key: moved.cost / moved.amount if moved.cost is not None and moved.amount > 0 else None
            for key, moved in left.items()
        }

    def _all(self, worth: Worth) -> dict[tuple[str, str], Pool]:
        lots: dict[tuple[str, str], list[str]] = {}
        for lot, account in sorted(self.accounts.items()):
            lots.setdefault((self.log.lots[lot].record.material, account.unit), []).append(lot)
        return {key: self._folded(*key, found, worth) for key, found in sorted(lots.items())}

    def _folded(self, material: str, unit: str, lots: list[str], worth: Worth) -> Pool:
        pool = Pool(material, unit, each={lot: worth.each.get(lot) for lot in lots})
        changes = sorted(self.methods.get(material, []), key=lambda one: one.since)
        for line, lot in sorted(self._lines(lots), key=lambda each: _when(*each)):
            while changes and changes[0].since <= line.day:
                pool.change(changes[0].method, changes.pop(0).since)
            self._move(pool, lot, line, worth)
        for change in changes:  # of which nothing has moved since
            pool.change(change.method, change.since)
        return pool

    def _lines(self, lots: list[str]) -> Iterator[tuple[Line, str]]:
        return ((line, lot) for lot in lots for line in self.accounts[lot].lines)

    def _move(self, pool: Pool, lot: str, line: Line, worth: Worth) -> None:
        account = self.accounts[lot]
        if line.what == "received":
            if account.usable > 0:
                self._come(pool, lot, account.usable, worth.whole(lot, account.usable))
        elif line.what == "recovered":
            self._come(pool, lot, line.amount, _times(pool.each.get(lot), line.amount))
        elif line.what == "drawn":
            cost = pool.take(lot, line.amount)
            pool.used.add(line.amount, cost)
            pool.draws.setdefault((lot, line.day, line.by), Moved()).add(line.amount, cost)
        elif line.what == "counted" and line.amount > 0:
            found = _times(pool.each.get(lot), line.amount)
            pool.put(lot, line.amount, found)
            pool.lost.add(-line.amount, -found if found is not None else None)
        elif line.what == "counted" or self.log.lots[lot].record.recovered:
            missing = abs(line.amount)
            pool.lost.add(missing, pool.take(lot, missing))

    def _come(self, pool: Pool, lot: str, amount: Decimal, cost: Decimal | None) -> None:
        pool.came.add(amount, cost)
        pool.put(lot, amount, cost)

    def _paid(self, lot: str, _: Decimal) -> Decimal | None:
        entry = self.log.lots[lot]
        freight = entry.record.freight
        return _sum(paid_total(self.log, entry), freight.amount if freight is not None else ZERO)


def _when(line: Line, lot: str) -> tuple[object, ...]:
    return line.day, ORDER[line.what], line.by, lot


def _times(each: Decimal | None, amount: Decimal) -> Decimal | None:
    return None if each is None else (each * amount).quantize(PLACES)


def _sum(one: Decimal | None, other: Decimal | None) -> Decimal | None:
    return None if one is None or other is None else one + other
