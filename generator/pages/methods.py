"""Methods: every figure with its formula and what holds it, the limits with their edition, the cautions."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from generator.compute.results import Results
from generator.data import rows
from generator.language import said, say, spoken, term
from generator.methods import CONFIDENCE, Check, Method, methods
from generator.pages.glossary import said_words
from generator.pages.parts import Row, Show, grouped, plain, table_view, worded
from generator.pages.places import placed
from generator.pages.view import Cell, Head, Page, TableView
from generator.pages.words import count, shown
from generator.tables import LIMITS

SHAPES = {
    "standard": term("a standard uncertainty"),
    "limits": term("limits, plus or minus"),
    "step": term("the step that is read"),
}


def page(results: Results) -> Page:
    """Every figure with its formula and source, the limits, the cautions."""
    entries = methods()
    formulas = sum(len(each.formulas) for entry in entries for each in entry.functions)
    return placed(
        "methods",
        finding=say(
            "How each figure is made: {formula} with their symbols, sources and checks, the limits with their edition, and the cautions.",
            formula=count(formulas, "formula", "formulas"),
        ),
        content={
            "methods": [_said(entry) for entry in entries],
            "held": _held(entries),
            "plainly": {
                entry.id: [word for word in said_words() if word.method == entry.id] for entry in entries
            },
            "tables": [*_limits(results), _precision(), _known(results)],
            "cautions": [say(text) for text in rows("cautions")],
            "intro": say("Reference temperature: {reference}.", reference=shown(results).reference),
        },
    )


def _said(entry: Method) -> Method:
    """An entry in the language in use; what its checks cite stays as it is cited."""
    return replace(
        entry,
        title=say(entry.title),
        text=say(entry.text),
        functions=tuple(
            replace(
                each,
                summary=say(each.summary),
                text=say(each.text),
                range=say(each.range),
                units=say(each.units),
                confidence=say(each.confidence),
                source=say(each.source),
                symbols=tuple(
                    replace(symbol, meaning=say(symbol.meaning), unit=say(symbol.unit))
                    for symbol in each.symbols
                ),
            )
            for each in entry.functions
        ),
    )


def _limits(results: Results) -> Iterator[TableView]:
    """The limits of every edition that the logbook chooses, a table each, with the days between which it holds."""
    for place, (edition, rows_of) in enumerate(grouped(results.rows("limits"), "edition").items(), 1):
        first, last = rows_of[0]["from"], rows_of[0]["until"]
        held = say(", from {first}", first=first) if first else ""
        held += say(", until {last}", last=last) if last else ""
        yield table_view(
            LIMITS,
            f"limits-{place}",
            say(
                "Limits: {edition}{held}. Read in: {source}",
                edition=said(edition),
                held=held,
                source=say(rows_of[0]["source"]),
            ),
            rows_of,
            [
                Show("property", say("Property"), worded("property")),
                Show("limit", say("Limit"), _conditioned),
                Show("methods", say("Method named"), plain("methods")),
                Show("confidence", say("How sure"), worded("confidence")),
                Show("note", say("To be known"), worded("note")),
            ],
        )


def _conditioned(row: Row) -> str:
    instead = say("; or {instead}", instead=said(row["instead"])) if row["instead"] else ""
    limit = f"{said(row['limit'])}{instead}"
    return f"{limit} ({said(row['condition'])})" if row["condition"] else limit


def _precision() -> TableView:
    """The precision of methods that is known here, as it enters the uncertainty of a laboratory's result."""
    heads = (
        Head(say("Property")), Head(say("Method")), Head(say("Repeatability")), Head(say("Reproducibility")), Head(say("Source")), Head(say("How sure")),
    )  # fmt: skip
    cells = []
    for name, by_method in rows("precision").items():
        for method, row in by_method.items():
            limits = [_of_level(row[key], row["unit"]) for key in ("repeatability", "reproducibility")]
            told = (say(name), method, *limits, say(row["source"]), said(row["confidence"]))
            cells.append(tuple(Cell(each, each) for each in told))
    return TableView(
        "precision", say("How far two results of a method lie apart, in 95 % of cases"), heads, tuple(cells)
    )


def _of_level(row: Mapping[str, float], unit: str) -> str:
    """`0.16 + 0.09 x`: x is the result."""
    level = "x" if row["power"] == 1 else f"x^{row['power']:g}"
    parts = [f"{row['constant']:g}"] if row["constant"] or not row["factor"] else []
    parts += [f"{row['factor']:g} {level}"] if row["factor"] else []
    return f"{' + '.join(parts)} {unit}".replace(".", spoken().signs.decimal)


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
        return say("Held by no check against another source yet.")
    counts: Counter[str] = Counter()
    for check in checks:
        counts[check.confidence] += check.count
    parts = [f"{counts[word]} {say(word)}" for word in CONFIDENCE if counts[word]]
    return say(
        "Held by {checks}: {how}", checks=count(counts.total(), "check", "checks"), how=", ".join(parts)
    )


def _known(results: Results) -> TableView:
    """How well each thing is taken to be known: as the settings say, or as the tool's own rows do."""
    heads = (
        Head(say("What")),
        Head(say("Taken as")),
        Head(say("Which is")),
        Head(say("Source")),
        Head(say("How sure")),
    )
    cells = []
    for group in rows("instruments").values():
        for name, row in group.items():
            usual = str(row["default"])
            text = results.instruments.get(name, usual)
            own = (
                (say("the logbook"), say("its own"))
                if text != usual
                else (say(row["source"]), said(row["confidence"]))
            )
            told = (say(row["what"]), said(text), say(SHAPES[row["shape"]]), *own)
            cells.append(tuple(Cell(each, each) for each in told))
    return TableView("instruments", say("How well things are taken to be known"), heads, tuple(cells))
