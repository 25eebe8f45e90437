"""From `12.5 mL at 20 °C` to a quantity, and back to text in the units a logbook displays.

A closed table (`data/units.yaml`) and one regular expression: nothing is evaluated, nothing is guessed. A number is
written plainly, with a decimal point, without exponent, thousands mark or leading zero.
"""

from __future__ import annotations

import functools
import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal

from generator.data import rows
from generator.mending import with_point, written_anew
from generator.problems import did_you_mean

NUMBER = re.compile(r"[-+]?(?:0|[1-9][0-9]*)(?:\.[0-9]+)?", re.ASCII)
_QUANTITY = re.compile(
    r"(?P<sign>[<>]?)\s*(?P<number>[-+]?[0-9.,_'eE+-]*[0-9])\s*(?P<unit>.*)", re.ASCII | re.DOTALL
)
MAX_DIGITS = 15
GALLON_OF = {"US": "US gal", "imperial": "imp gal"}  # what a bare gallon is, by the setting of the logbook
LONGEST = 80
COLDEST_C, HOTTEST_C = -60.0, 250.0


class NotAQuantity(ValueError):
    """Text that is not the quantity wanted: with the code of the problem, what was found, what to write."""

    def __init__(self, code: str, message: str, hint: str = "") -> None:
        """Keep code, message and hint apart, so that the caller can place them."""
        super().__init__(message)
        self.code, self.message, self.hint = code, message, hint


@dataclass(frozen=True, slots=True)
class Unit:
    """A unit of one kind: value in the kind's base unit = number x factor + offset."""

    symbol: str
    kind: str
    factor: Decimal
    offset: Decimal


@dataclass(frozen=True, slots=True)
class Quantity:
    """A value as read at the bench: number and unit as written, `<` or `>` where so, a temperature where given."""

    text: str
    number: Decimal
    unit: Unit
    sign: str = ""
    at_c: float | None = None
    # the value in the base unit of its kind: exact for stock and money, a float for formulas
    exact: Decimal = field(init=False, repr=False, compare=False)
    value: float = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        """Convert once: a quantity is asked for its value many times."""
        object.__setattr__(self, "exact", self.number * self.unit.factor + self.unit.offset)
        object.__setattr__(self, "value", float(self.exact))

    @property
    def kind(self) -> str:
        """What is measured: `volume`, `mass`, `temperature` ..."""
        return self.unit.kind


@dataclass(frozen=True, slots=True)
class Price:
    """An amount of money, either a total or per unit of volume, mass, energy, distance or time.

    `rated` is the day of the rate at which it was carried from the currency that is written.
    """

    text: str
    amount: Decimal
    currency: str
    per: Unit | None
    rated: date | None = None

    @property
    def is_total(self) -> bool:
        """Whether the amount is for the whole, not per unit."""
        return self.per is None


@functools.cache
def units(kind: str) -> Mapping[str, Unit]:
    """All units of a kind, by symbol and by alias.

    Raises KeyError for a kind that is not in the table: a mistake in the program, not in a logbook.
    """
    out: dict[str, Unit] = {}
    for symbol, row in rows_of(kind)["units"].items():
        unit = Unit(symbol, kind, Decimal(row["factor"]), Decimal(row.get("offset", "0")))
        out |= dict.fromkeys([symbol, *row.get("aliases", ())], unit)
    return out


@functools.cache
def _table() -> Mapping[str, Mapping[str, Mapping[str, Mapping[str, str]]]]:
    table: Mapping[str, Mapping[str, Mapping[str, Mapping[str, str]]]] = rows("units")
    return table


def rows_of(kind: str) -> Mapping[str, Mapping[str, Mapping[str, str]]]:
    """The rows of one kind, as they stand in the table."""
    return _table()[kind]


@functools.cache
def base_symbol(kind: str) -> str:
    """The base unit of a kind: every value inside the program is in it."""
    return str(rows_of(kind)["base"])


def symbols(kind: str) -> list[str]:
    """The symbols of a kind, without aliases, in the order of the table."""
    return list(rows_of(kind)["units"])


