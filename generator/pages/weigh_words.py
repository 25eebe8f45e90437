"""Pieces of a weigh sheet: rows, sections, and amounts as a scale or a mark shows them."""

from __future__ import annotations

from dataclasses import dataclass

from generator.ledger.readings import plain
from generator.ledger.sheet import ToWeigh
from generator.pages.words import UNKNOWN, Shown, with_unit


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


def _digits(value: float) -> int:
    """Decimals that keep three figures at least, and no fraction of a thousand."""
    size = abs(value)
    return 0 if size >= 100 or size == 0 else 1 if size >= 10 else 2 if size >= 1 else 3


def grams(view: Shown, value: float | None) -> str:
    """A mass on the small scale: grams, or the display unit where that is not metric."""
    if value is None:
        return UNKNOWN
    if view.display["mass"] in ("kg", "g"):
        return with_unit(plain(value), "g", max(_digits(plain(value)) - 1, 0))
    shown = view.mass_number(plain(value) / 1000)
    assert shown is not None
    return with_unit(shown, view.display["mass"], max(_digits(shown), 2))


def kilograms(view: Shown, value: float | None) -> str:
    """A larger mass in the display unit."""
    shown = None if value is None else view.mass_number(plain(value))
    return UNKNOWN if shown is None else with_unit(shown, view.display["mass"], max(_digits(shown), 1))


def litres(view: Shown, value: float | None) -> str:
    """A volume in the display unit."""
    shown = None if value is None else view.volume_number(plain(value))
    return UNKNOWN if shown is None else with_unit(shown, view.display["volume"], max(_digits(shown), 1))


def pct(value: float | None, digits: int = 0) -> str:
    """A share."""
    return UNKNOWN if value is None else with_unit(plain(value), "%", digits)


def of_lot(item: ToWeigh, lot: str) -> str:
    """A lot with the name of its material."""
    name = item.names.get(lot, "")
    return f"{lot} ({name})" if name else lot
