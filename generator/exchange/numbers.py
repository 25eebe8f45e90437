"""Numbers, days and times as people type them into sheets -> as a logbook has them, where there is one way to read them."""

from __future__ import annotations

import re
from datetime import date, datetime, time, timedelta
from decimal import Decimal

from generator.exchange.mapping import DAY_ORDERS, MARKS, SheetMap
from generator.mending import pointed
from generator.validate.answer import Fault

_NUMBER = re.compile(r"([-+\u2212]?)((?:[0-9][0-9.,' ]*)?[0-9])", re.ASCII)
_DAY = re.compile(
    r"([0-9]{1,4})\s*[-/. ]\s*([0-9]{1,2}|[A-Za-z]{3,9})\.?(?:\s*[-/. ,]\s*([0-9]{4}|[0-9]{1,2}))?\.?",
    re.ASCII,
)
_CLOCK = re.compile(
    r"(?:.*[ T])?([0-9]{1,2})[:.h]([0-9]{2})(?::[0-9]{2}(?:\.[0-9]+)?)?\s*([ap]m)?", re.ASCII | re.IGNORECASE
)
_MONTHS = (
    *("january", "february", "march", "april", "may", "june"),
    *("july", "august", "september", "october", "november", "december"),
)
_EPOCHS = {1900: date(1899, 12, 30), 1904: date(1904, 1, 1)}
# days counted from an epoch that lie in years a logbook can hold
_FIRST_SERIAL, _LAST_SERIAL = 27_000, 110_000


def number_in(text: str, settings: SheetMap) -> str | Fault:
    """The first number of a text with a decimal point, the rest as it is; the text where it begins with no number."""
    sign = re.match(r"\s*[<>]?\s*", text)
    head = sign[0] if sign else ""
    match = _NUMBER.match(text, len(head))
    if match is None:
        return text
    digits = match[2].rstrip(" ")
    found = _pointed(digits, settings)
    if not found and " " in digits:
        hint = "say in the map what parts several values ('parts: blank'), or 'thousands: blank'"
        return Fault(f"'{digits}' can be several numbers, or one with blanks in it", hint)
    if not found and not re.fullmatch(r"[0-9]+(?:[.,'][0-9]{3})*(?:[.,][0-9]+)?", digits):
        return text
    if not found and {",", "."} <= {*digits}:
        parting, decimal = sorted(("point", "comma"), key=lambda name: digits.rfind(MARKS[name]))
        return Fault(
            f"'{digits}' does not fit what the map says of decimal marks and thousands",
            f"say in the map 'decimal: {decimal}' and 'thousands: {parting}', or mend the cell where it alone is so",
        )
    if not found:
        other = "comma" if "," in digits else "point"
        return Fault(
            f"'{digits}' can be read in two ways",
            f"say in the map what its {other} is: 'decimal: {other}', or 'thousands: {other}'",
        )
    minus = "-" if match[1] in ("-", "\u2212") else ""
    return f"{head.strip()}{' ' if head.strip() else ''}{minus}{_bare(found)}{text[match.end() :]}"


def _pointed(digits: str, settings: SheetMap) -> str:
    """Digits with a decimal point and no marks between thousands; nothing where that would be a guess."""
    mark = MARKS[settings.decimal]
    parting = MARKS[settings.thousands] if settings.thousands else ""
    whole, _, part = digits.partition(mark)
    if (
        parting
        and parting != mark
        and re.fullmatch(rf"[0-9]{{1,3}}(?:{re.escape(parting)}[0-9]{{3}})*", whole)
    ):
        whole = whole.replace(parting, "")
    if re.fullmatch("[0-9]+", whole) and re.fullmatch("[0-9]*", part) and (part or mark not in digits):
        return f"{whole}.{part}" if part else whole
    if settings.thousands is None and re.fullmatch(r"[0-9]+[.,][0-9]+", digits):
        return pointed(digits.replace(".", ","))  # the other mark, where it cannot part thousands
    return ""


def _bare(number: str) -> str:
    """Without zeros before the number."""
    return re.sub(r"^0+(?=[0-9])", "", number)


