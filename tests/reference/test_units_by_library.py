"""Every row of the table of units against pint, and the exact figures of the handbooks."""

from __future__ import annotations

from decimal import Decimal

import pint
import pytest

from generator.data import rows
from generator.units import quantity, units

from .case import Case, each

HANDBOOK = ("NIST Handbook 44", "appendix C")

# Symbol -> how pint writes it, where the two differ. `%` and plain ratios follow below.
AS_PINT = {
    "m³": "m**3",
    "cm³": "cm**3",
    "ft³": "foot**3",
    "US gal": "US_liquid_gallon",
    "imp gal": "imperial_gallon",
    "US qt": "US_liquid_quart",
    "US fl oz": "US_fluid_ounce",
    "t": "metric_ton",
    "°C": "degC",
    "°F": "degF",
    "in": "inch",
    "ft": "foot",
    "d": "day",
    "mi": "mile",
    "N": "mol/L",
    "oz/US gal": "oz/US_liquid_gallon",
    "lb/US gal": "lb/US_liquid_gallon",
    "kg/m³": "kg/m**3",
    "mm²/s": "mm**2/s",
    "mg/kg": "mg/kg",
    "ppm": "mg/kg",
    "g/kg": "g/kg",
    "% vol": "percent",
}
# Kinds whose unit is a convention pint cannot know, or a percentage of what the kind says.
CONVENTIONS = {
    "acid value",
    "saponification value",
    "iodine value",
    "cetane number",
    "free fatty acid",
    "plain number",
}
ROWS = [
    (kind, symbol)
    for kind, table in rows("units").items()
    if kind not in CONVENTIONS
    for symbol in table["units"]
]
REGISTRY: pint.UnitRegistry[float] = pint.UnitRegistry(autoconvert_offset_to_baseunit=True)


def litres(text: str) -> float:
    return quantity(text, ("volume",)).value


def value(text: str, kind: str) -> float:
    return quantity(text, (kind,)).value


def _case(name: str, text: str, kind: str, expected: float, confidence: str) -> Case:
    inputs = {"text": text, "kind": kind}
    return Case(name, value, inputs, expected, abs(expected) * 1e-12, "F", *HANDBOOK, confidence)


CASES = [
    _case("U1 US gallon", "1 US gal", "volume", 3.785411784, "published"),
    _case("U1 imperial gallon", "1 imp gal", "volume", 4.54609, "published"),
    _case("U2 pound", "1 lb", "mass", 0.45359237, "published"),
    _case("U2 inch", "1 in", "length", 2.54, "published"),
    _case("U3 cubic foot", "1 ft³", "volume", 28.316846592, "derived"),
    _case("U4 psi", "1 psi", "pressure", 6.894757293168361, "derived"),
    _case("U5 pound per gallon", "1 lb/US gal", "density", 119.82642731689663, "derived"),
    _case("U7 cSt", "4.5 cSt", "viscosity", 4.5, "derived"),
    Case(
        "U7 60 °F", value, {"text": "60 °F", "kind": "temperature"}, 15.5556, 1e-4, "R", *HANDBOOK, "derived"
    ),
]


@each(CASES)
def test_unit(case: Case) -> None:
    case.check()


@pytest.mark.parametrize(("kind", "symbol"), ROWS)
def test_row_agrees_with_the_library(kind: str, symbol: str) -> None:
    """Relative 1e-12: libraries carry the gallon as 3.785411783999999 (library, pint)."""
    base = rows("units")[kind]["base"]
    # mass % is 10 g/kg where the base is mg/kg, and one of a hundred where it is %
    theirs, their_base = (AS_PINT.get(s, "percent" if s == "%" else s) for s in (symbol, base))
    written = REGISTRY.Quantity(12.5, theirs)
    assert quantity(f"12.5 {symbol}", (kind,)).value == pytest.approx(
        written.to(their_base).magnitude, rel=1e-12
    )


def test_exact_values_carry_no_float() -> None:
    assert quantity("3 US gal", ("volume",)).exact == Decimal("11.356235352")


def test_sixty_fahrenheit_is_not_fifteen_celsius() -> None:
    """Trap 5: 0.5556 K, which is 0.41 kg/m³ at 880 kg/m³."""
    assert value("60 °F", "temperature") - value("15 °C", "temperature") == pytest.approx(0.5556, abs=1e-4)


def test_no_alias_stands_for_two_units_of_a_kind() -> None:
    for kind, table in rows("units").items():
        names = [name for symbol, row in table["units"].items() for name in (symbol, *row.get("aliases", ()))]
        assert len(names) == len(set(names)), kind
        assert set(names) == set(units(kind))
