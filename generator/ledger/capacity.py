"""How much soap a charge can take up: learnt from this workshop's own finished charges, or by the medium's row.

Only a charge that was spent shows a capacity. One that was changed early shows that its medium takes up at least so much.
Under three spent charges nothing is learnt, and the row's figure stands, with what it says of how sure it is.
"""

from __future__ import annotations

from dataclasses import dataclass
from statistics import median

from generator.ledger.charges import Charge, Life
from generator.ledger.interval import Range
from generator.ledger.passes import Columns

LEAST_LIVES = 3


@dataclass(frozen=True, slots=True)
class Capacity:
    """What one charge can take up, g; `lives` are the spent charges it was learnt from, 0 where the row was taken.

    `at_least_g` is the most that a charge of this medium took up, scaled to this one, where that lies above the rest.
    """

    grams: Range
    lives: int
    at_least_g: float | None
    confidence: str | None


@dataclass(frozen=True, slots=True)
class Record:
    """What finished charges of a medium took up, g per kg of medium or per L of bed: spent, and changed early."""

    spent: tuple[float, ...]
    early: tuple[float, ...]

    @property
    def most(self) -> float | None:
        """The most that any of them took up."""
        return max((*self.spent, *self.early), default=None)


def records(columns: Columns) -> dict[str, Record]:
    """The finished lives of every medium, in the order of their ends; a life of unknown load tells nothing."""
    found: dict[str, list[tuple[Life, float]]] = {}
    for charge in columns.charges:
        for life in charge.lives:
            if life.estimate_g:
                per_unit = life.estimate_g / charge.amount_of_medium("soap")
                found.setdefault(charge.pack.medium, []).append((life, per_unit))
    out = {}
    for medium, lives in found.items():
        ordered = sorted(lives, key=lambda pair: (pair[0].ended, pair[0].charge))
        out[medium] = Record(
            spent=tuple(per_unit for life, per_unit in ordered if life.spent),
            early=tuple(per_unit for life, per_unit in ordered if not life.spent),
        )
    return out


def capacities(columns: Columns) -> dict[str, Capacity | None]:
    """The capacity of every charge for soap, by id; None where neither the workshop nor the row knows one."""
    own = records(columns)
    return {
        charge.id: capacity_of(charge, own.get(charge.pack.medium, Record((), ())))
        for charge in columns.charges
    }


def capacity_of(charge: Charge, own: Record) -> Capacity | None:
    """The capacity of one charge for soap, from its medium's record."""
    amount, row = charge.amount_of_medium("soap"), charge.ledger("soap")
    most = own.most * amount if own.most is not None else None
    if len(own.spent) >= LEAST_LIVES:
        low, middle, high = min(own.spent), median(own.spent), max(own.spent)
        learnt = Range(low * amount, middle * amount, high * amount)
        return Capacity(learnt, len(own.spent), _beyond(most, learnt.high), None)
    grams = charge.capacity_g("soap")
    if grams is None:
        return None
    confidence = row.confidence if row is not None else None
    return Capacity(Range(grams, grams, grams), 0, _beyond(most, grams), confidence)


def _beyond(most_g: float | None, high_g: float) -> float | None:
    return most_g if most_g is not None and most_g > high_g else None
