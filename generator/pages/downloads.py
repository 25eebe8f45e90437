"""Downloads: the tables as files, and what their columns mean."""

from __future__ import annotations

from collections.abc import Sequence

from generator.compute.results import Results
from generator.language import say
from generator.pages.view import Cell, Head, Page, TableView
from generator.pages.words import count
from generator.tables import ALL, Table, public_columns


def page(results: Results, widened: tuple[str, ...]) -> Page:
    """The tables as files, and what their columns mean."""
    shared = results.audience == "shared"
    names = [(table, public_columns(table, widened) if shared else table.names) for table in ALL]
    kept = [(table, columns) for table, columns in names if columns]
    files = [
        {
            "name": f"{table.name}.{kind}",
            "href": f"data/{table.name}.{kind}",
            "text": f"{count(len(results.frames[table.name]), 'row')}, one per {table.row.removeprefix('one ')}",
        }
        for table, _ in kept
        for kind in ("csv", "json")
    ]
    files.append(
        {
            "name": "dictionary.json",
            "href": "data/dictionary.json",
            "text": "every column with unit and meaning",
        }
    )
    return Page(
        path="downloads.html",
        title=say("Downloads"),
        template="downloads.html",
        section="downloads",
        finding=f"{count(len(kept), 'table')} as CSV and JSON; numbers are not rounded, unknown is empty or null, a censored result carries its bound.",
        content={"files": files, "dictionary": [_dictionary(table, columns) for table, columns in kept]},
    )


def _dictionary(table: Table, columns: Sequence[str]) -> TableView:
    heads = (Head("Column"), Head("Unit"), Head("Meaning"))
    cells = tuple(
        (Cell(name, name), Cell(table.column(name).unit or "–"), Cell(table.column(name).meaning))
        for name in columns
    )
    return TableView(f"dictionary-{table.name}", f"{table.name}: {table.row}", heads, cells)
