"""Fuel that stands in tanks, batch by batch, first in, first out: how old it is.

A tank mixes, so some of what it holds is older; what is counted here is the youngest that its content can be.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from generator.ledger.tanks import TankBook

DREGS_L = Decimal(1)  # less is no fuel that anybody tests


@dataclass(frozen=True, slots=True)
class Stored:
    """Part of a batch that stands in a tank: litres at the reference temperature, and the day it was filled in."""

    tank: str
    batch: str
    filled: date
    litres: Decimal


def stored(books: Mapping[str, TankBook]) -> list[Stored]:
    """What stands in every tank, the oldest first; fuel from elsewhere than a batch is left out."""
    return [part for book in books.values() for part in _in(book)]


def _in(book: TankBook) -> list[Stored]:
    left, out = book.content, []
    for move in reversed(book.movements):
        if left <= DREGS_L:
            break
        if move.event == "fill":
            taken = min(left, move.litres)
            left -= taken
            if move.batch and taken > DREGS_L:
                out.append(Stored(book.tank, move.batch, move.moment.date(), taken))
    return out[::-1]
