"""Locales by name, and how each writes numbers, money and days: what CLDR says, read through Babel.

The signs of plain English stand here as constants that a test holds against Babel, so that an English site loads nothing for them; nor does a check
of any logbook.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import cache
from importlib.util import find_spec
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from babel import Locale

_NAME = re.compile(r"[a-z]{2,3}(?:-[A-Z][a-z]{3})?(?:-(?:[A-Z]{2}|[0-9]{3}))?(?:-[A-Z]{5,8})?", re.ASCII)
_IN_PATTERN = re.compile(r"'([^']*)'|(d+)|([ML]{3,})|([ML]+)|(.)", re.DOTALL)
# of these nothing needs to be loaded; CLDR has 2 for most, and for those that people write in a logbook
_OF_TWO_DECIMALS = frozenset(("EUR", "USD", "GBP", "CHF", "CAD", "AUD", "NZD", "SEK", "NOK", "DKK", "INR"))


@dataclass(frozen=True, slots=True)
class Signs:
    """How numbers are written: decimals, thousands, how many digits stand in each group from the right, where the code of a currency stands.

    `day` is a day of a month as charts write it, in the places of their axes; its words are of the language.
    """

    decimal: str = "."
    group: str = ","
    grouping: tuple[int, ...] = (3,)
    money_first: bool = True
    day: str = "%-d %B"


ENGLISH_SIGNS = Signs()  # of plain English; the day before its month, as everywhere but in the United States


def is_locale(name: str) -> bool:
    """Whether CLDR has a locale of this name, such as de-CH, letter by letter; Babel itself is not loaded."""
    return _NAME.fullmatch(name) is not None and name in locales()


@cache
def locales() -> frozenset[str]:
    """The names of all locales, with hyphens."""
    babel = find_spec("babel")
    assert babel is not None and babel.origin is not None
    places = Path(babel.origin).with_name("locale-data").glob("*.dat")
    return frozenset(path.stem.replace("_", "-") for path in places) - {"root"}


def meant_by(text: str) -> str:
    """The locale that is meant by a name as systems write one, such as de_CH.UTF-8; "" where there is none."""
    name = text.partition(".")[0].replace("_", "-").casefold()
    return next((found for found in locales() if found.casefold() == name), "")


@cache
def signs(locale: str) -> Signs:
    """How a locale writes numbers; an error of Babel for one that there is not."""
    if locale == "en":
        return ENGLISH_SIGNS
    found = _loaded(locale)
    symbols, pattern = found.number_symbols["latn"], found.decimal_formats[None]
    first, then = pattern.grouping
    money = found.currency_formats["standard"].pattern.partition(";")[0]
    return Signs(
        symbols["decimal"],
        symbols["group"],
        (first,) if first == then else (first, then),
        money.index("¤") < money.index("0"),
        _day(str(found.datetime_skeletons["MMMMd"].pattern)),
    )


def months(locale: str) -> tuple[str, ...]:
    """The names of the months as they stand alone."""
    named = _loaded(locale).months["stand-alone"]["wide"]
    return tuple(str(named[month]) for month in range(1, 13))


@cache
def money_decimals(currency: str) -> int:
    """With how many decimals an amount of a currency is written; 2 for a code that CLDR does not have."""
    if currency in _OF_TWO_DECIMALS:
        return 2
    # slow to import, and not needed for the currencies above
    from babel.numbers import get_currency_precision  # noqa: PLC0415

    return int(get_currency_precision(currency))


def _loaded(locale: str) -> Locale:
    # slow to import, and not needed where plain English is spoken
    from babel import Locale  # noqa: PLC0415

    return Locale.parse(locale, sep="-")


def _day(pattern: str) -> str:
    """The pattern of a day of a month, as the axes of charts write one."""
    out = ""
    for words, day, month, number, other in _IN_PATTERN.findall(pattern):
        out += "%-d" if day else "%B" if month else "%-m" if number else (words or other).replace("%", "%%")
    return out
