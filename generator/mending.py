"""What a machine can write instead without guessing: the same value, as a logbook wants it typed.

Each function gives the whole text anew, or nothing where there is more than one way to read it: `1,234 L` may be a litre
and a quarter or a thousand, `3.4.2026` may be in March. Whether the new text fits is for the grammar to say.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping

_COMMA = re.compile(r"(?<![0-9.,])([0-9]+),([0-9]+)(?![0-9.,])", re.ASCII)
_DAY = re.compile(r"([0-9]{4})([-/.])([0-9]{1,2})\2([0-9]{1,2})", re.ASCII)
_DAY_LAST = re.compile(r"([0-9]{1,2})([-/.])([0-9]{1,2})\2([0-9]{4})", re.ASCII)
_CLOCK = re.compile(r"(?:[T ]\s*([0-9]{1,2}):([0-9]{2}))?", re.ASCII)
_CURRENCY = re.compile(r"([-+]?[0-9.]+\s*)([A-Za-z]{3}|€)(\s*(?:/.*)?)", re.ASCII)
_BARE_POINT = re.compile(r"(?<![0-9.,])\.(?=[0-9])", re.ASCII)
_ZEROS = re.compile(r"(?<![0-9.,])0+(?=[0-9])", re.ASCII)
_YES = {"yes": "true", "true": "true", "no": "false", "false": "false"}


def pointed(text: str) -> str:
    """`1,6 mL` -> `1.6 mL`; nothing where the comma may part thousands."""
    for whole, part in _COMMA.findall(text):
        if len(part) == 3 and whole != "0" and len(whole) <= 3:
            return ""
    found = _COMMA.sub(r"\1.\2", text)
    return "" if "," in found else found


def with_point(text: str) -> str:
    """What to write instead of a number with a comma: both readings where there are two."""
    other = "" if pointed(text) else f", or {text.replace(',', '')} if the comma parts thousands"
    return f"write a decimal point: {text.replace(',', '.')}{other}"


def dated(text: str) -> str:
    """`2026/3/4 9:10` -> `2026-03-04T09:10`; nothing where the year does not come first."""
    day = _DAY.match(text)
    clock = _CLOCK.fullmatch(text[day.end() :]) if day is not None else None
    if day is None or clock is None:
        return ""
    time = f"T{int(clock[1]):02}:{clock[2]}" if clock[1] else ""
    return f"{day[1]}-{int(day[3]):02}-{int(day[4]):02}{time}"


def either_day(text: str) -> str:
    """Both days that `3.4.2026` can be, or the general rule."""
    match = _DAY_LAST.match(text)
    if match is None:
        return "write year-month-day, such as 2026-03-14"
    first, second = int(match[1]), int(match[3])
    both = [f"{match[4]}-{second:02}-{first:02} if the day comes first"] if second <= 12 else []
    both += [f"{match[4]}-{first:02}-{second:02} if the month does"] if first <= 12 else []
    return f"write {', '.join(both)}" if both else "check month and day: year-month-day"


def coded(text: str) -> str:
    """`0.38 €/L` and `0.38 eur/L` -> `0.38 EUR/L`; a dollar or a pound may be of several countries."""
    match = _CURRENCY.fullmatch(text.strip())
    return f"{match[1]}{'EUR' if match[2] == '€' else match[2].upper()}{match[3]}" if match else ""


def begun(text: str) -> str:
    """`.5 mL` -> `0.5 mL`, `0300 L` -> `300 L`."""
    return _ZEROS.sub("", _BARE_POINT.sub("0.", text))


def yes_or_no(text: str) -> str:
    """`Yes` -> `true`, `no` -> `false`."""
    return _YES.get(text.casefold(), "")


def same_word(word: str, known: Iterable[str]) -> str:
    """The one known word that differs in capitals, blanks, hyphens or underscores alone; nothing where there is none."""
    found = [name for name in known if _folded(name) == _folded(word)]
    return found[0] if len(found) == 1 and found[0] != word else ""


def _folded(word: str) -> str:
    return re.sub(r"[\s_-]+", " ", word.strip()).casefold()


_BY_CODE: Mapping[str, Callable[[str], str]] = {
    "decimal-comma": pointed,
    "bad-date": dated,
    "price-currency": coded,
    "quantity-number": begun,
}


def written_anew(code: str, text: str) -> str:
    """What to write instead of a refused text; nothing where that would be a guess."""
    found = _BY_CODE[code](text) if code in _BY_CODE else ""
    return found if found != text else ""


def without_tabs(text: str) -> str:
    """The text with its indentation in blanks, two a tab; nothing where lines mix tabs and blanks, or none has a tab."""
    lines = text.split("\n")
    indents = [line[: len(line) - len(line.lstrip(" \t"))] for line in lines if line.strip()]
    if any(" " in indent for indent in indents if "\t" in indent) or not any(
        "\t" in each for each in indents
    ):
        return ""
    if any(indent and "\t" not in indent for indent in indents):
        return ""
    return "\n".join(re.sub(r"^\t+", lambda tabs: "  " * len(tabs[0]), line) for line in lines)
