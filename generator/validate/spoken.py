"""Amounts as the check tells them: in the units that the logbook shows, or that stand beside them."""

from __future__ import annotations

from decimal import Decimal

from generator.log import Log
from generator.units import Unit, convert


def volume(log: Log, litres: float | Decimal) -> str:
    """Litres in the unit that the logbook shows volumes in."""
    symbol = log.settings.display.volume
    shown = convert(float(litres), "volume", symbol)
    return f"{shown:.{0 if symbol == 'L' else 1}f} {symbol}"


def lengths(low_cm: float, high_cm: float, unit: Unit) -> str:
    """From one length to another in a unit that was written."""
    low, high = (f"{cm / float(unit.factor):.4g}" for cm in (low_cm, high_cm))
    return f"{low} to {high} {unit.symbol}"