@functools.lru_cache(maxsize=65536)
def quantity(text: str, kinds: tuple[str, ...], gallon: str = "none", usual: str = "") -> Quantity:
    """Read a quantity of one of the kinds, such as `190 L at 22 °C` or `< 50 mg/kg`.

    `gallon` says what a bare `gal` means: `US`, `imperial`, or `none`, which refuses it; `usual` is the unit that a
    hint names first. Raises NotAQuantity with the code `quantity-unit`, `quantity-number`, `quantity-kind`, `quantity-gallon`.
    """
    if len(text) > LONGEST:
        raise NotAQuantity(
            "quantity-number",
            f"'{text[:40]} ...' is too long for a number with a unit",
            _like(_names(kinds, usual)),
        )
    body, _, at = text.strip().partition(" at ")
    at_c = _at_c(at, text) if at else None
    match = _QUANTITY.fullmatch(body.strip())
    names = _names(kinds, usual)
    if match is None:
        raise NotAQuantity("quantity-number", f"'{text}' is not a number with a unit", _like(names))
    number = decimal(match["number"], text)
    symbol = " ".join(match["unit"].split())
    if not symbol:
        raise NotAQuantity(
            "quantity-unit", f"'{text}' has no unit", f"write {_choices(match['number'], names)}"
        )
    unit = _unit(symbol, kinds, gallon, text, names)
    if at and unit.kind not in ("volume", "density"):
        raise NotAQuantity(
            "quantity-kind",
            f"'{text}': only a volume or a density is given at a temperature",
            "drop the part from 'at' on",
        )
    return Quantity(text.strip(), number, unit, match["sign"], at_c)


def _at_c(at: str, whole: str) -> float:
    if " at " in at:
        raise NotAQuantity("quantity-number", f"'{whole}' has two temperatures", "write one")
    temperature = quantity(at, ("temperature",))
    if not COLDEST_C <= temperature.value <= HOTTEST_C:
        raise NotAQuantity(
            "out-of-range",
            f"'{whole}': nothing here is that cold or hot",
            "check the temperature and its unit",
        )
    if temperature.sign:
        raise NotAQuantity(
            "quantity-number",
            f"'{whole}': the temperature of a volume has no < or >",
            "write the temperature that was read",
        )
    return temperature.value


def decimal(text: str, whole: str = "") -> Decimal:
    """Read a plain decimal number.

    Raises NotAQuantity (`quantity-number`) for a decimal comma, an exponent, a leading zero, a thousands mark.
    """
    whole = whole or text
    if "," in text:
        raise NotAQuantity("decimal-comma", f"'{whole}' has a comma in its number", with_point(whole))
    if NUMBER.fullmatch(text) is None:
        anew = written_anew("quantity-number", whole)
        hint = "write digits with a decimal point, no exponent, no leading zero, no thousands mark"
        told = f"'{whole}' is not a plainly written number"
        raise NotAQuantity("quantity-number", told, f"write {anew}" if anew else hint)
    if sum(c.isdigit() for c in text) > MAX_DIGITS:
        told = f"'{whole[:40]}' has more than {MAX_DIGITS} digits"
        raise NotAQuantity("quantity-number", told, "write the digits that were read")
    return Decimal(text)


