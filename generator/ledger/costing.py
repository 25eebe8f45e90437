"""What was drawn cost by the method chosen for its material: the lot that was named, first in first out, a moving average.

The lot that a batch names says which stuff it is, for tracing; the method says what it cost. A pool is all lots of one
material kept in one unit. A bought lot comes in as what was left of it for use, at all that was paid, so that a loss in
preparation makes the rest dearer; what a count finds missing is a loss of its own, and what went back to the seller leaves at
what its own lot cost, whatever was paid back. A vat is a pool of its own: what is poured into it brings the cost it had by the
method of its material, and what is drawn from it costs the mean of what is in it on that day, whatever method was chosen. What
came in is what was used, was poured into vats, went back, was lost and is left, to the last digit.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from functools import cached_property
from typing import NamedTuple

from generator.ledger.pool import AVERAGE, NAMED, Pool, times, unit_left
from generator.ledger.stock import ORDER, ZERO, Account, Line, counted
from generator.log import Log
from generator.records import Costing, Use

OnWay = dict[tuple[str, str], deque[Decimal | None]]  # from a lot to a vat: what each amount cost, in order


class Held(NamedTuple):
    """What a pool holds: all of a material that is kept in one unit, or what is in one vat."""

    material: str
    unit: str
    vat: str = ""


@dataclass(frozen=True, slots=True)
class Worth:
    """What a unit of a lot is worth by itself, and all of it as it came in: its cost, or something else that moves with it."""

    each: Mapping[str, Decimal | None]
    whole: Callable[[str, Decimal], Decimal | None]


def by_amount(each: Mapping[str, Decimal | None]) -> Worth:
    """What is known by the unit alone, and mixes by amount."""
    return Worth(each, lambda lot, amount: times(each.get(lot), amount))


class Inventory:
    """What every draw cost, or brought of something else; the pools are folded when one is first asked for."""

    def __init__(self, log: Log, accounts: Mapping[str, Account], worth: Worth) -> None:
        """Keep the accounts, and what a lot is worth by itself."""
        self.log, self.accounts, self.worth = log, accounts, worth
        self.methods: dict[str, list[Costing]] = {}
        for chosen in sorted(log.settings.costing, key=lambda one: one.since):
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
        if entry is None or (not entry.record.vat and all(day < method.since for method in methods)):
            return self.worth.each.get(lot)
        drawn = self.pools[self._held(lot)].draws.get((lot, day, by))
        if drawn is None or drawn.cost is None:
            return None
        return drawn.cost / drawn.amount if drawn.amount else self.worth.each.get(lot)

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
    def pools(self) -> dict[Held, Pool]:
        """All pools, folded to the end of the log."""
        pools = {
            key: Pool(
                *key,
                method=AVERAGE if key.vat else NAMED,
                each={lot: self.worth.each.get(lot) for lot in lots},
            )
            for key, lots in sorted(self._lots().items())
        }
        changes = {key: deque([] if key.vat else self.methods.get(key.material, [])) for key in pools}
        on_way: OnWay = {}
        lines = [(line, lot) for lot, account in self.accounts.items() for line in account.lines]
        for line, lot in sorted(lines, key=lambda each: _when(*each)):
            key = self._held(lot)
            while changes[key] and changes[key][0].since <= line.day:
                chosen = changes[key].popleft()
                pools[key].change(chosen.method, chosen.since)
            self._move(pools[key], lot, line, on_way)
        for key, later in changes.items():  # nothing has moved since
            for chosen in later:
                pools[key].change(chosen.method, chosen.since)
        return pools

    def means(self) -> dict[Held, Decimal | None]:
        """The mean of what is left in every pool, weighted by amount; None where a part is unknown, or nothing is left.

        Lots of one material have one density, so that litres weigh as kilograms do.
        """
        return {key: unit_left(pool.left) for key, pool in self.pools.items()}

    def _held(self, lot: str) -> Held:
        record = self.log.lots[lot].record
        return Held(record.material, self.accounts[lot].unit, lot if record.vat else "")

    def _lots(self) -> dict[Held, list[str]]:
        found: dict[Held, list[str]] = {}
        for lot in sorted(self.accounts):
            found.setdefault(self._held(lot), []).append(lot)
        return found

    def _move(self, pool: Pool, lot: str, line: Line, on_way: OnWay) -> None:
        """Fold one line; `on_way` holds what was poured out of a lot until its vat takes it in."""
        account, what, record = self.accounts[lot], line.what, self.log.lots[lot].record
        if what == "received":
            if account.usable > 0:
                pool.come(lot, account.usable, self.worth.whole(lot, account.usable))
        elif what == "recovered":
            pool.come(lot, line.amount, times(pool.each.get(lot), line.amount))
        elif what == "poured":
            on_way.setdefault((lot, line.by), deque()).append(pool.pour(lot, line.amount))
        elif what == "filled":
            poured = on_way.get((line.by, lot))
            pool.come(lot, line.amount, poured.popleft() if poured else None)
            pool.each[lot] = unit_left(pool.left)
        elif what == "drawn":
            pool.draw(lot, line.amount, (lot, line.day, line.by))
        elif what == "returned":
            pool.give_back(lot, line.amount)
        elif what == "counted" and line.amount > 0:
            pool.find(lot, line.amount)
        elif what == "counted" or record.recovered or record.vat:
            missing = abs(line.amount)
            pool.lost.add(missing, pool.take(lot, missing))


def whole_lots(costs: Mapping[str, Decimal | None], each: Mapping[str, Decimal | None]) -> Worth:
    """What whole lots cost, and what a unit of them does."""
    return Worth(each, lambda lot, _: costs.get(lot))


def _when(line: Line, lot: str) -> tuple[object, ...]:
    return line.day, ORDER[line.what], line.by, lot
