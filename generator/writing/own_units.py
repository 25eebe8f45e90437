"""Amounts as this workshop writes them: in the units that it has shown to it, and in its own currency."""

from __future__ import annotations

import re
from decimal import Decimal

from generator.fields import plainly
from generator.records import Workshop
from generator.units import convert

_BASE = {"L": "volume", "kg": "mass", "°C": "temperature"}
_EXAMPLE = re.compile(r"(?:(\d+(?:\.\d+)?) )?(?<![\w/])(L|kg|°C)(?!\w)")


def example(text: str, settings: Workshop) -> str:
    """A text with examples in litres, kilograms, °C and EUR as one in the units and the currency of a workshop, to two figures."""

    def own(found: re.Match[str]) -> str:
        number, symbol = found[1], _symbol(found[2], settings)
        if number is None or symbol == found[2]:
            return found[0].replace(found[2], symbol)
        value = convert(float(number), _BASE[found[2]], symbol)
        return f"{plainly(value, 2)} {symbol}"

    priced = text.replace("EUR/L", f"EUR/{_symbol('L', settings)}").replace("EUR", settings.currency)
    return _EXAMPLE.sub(own, priced)


def amount(value: Decimal, unit: str, settings: Workshop) -> str:
    """An amount in `L` or `kg` with its unit; one more digit where the workshop's unit is larger."""
    symbol = _symbol(unit, settings)
    if symbol == unit:
        return f"{value} {unit}"
    return f"{convert(float(value), _BASE[unit], symbol):.1f} {symbol}"


def measured(value: float, unit: str, digits: int, settings: Workshop) -> str:
    """A reading in `L`, `kg` or `°C` in the workshop's own unit, with so many decimals, and one more where that unit is larger."""
    symbol = _symbol(unit, settings)
    own = convert(value, _BASE[unit], symbol)
    return f"{own:.{digits + (abs(own) < abs(value) / 2)}f} {symbol}"


def _symbol(unit: str, settings: Workshop) -> str:
    shown: str = getattr(settings.display, _BASE[unit])
    return shown
