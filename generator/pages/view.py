"""What a page is made of: words, figures, tables and charts. No HTML, no computation, no record of the logbook."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Any


@dataclass(frozen=True, slots=True)
class Head:
    """Head of a table's column: label, unit, meaning, whether it holds numbers, its entry on the methods page."""

    label: str
    unit: str = ""
    meaning: str = ""
    numeric: bool = False
    method: str = ""


@dataclass(frozen=True, slots=True)
class Cell:
    """One cell: the text shown, the key it sorts by (empty: last), a link, an id that others can link to."""

    text: str
    sort: str = ""
    href: str = ""
    id: str = ""


@dataclass(frozen=True, slots=True)
class TableView:
    """A table as shown: id, caption, heads, rows of cells; the first cell of a row heads it.

    `told` is what stands between its head and itself. A `filterable` one gets a field above it; of a `comparable` one each row is a batch that can be chosen for comparison.
    """

    id: str
    caption: str
    heads: tuple[Head, ...]
    rows: tuple[tuple[Cell, ...], ...]
    filterable: bool = False
    comparable: bool = False
    told: str = ""


@dataclass(frozen=True, slots=True)
class Figure:
    """One figure: label, text with its unit, basis, link to its method; `missing` says what an unknown one needs, `href` where it is told at length."""

    label: str
    text: str
    basis: str = ""
    method: str = ""
    missing: str = ""
    href: str = ""


@dataclass(frozen=True, slots=True)
class Chart:
    """A chart in its figure: computed sentence, specification by name, its rows as plain values, the table beside it."""

    id: str
    title: str
    sentence: str
    kind: str
    values: tuple[Mapping[str, Any], ...]
    table: TableView
    params: Mapping[str, Any] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Entry:
    """One thing as it was written in a file: section, label, text, link to what it names."""

    section: str
    label: str
    text: str
    href: str = ""


@dataclass(frozen=True, slots=True)
class Page:
    """One page: path from the root of the site, title, template, finding, and what else its template names."""

    path: str
    title: str
    template: str
    finding: str
    section: str
    content: Mapping[str, Any]

    @property
    def root(self) -> str:
        """The way from this page to the root of the site, as a relative prefix."""
        return "../" * self.path.count("/")


@dataclass(frozen=True, slots=True)
class Unmade:
    """A page that is made when it is asked for; what it is made from is at hand.

    Where `of` gives a value, it is `how` the page is made of it: beside the program and what all pages share nothing else
    moves that page.
    """

    path: str
    how: Callable[..., Page]
    of: Callable[[], object] | None = None

    def make(self) -> Page:
        """The page."""
        return self.how() if self.of is None else self.how(self.of())
