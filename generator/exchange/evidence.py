"""What the cells of a sheet speak for: decimal mark, order of day and month, signs for unknown, rows that are sums."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from generator.exchange.mapping import OPEN
from generator.exchange.sheet import Cell, Sheet, letter, short
from generator.mending import pointed

_NUMBER = re.compile(r"[<>~]?\s*[-+\u2212]?([0-9]+[.,][0-9]+)(?:\s*[^0-9.,/]*)?")
_PARTS = re.compile(
    r"\s*[0-9][0-9.,]*\s*(?:[A-Za-z]{1,3}\s*)?(?:([/;+&|\n])\s*[0-9][0-9.,]*\s*(?:[A-Za-z]{1,3}\s*)?)+"
)
_DATE = re.compile(r"([0-9]{1,4})\s*[-/. ]\s*([0-9]{1,2})(?:\s*[-/. ]\s*([0-9]{4}|[0-9]{2}))?\.?(?:[ T].*)?")
_UNKNOWN = ("-", "--", "–", "—", "?", "??", "n/a", "na", "n.a.", "nd", "n.d.", "tbd", "...", "…", "nil?")
_BOTH_MARKS = re.compile(r"[0-9]{1,3}(?:([.,])[0-9]{3})+([.,])[0-9]+")
_SUMS = re.compile(
    r"(?:grand |sub-?|gesamt)?(?:totals?|totale|totaal|sum|summe|suma|somma|somme|average|avg|mean|mittelwert|durchschnitt|moyenne|max|min)\s*:?",
    re.IGNORECASE,
)


@dataclass(frozen=True, slots=True)
class Finding:
    """What is written into a map, and the reason; `value` is "?" where a person must say it, empty where it matters not."""

    value: str
    why: str = ""


def decimal_of(cells: Iterable[Cell]) -> Finding:
    """Whether numbers have a decimal comma or point."""
    texts = [cell.value for cell in cells if isinstance(cell.value, str)]
    numbers = [match[1] for text in texts if (match := _NUMBER.fullmatch(text))]
    both = [match[0] for text in texts if (match := _BOTH_MARKS.match(text)) and match[1] != match[2]]
    sure = {
        name: [
            *(text for text in numbers if mark in text and pointed(text.replace(mark, ","))),
            *(text for text in both if text.rfind(mark) > text.rfind(other)),
        ]
        for name, mark, other in (("comma", ",", "."), ("point", ".", ","))
    }
    if sure["comma"] or sure["point"]:
        name = max(sure, key=lambda each: len(sure[each]))
        others = sure["point" if name == "comma" else "comma"]
        more = f", though others have the other, such as {others[0]}" if others else ""
        return Finding(name, f"numbers have one, such as {sure[name][0]}{more}")
    if numbers:
        return Finding(
            OPEN, f"comma or point: {numbers[0]} can have a decimal mark, or one between thousands"
        )
    return Finding("", "")


def thousands_of(cells: Iterable[Cell], decimal: str) -> Finding:
    """Whether a mark that is not the decimal one parts thousands; where no number has both, that is for a person to say."""
    mark = {"comma": ".", "point": ","}.get(decimal, "")
    name = {".": "point", ",": "comma"}.get(mark, "")
    texts = [cell.value for cell in cells if isinstance(cell.value, str)] if mark else []
    for text in texts:
        both = _BOTH_MARKS.match(text)
        if both and both[1] == mark != both[2]:
            return Finding(name, f"{both[0]} can be nothing else")
    for text in texts:
        match = _NUMBER.fullmatch(text)
        if match and mark in match[1] and not pointed(match[1].replace(".", ",")):
            return Finding(OPEN, f"{name} if {match[1]} is {match[1].replace(mark, '')}")
    return Finding("", "")


def order_of(cells: Iterable[Cell]) -> Finding:
    """In which order day, month and year stand; "?" where no date in the column settles it."""
    texts = [cell.value for cell in cells if isinstance(cell.value, str)]
    seen = [(text, match) for text in texts if (match := _DATE.fullmatch(text)) and len(match[1]) <= 2]
    if not seen:
        years = [text for text in texts if re.match(r"[0-9]{4}[-/. ]", text)]
        return Finding("year-month-day" if years else "", "as " + years[0] if years else "")
    day_first = [text for text, match in seen if int(match[1]) > 12 >= int(match[2])]
    month_first = [text for text, match in seen if int(match[2]) > 12 >= int(match[1])]
    if day_first and not month_first:
        return Finding("day-month-year", f"{day_first[0]} can be nothing else")
    if month_first and not day_first:
        return Finding("month-day-year", f"{month_first[0]} can be nothing else")
    both = f"day-month-year or month-day-year: {short(seen[0][0])} can be both"
    if day_first:
        both = f"{day_first[0]} and {month_first[0]} cannot be of one order; mend the sheet, then say which"
    return Finding(OPEN, both)


def lacks_years(cells: Iterable[Cell]) -> str:
    """A date without a year, where there is one."""
    for cell in cells:
        match = _DATE.fullmatch(cell.value) if isinstance(cell.value, str) else None
        if match is not None and match[3] is None and len(match[1]) <= 2:
            return cell.text
    return ""


def counts_days(cells: Iterable[Cell]) -> str:
    """A number that counts days, where there is one in a column of dates."""
    for cell in cells:
        if re.fullmatch(r"[0-9]{5}(?:\.[0-9]+)?", cell.text, re.ASCII):
            return cell.text
    return ""


def parts_of(cells: Iterable[Cell]) -> str:
    """The signs between several numbers in one cell, where some cells hold several."""
    signs: dict[str, None] = {}
    for cell in cells:
        text = cell.value if isinstance(cell.value, str) else ""
        if _PARTS.fullmatch(text):
            signs |= dict.fromkeys(sign for sign in text if sign in "/;+&|\n")
        elif re.fullmatch(r"[0-9]+[.,][0-9]+( [0-9]+[.,][0-9]+)+", text):
            return "blank"
    return "line" if [*signs] == ["\n"] else "".join(signs).replace("\n", "")


def carry_units(cells: Iterable[Cell]) -> bool:
    """Whether every number of a column has a unit behind it."""
    texts = [cell.text for cell in cells if cell.text and cell.text.casefold() not in _UNKNOWN]
    return bool(texts) and all(
        isinstance(text, str) and re.fullmatch(r"[<>]?\s*[-0-9.,]+\s*[A-Za-z%°µ].*", text, re.DOTALL)
        for text in texts
    )


def unknown_in(cells: Iterable[Cell]) -> list[str]:
    """Signs for what is not known, as they stand in the cells."""
    return list(dict.fromkeys(cell.text for cell in cells if cell.text.casefold() in _UNKNOWN))


def sums_in(sheet: Sheet, first: int) -> list[tuple[str, str]]:
    """Texts of rows that are sums, each with its place."""
    out: dict[str, str] = {}
    for number, row in enumerate(sheet.rows[first - 1 :], first):
        for column, cell in enumerate(row, 1):
            if _is_sum(cell):
                out.setdefault(" ".join(cell.text.split()), f"{letter(column)}{number}")
    return list(out.items())


def column_of(sheet: Sheet, column: int, first: int) -> list[Cell]:
    """The cells of a column from a row on, those of rows of sums apart."""
    return [
        sheet.cell(row, column)
        for row in range(first, len(sheet.rows) + 1)
        if not any(_is_sum(cell) for cell in sheet.rows[row - 1])
    ]


def _is_sum(cell: Cell) -> bool:
    return isinstance(cell.value, str) and _SUMS.fullmatch(" ".join(cell.text.split())) is not None


def first_values(cells: Sequence[Cell]) -> str:
    """The first few different values, on one line."""
    texts = dict.fromkeys(short(cell.text, 20) for cell in cells if not cell.is_empty and cell.text)
    return " · ".join(list(texts)[:3])
