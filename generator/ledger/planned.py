"""What a planned batch takes of every lot, for the check of stock."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal

from generator.ledger.basis import exact_amount
from generator.ledger.dose import Dose
from generator.ledger.parts import Part
from generator.ledger.readings import plain
from generator.log import Entry, Log
from generator.records import Batch
from generator.units import to_exact


@dataclass(frozen=True, slots=True)
class Need:
    """An amount of one lot, by mass and by volume where that is known, and where the plan names the lot."""

    lot: str
    path: tuple[str | int, ...]
    kg: Decimal | None
    litres: Decimal | None

    def amount_in(self, unit: str) -> Decimal | None:
        """The amount in the unit a lot is kept in."""
        return self.kg if unit == "kg" else self.litres


def needs(log: Log, entry: Entry[Batch], dose: Dose) -> Iterator[Need]:
    """Oil, catalyst, methanol and acid of a planned batch, one need a lot; what is not known is left out."""
    found: dict[str, Need] = {}
    for need in _each(log, entry, dose):
        first = found.get(need.lot)
        found[need.lot] = (
            need
            if first is None
            else Need(need.lot, first.path, _sum(first.kg, need.kg), _sum(first.litres, need.litres))
        )
    yield from found.values()


def _sum(one: Decimal | None, other: Decimal | None) -> Decimal | None:
    return None if one is None or other is None else one + other


def _each(log: Log, entry: Entry[Batch], dose: Dose) -> Iterator[Need]:
    batch = entry.record
    for number, use in enumerate(batch.oil):
        kg, litres = (exact_amount(log, use.amount, use.lot, unit) for unit in ("kg", "L"))
        yield Need(use.lot, ("oil", number, "lot"), kg, litres)
    plan, before = batch.plan, dose.pretreatment
    if plan is None:
        return
    if dose.base is not None and dose.base.total_g is not None:
        grams = to_exact(plain(dose.base.total_g))
        yield Need(plan.catalyst, ("plan", "catalyst"), grams / 1000, None)
    paths = {item.lot: ("plan", "methanol", number) for number, item in enumerate(plan.methanol)}
    for part in dose.methanol.parts or ():
        yield _need(part, paths[part.lot])
    if before is None:
        return
    done = batch.pretreatment is not None
    for part in before.methanol or ():
        yield _need(part, ("pretreatment", "methanol") if done else paths.get(part.lot, ("plan",)))
    for part in before.acid or ():
        yield _need(part, ("pretreatment", "acid") if done else ("plan", "pretreatment", "acid"))


def _need(part: Part, path: tuple[str | int, ...]) -> Need:
    litres = to_exact(plain(part.litres)) if part.litres is not None else None
    return Need(part.lot, path, to_exact(plain(part.kg)), litres)
