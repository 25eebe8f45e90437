"""Methods: every figure with its formula and source, the limits with their edition, the cautions."""

from __future__ import annotations

from collections.abc import Mapping

from generator.compute.results import Results
from generator.data import rows
from generator.pages.view import Cell, Head, Page, TableView
from generator.pages.words import count, shown
from generator.specifications import Limit


def page(results: Results, limits: Mapping[str, Limit]) -> Page:
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
    reference = f"Reference temperature: {shown(results).reference}."
    return [reference, *(f"Resolution of the {name}: {text}." for name, text in results.instruments.items())]
