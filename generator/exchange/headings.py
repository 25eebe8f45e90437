"""The headings of a sheet and the ids that are made of its cells."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from generator.exchange.mapping import Fed, Map, Trouble
from generator.exchange.places import ID_KEYS
from generator.exchange.sheet import Sheet, letter, short
from generator.problems import did_you_mean

_FIELD = re.compile(r"\{([^{}]+?)(?::([1-9]))?\}")
DAY_KEYS: Mapping[str, str] = {"batches": "date", "lots": "received"}
_OF_THE_DAY: Mapping[str, slice] = {"year": slice(0, 4), "month": slice(5, 7), "day": slice(8, 10)}


def headings_of(sheet: Sheet, rows: Sequence[int]) -> list[str]:
    """The name of every column: its heading, of several rows joined; a second one alike is `mL (2)`, an empty one `column D`."""
    out: list[str] = []
    seen: Counter[str] = Counter()
    for column in range(1, sheet.width + 1):
        parts = [_heading(sheet, row, column, rows[-1]) for row in rows]
        text = " ".join(dict.fromkeys(part for part in parts if part)) or f"column {letter(column)}"
        seen[text] += 1
        out.append(text if seen[text] == 1 else f"{text} ({seen[text]})")
    return out


def _heading(sheet: Sheet, row: int, column: int, last: int) -> str:
    """A heading on one line. One in an upper row stands over the columns to its right that have none there."""
    spans = row < last and bool(sheet.cell(last, column).text)
    while column > 1 and not sheet.cell(row, column).text and (spans or sheet.cell(row, column).merged):
        column -= 1
    text = " ".join(sheet.cell(row, column).text.split())
    return "".join(sign for sign in text if sign.isprintable())  # a map can hold nothing that cannot be seen


def unmatched(mapping: Map, headings: Sequence[str]) -> list[Trouble]:
    """The columns that a map names and a sheet does not have."""
    wanted = dict.fromkeys([*(fed.heading for fed in mapping.columns), *fields_of(mapping.settings.id)])
    known = {*headings, *_OF_THE_DAY}
    return [
        Trouble(
            "the map",
            f"it names a column '{short(name)}' that the sheet does not have",
            did_you_mean(name, headings),
        )
        for name in wanted
        if name not in known
    ]


def fields_of(rule: str) -> list[str]:
    """What stands in braces in the rule of an id."""
    return [match[1] for match in _FIELD.finditer(rule)]


def id_of(rule: str, texts: Mapping[str, str], day: str) -> str:
    """The id by a rule such as `{year}-{No:3}`; nothing where one of its cells is empty.

    A number behind a colon is the least count of digits; what cannot stand in an id becomes a hyphen.
    """
    out = rule
    for match in _FIELD.finditer(rule):
        part = _OF_THE_DAY.get(match[1]) if match[1] not in texts else None
        text = day[part] if part is not None else texts.get(match[1], "").strip()
        if not text:
            return ""
        out = out.replace(match[0], text.zfill(int(match[2])) if match[2] else text, 1)
    return re.sub(r"[^A-Za-z0-9]+", "-", out).strip("-")


def cells_of_id(rule: str, name: str) -> dict[str, str]:
    """The cells that an id was made of, by heading: the rule read backwards; nothing where the id is not of its form."""
    pattern, fields, end = "", [], 0
    for match in _FIELD.finditer(rule):
        pattern += re.sub(r"[^A-Za-z0-9]+", "-", rule[end : match.start()])
        pattern += "0*(.+?)" if match[2] else r"(\d{4}|\d\d)" if match[1] in _OF_THE_DAY else "(.+?)"
        fields.append(match[1])
        end = match.end()
    found = re.fullmatch(pattern.lstrip("-") + re.sub(r"[^A-Za-z0-9]+", "-", rule[end:]).rstrip("-"), name)
    return dict(zip(fields, found.groups(), strict=True)) if found else {}


@dataclass(frozen=True, slots=True)
class Columns:
    """The columns of a sheet that a map feeds from, by number; those that it does not name."""

    numbers: Mapping[str, int]
    unnamed: tuple[str, ...]

    def where(self, fed: Fed | None, row: int) -> str:
        """A cell as it is found in the sheet: `row 5, column C 'Oil (L)'`."""
        if fed is None or fed.heading not in self.numbers:
            return f"row {row}"
        return f"row {row}, column {letter(self.numbers[fed.heading])} '{short(fed.heading)}'"


def columns_of(mapping: Map, headings: Sequence[str]) -> Columns:
    """Where the columns of a map stand in a sheet."""
    named = {*(fed.heading for fed in mapping.columns), *fields_of(mapping.settings.id)}
    numbers = {name: number for number, name in enumerate(headings, 1)}
    return Columns(numbers, tuple(name for name in headings if name not in named))


def is_id(fed: Fed, records: str) -> bool:
    """Whether a column holds the id itself, which the rule makes."""
    return fed.place.path == (ID_KEYS[records],)
