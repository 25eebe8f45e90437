"""The pages that explain and hand over: methods, problems, downloads, free texts."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from generator.compute.results import Results
from generator.data import rows
from generator.pages.view import Cell, Head, Page, TableView
from generator.pages.words import count
from generator.problems import Problem, told
from generator.records import Page as FreeText
from generator.specifications import Limit
from generator.tables import ALL, Table, public_columns


def methods(results: Results, limits: Mapping[str, Limit]) -> Page:
    """Every figure with its formula and source, the limits, the cautions."""
    entries = [{"id": name, **row} for name, row in rows("methods").items()]
    heads = (Head("Property"), Head("Limit"), Head("Method named by the standard"), Head("How sure"))
    cells = tuple(
        (Cell(name, name), Cell(limit.text), Cell(limit.method or "–"), Cell(limit.confidence))
        for name, limit in limits.items()
    )
    tables = [TableView("limits", f"Limits: {results.specification}", heads, cells)] if limits else []
    return Page(
        path="methods.html",
        title="Methods",
        template="methods.html",
        section="methods",
        finding=f"How each figure is made: {count(len(entries), 'formula', 'formulas')} with their sources, the limits with their edition, and the cautions.",
        content={
            "methods": entries,
            "tables": tables,
            "cautions": rows("cautions"),
            "intro": " ".join(_assumptions(results)),
        },
    )


def _assumptions(results: Results) -> list[str]:
    reference = f"Reference temperature {results.reference_c:g} °C."
    return [reference, *(f"Resolution of the {name}: {text}." for name, text in results.instruments.items())]


def problems(found: Sequence[Problem], lines: Mapping[str, list[str] | None]) -> Page:
    """The warnings of the last check, grouped by file."""
    groups: dict[str, list[dict[str, Any]]] = {}
    for problem in found:
        told_lines = told(problem, lines.get(problem.place.file)).split("\n")
        excerpt = (
            "\n".join(line.removeprefix("    ") for line in told_lines[1:3]) if problem.place.line else ""
        )
        groups.setdefault(problem.place.file, []).append(
            {
                "place": str(problem.place),
                "level": problem.level,
                "message": problem.message,
                "hint": problem.hint,
                "code": problem.code,
                "excerpt": excerpt,
            }
        )
    finding = (
        f"{count(len(found), 'warning')} in {count(len(groups), 'file')}; none of them keeps the site from being built."
        if found
        else "Nothing to mend."
    )
    return Page(
        path="problems.html",
        title="Problems",
        template="problems.html",
        section="problems",
        finding=finding,
        content={"groups": [{"file": file, "problems": items} for file, items in groups.items()]},
    )


def downloads(results: Results, widened: tuple[str, ...]) -> Page:
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
        title="Downloads",
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


def free_text(text: FreeText) -> Page:
    """One page of the logbook's own."""
    return Page(
        path=f"pages/{text.id.casefold()}.html",
        title=text.title,
        template="page.html",
        section=f"pages/{text.id}",
        finding="",
        content={"body": text.text},
    )
