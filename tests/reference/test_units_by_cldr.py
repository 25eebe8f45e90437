"""The table of units against the conversion factors of the Unicode CLDR, worked out as exact fractions.

Source: Unicode CLDR 48.2, supplemental data, units.json (`convertUnits`, `unitConstants`), as npm package `cldr-core` 48.2.0;
published. It is not part of this project: `npm install --prefix .corpora cldr-core@48.2.0` fetches it; without it this is
skipped, except where CI asks for all. pint (test_units_by_library.py) is the second opinion that is always there.
"""

from __future__ import annotations

import functools
import json
import os
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest

from generator.units import base_symbol, units

FILE = Path(__file__).parents[2] / ".corpora" / "node_modules" / "cldr-core" / "supplemental" / "units.json"
pytestmark = pytest.mark.skipif(
    not FILE.is_file() and not os.environ.get("CI"), reason="the CLDR's units are not installed"
)

# kind -> our symbol -> CLDR's name and the power of ten before it; `/` parts a numerator from a denominator.
NAMES: dict[str, dict[str, tuple[str, int]]] = {
    "volume": {
        "L": ("liter", 0),
        "mL": ("liter", -3),
        "dL": ("liter", -1),
        "cL": ("liter", -2),
        "m³": ("meter*meter*meter", 0),
        "cm³": ("meter*meter*meter", -6),
        "ft³": ("foot*foot*foot", 0),
        "US gal": ("gallon", 0),
        "imp gal": ("gallon-imperial", 0),
        "US qt": ("quart", 0),
        "US fl oz": ("fluid-ounce", 0),
    },
    "mass": {
        "kg": ("kilogram", 0),
        "g": ("gram", 0),
        "mg": ("gram", -3),
        "t": ("tonne", 0),
        "lb": ("pound", 0),
        "oz": ("ounce", 0),
    },
    "temperature": {"°C": ("celsius", 0), "°F": ("fahrenheit", 0), "K": ("kelvin", 0)},
    "pressure": {"kPa": ("pascal", 3), "bar": ("bar", 0), "mbar": ("bar", -3), "Pa": ("pascal", 0)},
    "duration": {"h": ("hour", 0), "min": ("minute", 0), "s": ("second", 0), "d": ("day", 0)},
    "length": {
        "cm": ("meter", -2),
        "mm": ("meter", -3),
        "m": ("meter", 0),
        "in": ("inch", 0),
        "ft": ("foot", 0),
    },
    "distance": {"km": ("meter", 3), "mi": ("mile", 0)},
    "energy": {"MJ": ("joule", 6), "kWh": ("joule*hour/second", 3)},
}
ROWS = [(kind, symbol) for kind, names in NAMES.items() for symbol in names]


@functools.cache
def cldr() -> Any:
    return json.loads(FILE.read_text(encoding="utf-8"))["supplemental"]


def worked_out(text: str) -> Fraction:
    """A factor of the CLDR: products of numbers and constants, all behind `/` in the denominator."""
    above, _, below = text.replace(" ", "").partition("/")
    out = Fraction(1)
    for part, power in [(each, 1) for each in above.split("*")] + [
        (each, -1) for each in below.split("*") if each
    ]:
        constant = cldr()["unitConstants"].get(part)
        out *= (worked_out(constant["_value"]) if constant else Fraction(part)) ** power
    return out


def to_base(name: str, value: Fraction, power: int) -> Fraction:
    """A value in the CLDR's base unit."""
    above, _, below = name.partition("/")
    out, offset = value * Fraction(10) ** power, Fraction(0)
    for part, sign in [(each, 1) for each in above.split("*")] + [
        (each, -1) for each in below.split("*") if each
    ]:
        row = cldr()["convertUnits"][part]
        out *= worked_out(row.get("_factor", "1")) ** sign
        offset += worked_out(row.get("_offset", "0"))
    return out + offset


@pytest.mark.parametrize(("kind", "symbol"), ROWS)
@pytest.mark.parametrize("value", [Fraction(0), Fraction(1), Fraction(-40), Fraction("98.6")])
def test_row_agrees_with_the_cldr(kind: str, symbol: str, value: Fraction) -> None:
    """Exact but for factors that have no end, which stand with 28 digits; NIST Handbook 44 and SI brochure behind both."""
    ours = units(kind)[symbol]
    found = value * Fraction(ours.factor) + Fraction(ours.offset)
    base = base_symbol(kind)
    name, power = NAMES[kind][base]
    zero = to_base(name, Fraction(0), power)
    one = to_base(name, Fraction(1), power) - zero
    wanted = (to_base(NAMES[kind][symbol][0], value, NAMES[kind][symbol][1]) - zero) / one
    assert abs(found - wanted) <= abs(wanted) * Fraction(1, 10**24) + Fraction(1, 10**24)


def test_a_wrong_factor_would_be_seen() -> None:
    gallon, imperial = (to_base(name, Fraction(1), 0) for name in ("gallon", "gallon-imperial"))
    assert gallon * 1000 == Fraction("3.785411784")
    assert imperial * 1000 == Fraction("4.54609")