def day_of(value: object, settings: SheetMap, epoch: int | None) -> date | Fault:
    """The day that a cell says. A bare number counts days from an epoch, which the file or the map must name."""
    if isinstance(value, datetime):
        return value.date()
    if isinstance(value, date):
        return value
    text = str(value).strip()
    if re.fullmatch(r"[0-9]{5,6}(?:\.[0-9]+)?", text, re.ASCII):
        return _counted(Decimal(text), settings, epoch)
    iso = re.fullmatch(r"([0-9]{4})-([0-9]{2})-([0-9]{2})(?:[T ].*)?", text, re.ASCII)
    if iso is not None:
        return _calendar(iso[1], int(iso[2]), int(iso[3]), text)
    clock = re.fullmatch(r"(.*[0-9])[ T]+[0-9]{1,2}:[0-9]{2}(?::[0-9]{2})?\s*(?:[AaPp][Mm])?", text, re.ASCII)
    match = _DAY.fullmatch(clock[1] if clock else text)
    if match is None:
        return Fault(f"'{text[:40]}' is no day", "write it with day, month and year, such as 2026-03-14")
    return _ordered(match, settings, text)


def _ordered(match: re.Match[str], settings: SheetMap, text: str) -> date | Fault:
    first, second, third = match[1], match[2], match[3]
    if third is None:
        if settings.year is None:
            return Fault(f"'{text}' names no year", "write 'year: 2026' into the map")
        third = str(settings.year)
    if second.isalpha():
        month = _month(second)
        if not month:
            return Fault(f"'{second}' is no month known here", "write months in English or as numbers")
        return _calendar(third, month, int(first), text)
    if len(first) > 2 or (settings.dates == "year-month-day" and len(third) == 2):
        return _calendar(first, int(second), int(third), text)
    if settings.dates is None or (settings.dates == "year-month-day" and match[3] is not None):
        for order, one, other in zip(DAY_ORDERS[:2], (first, second), (second, first), strict=True):
            if int(one) > 12 >= int(other):
                told = f"'{text}' has its {order.partition('-')[0]} first, and the map does not say so"
                return Fault(told, f"write 'dates: {order}' into the map")
        hint = f"write 'dates: {DAY_ORDERS[0]}' or 'dates: {DAY_ORDERS[1]}' into the map"
        return Fault(f"'{text}' does not say which is its day and which its month", hint)
    day, month = (
        (int(second), int(first)) if settings.dates == "month-day-year" else (int(first), int(second))
    )
    return _calendar(third, month, day, text)


def _month(word: str) -> int:
    """The number of a month by its English name or the beginning of it; 0 where it is none."""
    return next((number for number, name in enumerate(_MONTHS, 1) if name.startswith(word.casefold())), 0)


def _calendar(year: str, month: int, day: int, text: str) -> date | Fault:
    """A day of the calendar; a year of two digits is of this century."""
    if len(year) not in (2, 4):
        return Fault(f"'{text[:40]}' is no day", "write its year with two or four digits")
    try:
        return date(int(year) + 2000 * (len(year) == 2), month, day)
    except ValueError:
        return Fault(f"'{text[:40]}' is not in the calendar", "check day and month, and 'dates' in the map")


def _counted(number: Decimal, settings: SheetMap, epoch: int | None) -> date | Fault:
    base = epoch or (int(settings.serial) if settings.serial else 0)
    if not _FIRST_SERIAL <= number <= _LAST_SERIAL:
        return Fault(f"'{number}' is no day", "write it with day, month and year, such as 2026-03-14")
    if not base:
        both = " or ".join(
            f"{start + timedelta(days=int(number))} if counted from {year}" for year, start in _EPOCHS.items()
        )
        return Fault(f"'{number}' counts days: {both}", "write 'serial: 1900' or 'serial: 1904' into the map")
    return _EPOCHS[base] + timedelta(days=int(number))


def clock_of(value: object) -> str:
    """The time that a cell says, as 09:10; nothing where it says none."""
    if isinstance(value, datetime | time):
        return f"{value:%H:%M}"
    match = _CLOCK.fullmatch(str(value).strip())
    if match is None:
        return ""
    half = (match[3] or "").casefold()
    hour = int(match[1]) % 12 + 12 * (half == "pm") if half else int(match[1])
    return f"{hour:02}:{match[2]}"
