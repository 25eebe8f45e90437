"""Methods: every figure with its formula and what holds it, the limits with their edition, the cautions."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence

from generator.compute.results import Results
from generator.data import rows
from generator.methods import CONFIDENCE, Check, Method, methods
from generator.pages.glossary import words
from generator.pages.view import Cell, Head, Page, TableView
from generator.pages.words import count, shown
from generator.specifications import Limit

SHAPES = {
    "standard": "a standard uncertainty",
    "limits": "limits, plus or minus",
    "step": "the step that is read",
}


def page(results: Results, limits: Mapping[str, Limit]) -> Page:
    """Every figure with its formula and source, the limits, the cautions."""
    entries = methods()
    formulas = sum(len(each.formulas) for entry in entries for each in entry.functions)
    heads = (Head("Property"), Head("Limit"), Head("Method named by the standard"), Head("How sure"))
    cells = tuple(
        (Cell(name, name), Cell(limit.text), Cell(limit.method or "–"), Cell(limit.confidence))
        for name, limit in limits.items()
    )
    limited = [TableView("limits", f"Limits: {results.specification}", heads, cells)] if limits else []
    return Page(
        path="methods.html",
        title="Methods",
        template="methods.html",
        section="methods",
        finding=f"How each figure is made: {count(formulas, 'formula', 'formulas')} with their symbols, sources and checks, the limits with their edition, and the cautions.",
        content={
            "methods": entries,
            "held": _held(entries),
            "plainly": {entry.id: [word for word in words() if word.method == entry.id] for entry in entries},
            "tables": [*limited, _known(results)],
            "cautions": rows("cautions"),
            "intro": f"Reference temperature: {shown(results).reference}.",
        },
    )


def _held(entries: Sequence[Method]) -> dict[str, str]:
    """How many values hold each function, by how sure they are, in one line each."""
    return {
        each.name: held_by(each.checks)
        for entry in entries
        for each in entry.functions
        if each.formulas or each.checks
    }


def held_by(checks: Sequence[Check]) -> str:
    """`Held by 12 checks: 2 published, 10 derived`; derived ones guard against change and come from no one else."""
    if not checks:
        return "Held by no check against another source yet."
    counts: Counter[str] = Counter()
    for check in checks:
        counts[check.confidence] += check.count
    parts = [f"{counts[word]} {word}" for word in CONFIDENCE if counts[word]]
    return f"Held by {count(counts.total(), 'check', 'checks')}: {', '.join(parts)}"


def _known(results: Results) -> TableView:
    """How well each thing is taken to be known: as the settings say, or as the tool's own rows do."""
    heads = (Head("What"), Head("Taken as"), Head("Which is"), Head("Source"), Head("How sure"))
    cells = []
    for group in rows("instruments").values():
        for name, row in group.items():
            usual = str(row["default"])
            text = results.instruments.get(name, usual)
            own = ("the logbook", "its own") if text != usual else (row["source"], row["confidence"])
            told = (row["what"], text, SHAPES[row["shape"]], *own)
            cells.append(tuple(Cell(each, each) for each in told))
    return TableView("instruments", "How well things are taken to be known", heads, tuple(cells))
