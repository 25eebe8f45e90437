"""The scalar types of the grammar: text of a file -> typed value, or a refusal that says what to write.

Every scalar arrives as the text that was written. Each type here is one reading of such a text; records are built from
them. A refusal carries the code of its problem, so that the checks can place and print it.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from datetime import date, datetime
from decimal import Decimal
from functools import lru_cache
from typing import Annotated, Any

from pydantic import PlainValidator, ValidationInfo
from pydantic_core import PydanticCustomError

from generator.locales import is_locale, meant_by
from generator.mending import either_day, same_word, written_anew, yes_or_no
from generator.problems import did_you_mean
from generator.units import (
    NotAQuantity,
    Quantity,
    base_symbol,
    convert,
    decimal,
    quantity,
    symbols,
)
from generator.zones import is_zone, zones

ID = re.compile(r"[A-Za-z0-9](?:[A-Za-z0-9-]{0,62}[A-Za-z0-9])?", re.ASCII)
_PORTS = (f"{port}{number}" for port in ("com", "lpt") for number in range(1, 10))
RESERVED = {"con", "prn", "aux", "nul", "index", *_PORTS}
MAX_TEXT = 10_000
EARLIEST, LATEST = 1980, 2199


def refuse(code: str, message: str, hint: str = "", instead: str = "") -> PydanticCustomError:
    """Build the error a type raises: code of the problem, message, remedy, and what can be meant without doubt."""
    told = {"code": code, "message": message, "hint": hint, "instead": instead}
    return PydanticCustomError("esterday", "{message}", told)


def text_of(value: Any) -> str:
    """The text of one value; a list, a group and nothing are refused."""
    if not isinstance(value, str):
        raise refuse(
            "not-text", "a list or a group of keys stands where one value is wanted", "write one value"
        )
    if not value.strip():
        raise refuse(
            "empty-value", "nothing is written here", "write the value, or drop the key if it is unknown"
        )
    return value


def _free_text(value: Any) -> str:
    text = text_of(value)
    if len(text) > MAX_TEXT:
        told = f"{len(text)} characters, and at most {MAX_TEXT} fit"
        raise refuse("text-too-long", told, "move the rest to a page in pages/")
    return text.strip()


def _id(value: Any) -> str:
    text = text_of(value)
    if ID.fullmatch(text) is None:
        hint = "use 1 to 64 letters A-Z, a-z, digits and hyphens, a letter or digit at both ends"
        raise refuse("bad-id", f"'{text[:64]}' cannot be an id", hint)
    if text.casefold() in RESERVED:
        raise refuse("bad-id", f"'{text}' is a name some computers reserve", "choose another id")
    return text


def _date(value: Any) -> date:
    text = text_of(value)
    if re.fullmatch(r"\d{4}-\d{2}-\d{2}", text, re.ASCII) is None:
        anew = written_anew("bad-date", text)
        raise refuse(
            "bad-date", f"'{text[:40]}' is not a date", f"write {anew}" if anew else either_day(text)
        )
    try:
        found = date.fromisoformat(text)
    except ValueError:
        raise refuse(
            "bad-date", f"'{text}' is not in the calendar", "check month and day: year-month-day"
        ) from None
    if not EARLIEST <= found.year <= LATEST:
        raise refuse(
            "bad-date", f"the year of '{text}' cannot be", f"years from {EARLIEST} to {LATEST} are read"
        )
    return found


def _moment(value: Any) -> datetime:
    text = text_of(value)
    match = re.fullmatch(r"(\d{4}-\d{2}-\d{2})(?:[T ](\d{2}):(\d{2}))?", text, re.ASCII)
    if match is None:
        hint = f"write {written_anew('bad-date', text) or '2026-03-14T09:10, or the date alone'}"
        raise refuse("bad-date", f"'{text[:40]}' is not a date and time", hint)
    day = _date(match[1])
    hour, minute = int(match[2] or 0), int(match[3] or 0)
    if hour > 23 or minute > 59:
        told = f"'{text}' has a time that is not on the clock"
        raise refuse("bad-date", told, "write hours 00 to 23, minutes 00 to 59")
    return datetime(day.year, day.month, day.day, hour, minute)


def _yes(value: Any) -> bool:
    text = text_of(value)
    if text not in ("true", "false"):
        told, anew = f"'{text[:40]}' is neither true nor false", yes_or_no(text)
        raise refuse("not-a-choice", told, f"write {anew or 'true or false'}", anew)
    return text == "true"


def _number(value: Any) -> Decimal:
    text = text_of(value)
    if text.endswith("%"):
        raise refuse(
            "quantity-number", f"'{text[:40]}' is a percentage", "write a fraction without unit: 38 % is 0.38"
        )
    try:
        return decimal(text)
    except NotAQuantity as error:
        raise refuse(error.code, error.message, error.hint) from None


def _zone(value: Any) -> str:
    text = text_of(value)
    if not is_zone(text):
        hint = did_you_mean(text, zones()) or "write it like Europe/Lisbon"
        raise refuse("unknown-zone", f"'{text[:40]}' is not a time zone", hint)
    return text


def _locale(value: Any) -> str:
    text = text_of(value)
    if not is_locale(text):
        hint = f"write {meant_by(text) or 'language and country, such as en-GB or de-CH'}"
        raise refuse("unknown-locale", f"'{text[:40]}' is not a locale", hint, meant_by(text))
    return text


def quantity_of(text: str, kinds: tuple[str, ...], gallon: str, usual: str = "") -> Quantity:
    """Read a quantity of one of the kinds; the refusal is the grammar's."""
    try:
        return quantity(text, kinds, gallon, usual)
    except NotAQuantity as error:
        raise refuse(error.code, error.message, error.hint) from None


