"""An empty batch sheet for paper: what a batch file asks for, in its order, with the units to read off."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from generator.data import rows
from generator.pages.weigh import cautions
from generator.render.site import Renderer

# of the keys of a batch, those that are not filled in by hand at the bench
LEFT_OUT = (
    "private",
    "plan",
    "public_note",
    "credits",
)  # the last is known when glycerol is sold, and not at the bench


@dataclass(frozen=True, slots=True)
class Blank:
    """A space to write in: its label, the key of its value in a batch file, the unit behind it."""

    label: str
    key: str
    unit: str


@dataclass(frozen=True, slots=True)
class Section:
    """Lines of blanks under a title; a table has one line, whose labels stand above `table` empty rows."""

    title: str
    lines: tuple[tuple[Blank, ...], ...]
    table: int


def sections() -> list[Section]:
    """The sections of the sheet, from `data/blank.yaml`."""
    table: list[Mapping[str, Any]] = rows("blank")["sections"]
    return [
        Section(
            row["title"],
            tuple(
                tuple(Blank(*blank) for blank in line["blanks"])
                for line in row["lines"]
                for _ in range(line.get("times", 1))
            ),
            row.get("table", 0),
        )
        for row in table
    ]


def blank_sheet() -> bytes:
    """The sheet as a file of HTML that needs no other; it prints on two pages of A4."""
    return Renderer().alone("blank.html", sections=sections(), cautions=cautions(acid=True))
