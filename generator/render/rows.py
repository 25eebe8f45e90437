"""The rows of a table as HTML. A site holds millions of cells, and a template takes five times as long for each."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import lru_cache

from markupsafe import Markup, escape

from generator.language import say
from generator.pages.view import Cell, TableView
from generator.render.linking import linked

HEAD_SHORT, SHORT = 20, 15  # signs; a text below may not be broken over lines


def table_rows(view: TableView, names: Mapping[str, str], root: str) -> Markup:
    """Every row of a table, its first cell a head; ids among `names` become links from `root`."""
    numeric = [head.numeric for head in view.heads]
    parts: list[str] = []
    for row in view.rows:
        parts.append("<tr>\n")
        parts += _cells(row, numeric, view.comparable, names, root)
        parts.append("</tr>\n")
    return Markup("".join(parts))  # each text went through `escape` or `linked`


def _cells(
    row: tuple[Cell, ...], numeric: list[bool], comparable: bool, names: Mapping[str, str], root: str
) -> Iterator[str]:
    for place, (cell, number) in enumerate(zip(row, numeric, strict=True)):
        text = cell.text
        sort = f' data-sort="{_escaped(cell.sort)}"' if cell.sort != text else ""
        id_ = f' id="{_escaped(cell.id)}"' if cell.id else ""
        if cell.href:
            inside = f'<a href="{_escaped(cell.href)}">{_escaped(text)}</a>'
        else:
            inside = linked(text, names, root)
        if place:
            short = len(text) < SHORT
            kind = ("n" if short else "n t") if number else "s" if short else "t"
            yield f'<td class="{kind}"{sort}{id_}>{inside}</td>\n'
        else:
            kind = "n" if number else "s" if len(text) < HEAD_SHORT else "t"
            pick = _pick(_escaped(text)) if comparable else ""
            yield f'<th scope="row" class="{kind}"{sort}{id_}>{pick}{inside}</th>\n'


def _pick(name: str) -> str:
    told = say("Compare {name}", name=name)
    return f'<label class="pick"><input type="checkbox" value="{name}" aria-label="{told}"></label>'


@lru_cache(maxsize=100_000)
def _escaped(text: str) -> str:
    return str(escape(text))
