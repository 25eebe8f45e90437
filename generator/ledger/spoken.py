"""Amounts as the check tells them: in the units that the logbook shows, or that stand beside them."""

from __future__ import annotations

from decimal import Decimal

from generator.fields import plainly
from generator.log import Log
from generator.units import Unit, convert


def volume(log: Log, litres: float | Decimal) -> str:
    """Litres in the unit that the logbook shows volumes in."""
    symbol = log.settings.display.volume
    shown = convert(float(litres), "volume", symbol)
    return f"{shown:.{0 if symbol == 'L' else 1}f} {symbol}"


def mass(log: Log, kg: float, figures: int = 3) -> str:
    """Kilograms in the unit that the logbook shows masses in, with so many figures."""
    symbol = log.settings.display.mass
    return f"{plainly(convert(kg, 'mass', symbol), figures)} {symbol}"


def bulk(log: Log, *kg_per_l: float) -> str:
    """How heavy a litre lies, one or from one to another: by the US gallon in pounds where the logbook shows both."""
    shown = log.settings.display
    symbol = "lb/US gal" if (shown.volume, shown.mass) == ("US gal", "lb") else "kg/L"
    shares = (convert(each * 1000, "density", symbol) for each in kg_per_l)
    return f"{' to '.join(plainly(each, 2) for each in shares)} {symbol}"


def lengths(low_cm: float, high_cm: float, unit: Unit) -> str:
    """From one length to another in a unit that was written."""
    low, high = (plainly(cm / float(unit.factor), 4) for cm in (low_cm, high_cm))
    return f"{low} to {high} {unit.symbol}"
