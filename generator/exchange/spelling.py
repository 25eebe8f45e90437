"""Units and prices as people write them over columns: `ltr`, `gr`, `€/L`; a gallon is never guessed."""

from __future__ import annotations

import functools
import re
from collections.abc import Mapping, Sequence

from generator.data import rows
from generator.exchange.mapping import OPEN
from generator.units import units

GALLONS = ("gal", "gals", "gallon", "gallons")
PER = ("volume", "mass", "energy", "distance", "duration")
_CURRENCIES: Mapping[str, tuple[str, ...]] = {
    "€": ("EUR",),
    "£": ("GBP", "EGP", "GIP", "FKP"),
    "$": ("USD", "CAD", "AUD", "NZD", "SGD", "HKD", "MXN"),
}
_CODES = frozenset(code for codes in _CURRENCIES.values() for code in codes)


def unit_in(text: str, kinds: Sequence[str]) -> str:
    """The symbol of a unit that a text names, where it is of these kinds; "?" for a gallon, which can be two."""
    if text.casefold() in GALLONS:
        return OPEN if "volume" in kinds else ""
    plain = _spellings().get(text.casefold().rstrip("."), text)
    for kind in kinds:
        if plain in units(kind):
            return units(kind)[plain].symbol
    found = {
        unit.symbol
        for kind in kinds
        for name, unit in units(kind).items()
        if name.casefold() == plain.casefold()
    }
    return next(iter(found)) if len(found) == 1 else ""


def price_unit(text: str, currency: str) -> str:
    """`€/L` -> `EUR/L`, in the currency of the logbook; "?" where its sign is that of another, nothing for no price."""
    match = re.fullmatch(r"\s*([€£$]|[A-Za-z]{3})\s*(?:(?:/|per )\s*(.+?))?\s*", text)
    if match is None:
        return ""
    sign, per = match[1].upper(), match[2]
    if sign not in _CURRENCIES and sign != currency and not (not currency and sign in _CODES):
        return ""
    unit = unit_in(per, PER) if per else ""
    if per and not unit:
        return ""
    if unit == OPEN or (sign in _CURRENCIES and currency not in _CURRENCIES[sign]):
        return OPEN
    return f"{currency or sign}/{unit}" if unit else currency or sign


def is_unit(text: str, currency: str = "") -> bool:
    """Whether a text is nothing but a unit, in brackets or not."""
    bare = text.strip("()[] ")
    known = bare.casefold() in (*_all_units(), *_spellings(), *GALLONS)
    return known or price_unit(bare, currency) != ""


@functools.cache
def _all_units() -> frozenset[str]:
    return frozenset(name.casefold() for kind in rows("units") for name in units(kind))


@functools.cache
def _spellings() -> Mapping[str, str]:
    table: Mapping[str, str] = rows("headings")["spellings"]
    return table