def gallon_of(info: ValidationInfo) -> str:
    """What a bare `gal` means in this logbook."""
    return str((info.context or {}).get("gallon", "none"))


def _quantity(
    *kinds: str,
    low: float | None = 0.0,
    high: float | None = None,
    sign: bool = False,
    zero: bool = True,
    usual: str = "",
) -> PlainValidator:
    @lru_cache(maxsize=4096)  # most amounts of a workshop are the same few texts
    def of_text(text: str, gallon: str) -> Quantity:
        found = quantity_of(text, kinds, gallon, usual)
        if found.sign and not sign:
            told = f"'{found.text}': < or > fits a result, not an amount used"
            raise refuse("sign-unfit", told, "write what was read")
        if (low is not None and found.value < low) or (high is not None and found.value > high):
            raise refuse(
                "out-of-range",
                f"'{found.text}' cannot be",
                f"write a {found.kind} {_range(usual, found.kind, low, high)}",
            )
        if not zero and found.value == 0:
            raise refuse(
                "out-of-range",
                f"'{found.text}' cannot be",
                f"write a {found.kind} above 0 {base_symbol(found.kind)}, or drop the entry if there was none",
            )
        return found

    def read(value: Any, info: ValidationInfo) -> Quantity:
        return of_text(text_of(value), gallon_of(info))

    read.kinds, read.sign, read.usual = kinds, sign, usual  # type: ignore[attr-defined]
    return PlainValidator(read)


def _range(usual: str, kind: str, low: float | None, high: float | None) -> str:
    unit = usual if usual in symbols(kind) else base_symbol(kind)
    least, most = (None if each is None else plainly(convert(each, kind, unit)) for each in (low, high))
    if most is None:
        return f"of {least or 0} {unit} or more"
    return f"of {most} {unit} or less" if least is None else f"between {least} and {most} {unit}"


def plainly(number: float, figures: int = 17) -> str:
    """Write a number as it would be typed, with so many significant figures: no exponent, no needless zeros."""
    return f"{float(f'{number:.{figures}g}'):.10f}".rstrip("0").rstrip(".")


