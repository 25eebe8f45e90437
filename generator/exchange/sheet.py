"""A sheet as it was read: rows of cells, each with what was in it or why that cannot be taken."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime, time
from decimal import Decimal
from typing import TypeAlias

from generator.problems import visible

MAX_BYTES = 8 * 1024 * 1024
MAX_ROWS = 5_000
MAX_COLUMNS = 100
MAX_CELL = 10_000  # characters, as many as a note holds

Value: TypeAlias = "str | Decimal | datetime | date | time | bool | None"

# blanks that are not plain ones, and what a spreadsheet writes for them
_BLANKS = re.compile("[\u00a0\u2007\u2009\u202f\t]")
_WIDTHLESS = re.compile("[\u200b\u2060\ufeff]")


@dataclass(frozen=True, slots=True)
class Cell:
    """What stands in a cell: text, number, date, time, yes or no, nothing; `trouble` says why it cannot be taken.

    `unit` is what the format of a number writes behind it; `computed` says that a formula made the value.
    """

    value: Value = None
    trouble: str = ""
    merged: bool = False
    unit: str = ""
    computed: bool = False

    @property
    def text(self) -> str:
        """The value as it would be typed; nothing for an empty cell."""
        if self.value is None:
            return ""
        if isinstance(self.value, bool):
            return "yes" if self.value else "no"
        if isinstance(self.value, Decimal):
            return f"{plain(self.value)} {self.unit}".strip()
        if isinstance(self.value, datetime):
            return (
                self.value.strftime("%Y-%m-%dT%H:%M")
                if self.value.time() != time()
                else f"{self.value.date()}"
            )
        return self.value.strftime("%H:%M") if isinstance(self.value, time) else str(self.value)

    @property
    def is_empty(self) -> bool:
        """Whether nothing stands in it."""
        return not self.text and not self.trouble


EMPTY = Cell()


@dataclass(frozen=True, slots=True)
class Sheet:
    """The rows of one sheet. `epoch` is the year from which it counts its days, where the file says so."""

    name: str
    rows: tuple[tuple[Cell, ...], ...]
    epoch: int | None = None
    remarks: tuple[str, ...] = ()

    def cell(self, row: int, column: int) -> Cell:
        """The cell in a row and column, both counted from 1; an empty one beyond the edge."""
        cells = self.rows[row - 1] if 0 < row <= len(self.rows) else ()
        return cells[column - 1] if 0 < column <= len(cells) else EMPTY

    @property
    def width(self) -> int:
        """How many columns the widest row has."""
        return max((len(row) for row in self.rows), default=0)


class NotASheetError(Exception):
    """A file that cannot be read as a sheet: what was found, and what to do."""

    def __init__(self, message: str, hint: str) -> None:
        """Keep message and hint apart, so that a command can print them."""
        super().__init__(message)
        self.message, self.hint = message, hint


def letter(column: int) -> str:
    """The letter of a column counted from 1: A, B, ... Z, AA."""
    out = ""
    while column:
        column, rest = divmod(column - 1, 26)
        out = chr(65 + rest) + out
    return out


def plain(number: Decimal) -> str:
    """A number as it would be typed: no exponent, no zeros before the point."""
    return f"{number:f}"


def tidy(text: str) -> str:
    """A text without what cannot be seen: line ends and blanks of one kind, none at its ends."""
    text = _WIDTHLESS.sub("", _BLANKS.sub(" ", text.replace("\r\n", "\n").replace("\r", "\n")))
    return "\n".join(line.rstrip() for line in text.strip().split("\n"))


def short(text: str, most: int = 30) -> str:
    """A text on one line, cut where it is long, with nothing in it that steers a terminal or ends a comment."""
    line = visible(" ".join(text.split()))
    return line if len(line) <= most else line[: most - 3] + "..."


def trimmed(rows: Iterable[Iterable[Cell]]) -> tuple[tuple[Cell, ...], ...]:
    """The rows without empty cells at their ends, and without empty rows at the end."""
    out: list[tuple[Cell, ...]] = []
    for row in rows:
        cells = list(row)
        while cells and cells[-1].is_empty:
            cells.pop()
        out.append(tuple(cells))
    while out and not out[-1]:
        out.pop()
    return tuple(out)


def bounded(rows: int, columns: int) -> None:
    """Refuse a sheet larger than any batch list. Raises NotASheetError."""
    if rows > MAX_ROWS:
        raise NotASheetError(
            f"the sheet reaches to row {rows}, and at most {MAX_ROWS} are read",
            "delete what stands below the table, or split the sheet by year",
        )
    if columns > MAX_COLUMNS:
        raise NotASheetError(
            f"the sheet reaches to column {letter(columns)}, and at most {MAX_COLUMNS} are read",
            "delete what stands beside the table",
        )
