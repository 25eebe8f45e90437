"""Pieces of a weigh sheet: rows, sections, and amounts as a scale or a mark shows them."""

from __future__ import annotations

from dataclasses import dataclass

from generator.ledger.readings import plain
from generator.ledger.sheet import ToWeigh
from generator.pages.words import Shown, unknown, with_unit


@dataclass(frozen=True, slots=True)
class Row:
    """One line: what, how much, what to know about it, the entry of the methods page that says how it is made.

    `tick` where it is to be ticked off, `strong` where it is weighed.
    """

    label: str
    amount: str
    detail: str = ""
    method: str = ""
    tick: bool = False
    strong: bool = False


@dataclass(frozen=True, slots=True)
class Section:
    """A part of the sheet under its heading."""

    title: str
    rows: tuple[Row, ...]
    notes: tuple[str, ...]


def grams(view: Shown, value: float | None, figures: int = 3) -> str:
    """A mass on the scale."""
    return view.weighed(_amount(value), figures=figures)


def kilograms(view: Shown, value: float | None) -> str:
    """A larger mass in the display unit."""
    return view.mass(_amount(value), figures=3)


def litres(view: Shown, value: float | None) -> str:
    """A volume in the display unit."""
    return view.volume(_amount(value), 1, figures=3)


def _amount(value: float | None) -> float | None:
    """The number alone. One below zero is no amount: the check tells why, and the sheet has nothing to weigh."""
    return None if value is None or plain(value) < 0 else plain(value)


def pct(value: float | None, digits: int = 0) -> str:
    """A share."""
    return unknown() if value is None else with_unit(plain(value), "%", digits)


def of_lot(item: ToWeigh, lot: str) -> str:
    """A lot with the name of its material."""
    name = item.names.get(lot, "")
    return f"{lot} ({name})" if name else lot