def choice(*words: str) -> PlainValidator:
    """Read one of a few words."""

    def read(value: Any) -> str:
        text = text_of(value)
        if text not in words:
            raise refuse(
                "not-a-choice",
                f"'{text[:40]}' is not one of the words known here",
                did_you_mean(text, words) or f"write one of: {', '.join(words)}",
                same_word(text, words),
            )
        return text

    read.words = words  # type: ignore[attr-defined]
    return PlainValidator(read)


def symbol_of(kind: str) -> PlainValidator:
    """Read the symbol of a unit of one kind."""
    read: Callable[[Any], Any] = choice(*symbols(kind)).func  # type: ignore[assignment]
    return PlainValidator(read)


Text = Annotated[str, PlainValidator(_free_text)]
Id = Annotated[str, PlainValidator(_id)]
Date = Annotated[date, PlainValidator(_date)]
Moment = Annotated[datetime, PlainValidator(_moment)]
Yes = Annotated[bool, PlainValidator(_yes)]
Number = Annotated[Decimal, PlainValidator(_number)]
Locale = Annotated[str, PlainValidator(_locale)]
Zone = Annotated[str, PlainValidator(_zone)]

Volume = Annotated[Quantity, _quantity("volume")]
# what is read off a burette, a pipette or a small cylinder
Reading = Annotated[Quantity, _quantity("volume", high=0.1, sign=True, usual="mL")]
Burette = Annotated[Quantity, _quantity("volume", high=0.1, usual="mL")]
BenchVolume = Annotated[Quantity, _quantity("volume", high=1.0, zero=False, usual="mL")]
Sample = Annotated[Quantity, _quantity("volume", "mass", high=1.0, zero=False, usual="mL")]
Mass = Annotated[Quantity, _quantity("mass")]
Amount = Annotated[Quantity, _quantity("volume", "mass")]
# an amount that was used, or that something is divided by: above zero
SomeVolume = Annotated[Quantity, _quantity("volume", zero=False)]
SomeMass = Annotated[Quantity, _quantity("mass", zero=False)]
SomeAmount = Annotated[Quantity, _quantity("volume", "mass", zero=False)]
SomeLength = Annotated[Quantity, _quantity("length", zero=False)]
# of what is sold as the substance; solutions of methoxide begin near 20 %
Purity = Annotated[Quantity, _quantity("share", low=5, high=100)]
SomeShare = Annotated[Quantity, _quantity("share", high=100, zero=False)]
Temperature = Annotated[Quantity, _quantity("temperature", low=-60, high=250)]
TemperatureDifference = Annotated[Quantity, _quantity("temperature difference", high=50)]
Pressure = Annotated[Quantity, _quantity("pressure")]
Duration = Annotated[Quantity, _quantity("duration")]
SomeDuration = Annotated[Quantity, _quantity("duration", zero=False)]
Length = Annotated[Quantity, _quantity("length")]
Distance = Annotated[Quantity, _quantity("distance")]
Content = Annotated[Quantity, _quantity("content", high=1_000_000, sign=True)]
ContentLine = Annotated[Quantity, _quantity("content", high=1_000_000)]
Share = Annotated[Quantity, _quantity("share", high=100)]
AcidValue = Annotated[Quantity, _quantity("acid value", high=250)]
Strength = Annotated[Quantity, _quantity("mass concentration", "amount concentration", zero=False)]
Normality = Annotated[Quantity, _quantity("amount concentration", high=2, zero=False)]
BaseRate = Annotated[Quantity, _quantity("mass concentration", high=50, zero=False)]
MethanolRate = Annotated[Quantity, _quantity("molar ratio", "share", "volume content", high=100, zero=False)]
MassRatio = Annotated[Quantity, _quantity("mass ratio", high=10, zero=False)]
Density = Annotated[Quantity, _quantity("density", low=500, high=2500)]
Energy = Annotated[Quantity, _quantity("energy")]
Capacity = Annotated[Quantity, _quantity("capacity by mass", "capacity by volume", zero=False)]
Saponification = Annotated[Quantity, _quantity("saponification value", low=100, high=350)]
