"""Overheads: what every litre of finished fuel bears of a cost that no batch has alone.

A litre bears the same share from the first day on, until as many litres as were foreseen have borne it, or until the last day.
So no later batch restates an earlier one; what is left when its time is over stays in no batch's cost, and is told.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from generator.formulas.economics import overhead_cost
from generator.ledger.batch_facts import Facts
from generator.log import Log
from generator.records import Overhead


@dataclass(slots=True)
class Borne:
    """An overhead and what its fuel has borne: litres in all, money by batch; None where the fuel is not known."""

    overhead: Overhead
    litres: float = 0.0
    by_batch: dict[str, float | None] = field(default_factory=dict)

    @property
    def cost(self) -> float:
        """The whole of it."""
        return float(self.overhead.paid.amount)

    @property
    def borne(self) -> float:
        """What the batches have borne of it."""
        return overhead_cost(self.cost, self.litres, self.over_l)

    @property
    def over_l(self) -> float:
        """Fuel that is to bear it in all."""
        return self.overhead.over.value


def borne(log: Log, facts: Mapping[str, Facts]) -> list[Borne]:
    """Lay every overhead on the batches of its time, in their order."""
    found = [Borne(overhead) for overhead in log.settings.overheads]
    for entry in log.batches_in_time() if found else ():
        for one in found:
            since, until = one.overhead.since, one.overhead.until
            left = one.over_l - one.litres
            if entry.record.date < since or (until is not None and entry.record.date > until) or left <= 0:
                continue
            fuel_l = facts[entry.id].fuel_l
            if fuel_l is None:
                one.by_batch[entry.id] = None
                continue
            bearing = min(fuel_l, left)
            one.litres += bearing
            one.by_batch[entry.id] = overhead_cost(one.cost, bearing, one.over_l)
    return found


def borne_by(found: list[Borne], batch: str) -> float | None:
    """What one batch bears of all of them; nothing where none is of its time."""
    shares = [one.by_batch[batch] for one in found if batch in one.by_batch]
    known = [share for share in shares if share is not None]
    return sum(known) if len(known) == len(shares) else None
