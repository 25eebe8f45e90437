"""All lots of one material kept in one unit, as what moves in and out of them; what is moved brings its cost along.

Under `named lot` what is there lies by lot, under FIFO in the order in which it came, under a moving average together. Exact
decimals: money of one draw is rounded to 1e-12 and taken off what is left, so that the sums hold to the last digit.
"""

from __future__ import annotations

from collections import deque
from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal

from generator.ledger.stock import ZERO

NAMED, FIFO, AVERAGE = "named lot", "FIFO", "moving average"
PLACES = Decimal("1e-12")  # of the money of one draw
MOST_DIGITS = (
    15  # before the point; with the places behind it they fit into what the decimals of Python carry
)
Key = tuple[str, date, str]  # lot, day, by whom


def rounded(money: Decimal) -> Decimal:
    """Money of one draw, to its last place; of an amount that no one has nothing is rounded."""
    return money.quantize(PLACES) if money.adjusted() < MOST_DIGITS else money


@dataclass(slots=True)
class Moved:
    """An amount and what it cost; of a cost that is unknown no sum is known. A layer of a queue keeps the `lot` that it came of."""

    amount: Decimal = ZERO
    cost: Decimal | None = ZERO
    lot: str = ""

    def add(self, amount: Decimal, cost: Decimal | None) -> None:
        """Add one more."""
        self.amount += amount
        self.cost = added(self.cost, cost)

    def split(self, part: Decimal) -> Decimal | None:
        """Take a part away, and tell its share of the cost."""
        cost = self.cost if part == self.amount else self.share(part)
        self.amount -= part
        self.cost = added(self.cost, -cost if cost is not None else None)
        return cost

    def share(self, part: Decimal) -> Decimal | None:
        """The share that a part has in the cost."""
        return None if self.cost is None else rounded(self.cost * part / self.amount)


