"""The rows of a table as HTML. A site holds millions of cells, and a template takes five times as long for each."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import lru_cache

from markupsafe import Markup, escape

from generator.language import say
from generator.pages.view import Cell, TableView
from generator.render.linking import linked

HEAD_SHORT, SHORT = 20, 15  # signs; a text below may not be broken over lines
UNSAID = {"–": ""}  # how nothing is shown, and what it sorts by; sort.js knows it too


def table_rows(view: TableView, names: Mapping[str, str], root: str) -> Markup:
    """Every row of a table, its first cell a head; ids among `names` become links from `root`."""
    numeric = [head.numeric for head in view.heads]
    parts: list[str] = []
    for row in view.rows:
        parts.append("<tr>")
        parts += _cells(row, numeric, view.comparable, names, root)
        parts.append("</tr>\n")
    return Markup("".join(parts))  # each text went through `escape` or `linked`


def _cells(
    row: tuple[Cell, ...], numeric: list[bool], comparable: bool, names: Mapping[str, str], root: str
) -> Iterator[str]:
    for place, (cell, number) in enumerate(zip(row, numeric, strict=True)):
        text = cell.text
        sort = _sort(cell)
        id_ = f' id="{_escaped(cell.id)}"' if cell.id else ""
        if cell.href:
            inside = f'<a href="{_escaped(cell.href)}">{_escaped(text)}</a>'
        else:
            inside = linked(text, names, root)
        if place:
            kind = _kind(text, SHORT, number)
            yield f"<td{kind}{sort}{id_}>{inside}</td>"
        else:
            kind = _kind(text, HEAD_SHORT, number)
            pick = _pick(_escaped(text)) if comparable else ""
            yield f'<th scope="row"{kind}{sort}{id_}>{pick}{inside}</th>'


def _sort(cell: Cell) -> str:
    """The key a cell sorts by, where its text is none."""
    if cell.sort in (cell.text, UNSAID.get(cell.text)):
        return ""
    return f' data-sort="{_escaped(cell.sort)}"' if cell.sort else " data-sort"


def _kind(text: str, short: int, number: bool) -> str:
    """The class of a cell: a number, text that may be broken over lines, a number with words about it; none for short text."""
    if number:
        return ' class="n"' if len(text) < short else ' class="n t"'
    return "" if len(text) < short else ' class="t"'


def _pick(name: str) -> str:
    told = say("Compare {name}", name=name)
    return f'<label class="pick"><input type="checkbox" value="{name}" aria-label="{told}"></label>'


@lru_cache(maxsize=100_000)
def _escaped(text: str) -> str:
    return str(escape(text))