@functools.lru_cache(maxsize=16384)
def price(text: str, gallon: str = "none", own: str = "") -> Price:
    """Read a price such as `0.38 EUR/L`, `12.00 EUR` or `3.10 USD/US gal`; examples in a refusal are in the `own` currency.

    Raises NotAQuantity with `price-currency`, `quantity-unit`, `quantity-number`.
    """
    like = f"write it like 0.38 {own or 'EUR'}/L, or 12.00 {own or 'EUR'} for the whole"
    if len(text) > LONGEST:
        raise NotAQuantity("quantity-number", f"'{text[:40]} ...' is too long for a price", like)
    match = re.fullmatch(
        r"(?P<number>[-+]?[0-9.,_'eE+-]*[0-9])\s*(?P<currency>[A-Za-z€$£]*)\s*(?P<per>/\s*.+)?",
        re.sub(r"^([€$£])\s*([0-9.,]+)", r"\2 \1", text.strip()),  # a sign before it is none behind it either
        re.ASCII | re.DOTALL,
    )
    if match is None:
        raise NotAQuantity("quantity-number", f"'{text}' is not a price", like)
    amount = decimal(match["number"], text)
    currency = match["currency"]
    if re.fullmatch(r"[A-Z]{3}", currency) is None:
        anew = written_anew("price-currency", match[0])
        mine = {"D": "$", "P": "£"}.get(own[2:])  # a dollar or a pound is the workshop's own
        if own and currency in ("", mine):
            anew = f"{match['number']} {own}{match['per'] or ''}"
        if anew and not match["per"]:
            anew = f"{anew} for the whole, or {anew}/L"
        told = f"'{text}' names no currency by its three letters"
        raise NotAQuantity("price-currency", told, f"write {anew}" if anew else like)
    per = match["per"]
    kinds = ("volume", "mass", "energy", "distance", "duration")
    unit = _unit(" ".join(per[1:].split()), kinds, gallon, text, _names(kinds, "")) if per else None
    return Price(text.strip(), amount, currency, unit)


def _unit(symbol: str, kinds: tuple[str, ...], gallon: str, text: str, names: list[str]) -> Unit:
    """Find the unit of one of the kinds, or say what is wrong with it."""
    if symbol.casefold() in ("gal", "gallon", "gallons") and "volume" in kinds:
        if gallon == "none":
            raise NotAQuantity(
                "quantity-gallon",
                f"'{text}' does not say which gallon",
                "write US gal or imp gal, or set 'gallon' in logbook.yaml",
            )
        symbol = GALLON_OF[gallon]
    for kind in kinds:
        if symbol in units(kind):
            return units(kind)[symbol]
    for kind in _table():
        if symbol in units(kind):
            wanted = " or ".join(dict.fromkeys(kinds))
            raise NotAQuantity(
                "quantity-kind",
                f"'{text}' is {_with_article(kind)}, and {_with_article(wanted)} is wanted here",
                f"write it in {_few(names, kinds, 4)}",
            )
    known = [name for kind in kinds for name in units(kind)]
    hint = did_you_mean(symbol, known)
    raise NotAQuantity(
        "quantity-unit",
        f"'{symbol}' in '{text}' is not a unit known here",
        hint or f"write it in {_few(names, kinds, 8)}",
    )


def _with_article(kind: str) -> str:
    return f"{'an' if kind[0] in 'aei' else 'a'} {kind}"


def _names(kinds: tuple[str, ...], usual: str) -> list[str]:
    """The symbols that a hint may name, the usual one first."""
    names = list(dict.fromkeys(name for kind in kinds for name in symbols(kind)))
    return [usual, *(name for name in names if name != usual)] if usual else names


def _few(names: list[str], kinds: tuple[str, ...], most: int) -> str:
    """Some of the symbols that a hint may name, as many of each kind."""
    each = max(most // len(kinds), 1)
    return ", ".join(name for kind in kinds for name in [one for one in names if one in units(kind)][:each])


def _choices(number: str, names: list[str]) -> str:
    if names[0] == "%" and 0 < Decimal(number) <= 1:  # a fraction: 0.90 is 90 %
        hundredfold = f"{Decimal(number) * 100:f}"
        return f"{hundredfold.rstrip('0').rstrip('.') if '.' in hundredfold else hundredfold} %, or {number} % if so little is meant"
    picks = [names[0], "US gal"] if names[0] == "L" else names[:1] if names[0] == "mL" else names[:2]
    return " or ".join(f"{number} {name}" for name in picks)


def _like(names: list[str]) -> str:
    more = " or 150 min" if names[0] == "h" else ""
    return f"write it like 2.5 {names[0]}{more}" if names else "write it like 2.5"


def convert(value: float, kind: str, symbol: str) -> float:
    """Carry a value from the base unit of its kind to another unit of that kind."""
    unit = units(kind)[symbol]
    return (value - float(unit.offset)) / float(unit.factor)


def to_exact(value: float, places: int = 9) -> Decimal:
    """Cross from formulas to stock and money: the one place where a float becomes a Decimal."""
    return Decimal(repr(round(value, places)))