@dataclass(slots=True)
class Pool:
    """All lots of one material kept in one unit, or one vat, and what moved in and out; `since` is when its method began.

    What is there lies in `lots`, each for itself, or in `queue`, the oldest first; `owed` is what was drawn beyond the book.
    """

    material: str
    unit: str
    vat: str = ""
    method: str = NAMED
    since: date | None = None
    lots: dict[str, Moved] = field(default_factory=dict)
    queue: deque[Moved] = field(default_factory=deque)
    owed: dict[str, Moved] = field(default_factory=dict)
    each: dict[str, Decimal | None] = field(default_factory=dict)
    there: dict[str, Decimal] = field(default_factory=dict)
    came: Moved = field(default_factory=Moved)
    used: Moved = field(default_factory=Moved)
    poured: Moved = field(default_factory=Moved)
    returned: Moved = field(default_factory=Moved)
    went_back: dict[str, Moved] = field(default_factory=dict)
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

    def come(self, lot: str, amount: Decimal, cost: Decimal | None) -> None:
        """Bring in what was bought or recovered, or poured into a vat."""
        self.came.add(amount, cost)
        self.put(lot, amount, cost)

    def draw(self, lot: str, amount: Decimal, key: Key) -> None:
        """Take out what somebody uses."""
        cost = self.take(lot, amount)
        self.used.add(amount, cost)
        self.draws.setdefault(key, Moved()).add(amount, cost)

    def find(self, lot: str, amount: Decimal) -> None:
        """Bring in what a count found beyond the book: a loss below zero, at what a unit of the lot costs."""
        cost = times(self.each.get(lot), amount)
        self.put(lot, amount, cost)
        self.lost.add(-amount, -cost if cost is not None else None)

    def pour(self, lot: str, amount: Decimal) -> Decimal | None:
        """Take out what goes into a vat, and tell what it cost."""
        cost = self.take(lot, amount)
        self.poured.add(amount, cost)
        return cost

    def put(self, lot: str, amount: Decimal, cost: Decimal | None) -> None:
        """Bring something in; first of all it makes up for what was drawn beyond the book."""
        self.there[lot] = self.there.get(lot, ZERO) + amount
        self._lay(lot, amount, cost)

    def _lay(self, lot: str, amount: Decimal, cost: Decimal | None) -> None:
        owed = self.owed.get(self._name(lot))
        if owed is not None:
            part = min(owed.amount, amount)
            paid = owed.split(part)
            amount, cost = amount - part, added(cost, -paid if paid is not None else None)
            if not owed.amount:
                del self.owed[self._name(lot)]
        if not amount:
            self.lost.add(ZERO, cost)  # it was drawn at another price than it came in at
        elif self.method == NAMED:
            self.lots.setdefault(lot, Moved()).add(amount, cost)
        elif self.method == AVERAGE and self.queue:
            self.queue[0].add(amount, cost)
        else:
            self.queue.append(Moved(amount, cost, lot))

    def take(self, lot: str, amount: Decimal) -> Decimal | None:
        """Take something out, and tell what it cost; beyond the book at the cost of the lot that was named."""
        self.there[lot] = self.there.get(lot, ZERO) - amount
        cost: Decimal | None = ZERO
        while amount and (layer := self._next(lot)) is not None:
            part = min(amount, layer.amount)
            cost = added(cost, layer.split(part))
            amount -= part
            if not layer.amount:
                self._drop(lot)
        if amount:
            short = times(self.each.get(lot), amount)
            self.owed.setdefault(self._name(lot), Moved()).add(amount, short)
            cost = added(cost, short)
        return cost

    def give_back(self, lot: str, amount: Decimal) -> None:
        """Send something back to its seller: at what its own lot cost, whatever leaves first by the method.

        What of its lot the method has used up already leaves as a draw would.
        """
        own = self._own(lot, amount)
        rest = amount - own.amount
        self.there[lot] = self.there.get(lot, ZERO) - own.amount
        cost = added(own.cost, self.take(lot, rest)) if rest else own.cost
        self.returned.add(amount, cost)
        self.went_back.setdefault(lot, Moved()).add(amount, cost)

    def _own(self, lot: str, amount: Decimal) -> Moved:
        """What is still there of a lot by the method, at most an amount of it, taken out at its own cost.

        Nothing where lots are named: none of them is in the queue, and a draw takes of the lot alone.
        """
        if self.method == AVERAGE:
            return self._out_of_mean(lot, amount)
        found = Moved()
        for layer in [layer for layer in self.queue if layer.lot == lot]:
            part = min(amount - found.amount, layer.amount)
            found.add(part, layer.split(part) if part else ZERO)
        self.queue = deque(layer for layer in self.queue if layer.amount)
        return found

    def _out_of_mean(self, lot: str, amount: Decimal) -> Moved:
        """Out of all together, at what a unit of the lot cost, and never for more than all is worth."""
        own = times(self.each.get(lot), amount)
        if not self.queue or amount >= self.queue[0].amount or own is None or self.queue[0].cost is None:
            return Moved()
        own = min(own, self.queue[0].cost)
        self.queue[0].add(-amount, -own)
        return Moved(amount, own)

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
            cost = rest if lot == there[-1][0] else times(each, amount)
            rest = added(rest, -cost if cost is not None else None)
            self.each[lot] = each
            if amount > 0:
                self.lots[lot] = Moved(amount, cost)
            else:
                self.owed[lot] = Moved(-amount, -cost if cost is not None else None)


def unit_left(left: Moved) -> Decimal | None:
    """What a unit of what is left cost."""
    return left.cost / left.amount if left.cost is not None and left.amount > 0 else None


def times(each: Decimal | None, amount: Decimal) -> Decimal | None:
    """What an amount costs; unknown where a unit's cost is."""
    return None if each is None else rounded(each * amount)


def added(one: Decimal | None, other: Decimal | None) -> Decimal | None:
    """Both together; unknown where one is."""
    return None if one is None or other is None else one + other
