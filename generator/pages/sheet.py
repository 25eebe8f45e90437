"""For paper: a batch on one sheet with the way to its page."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import partial

from generator.compute.results import Results
from generator.language import said, say, term
from generator.pages.batch import finding, record_digest
from generator.pages.batch_figures import dose_figures, soap_figures, yield_figures
from generator.pages.history import late_text
from generator.pages.label import NO_ADDRESS, scanned
from generator.pages.parts import Row, batch_link, grouped, sheet_link
from generator.pages.results import (
    against_text,
    limits_text,
    property_text,
    result_text,
    standing_text,
    where_text,
)
from generator.pages.view import Cell, Head, Page, TableView, Unmade
from generator.pages.words import Shown, shown

ROOT = "../"
MOST = 8  # results on one sheet beside the figures, each with its ± and up to two limits
LONGEST_NOTE = 280
FIRST = {"outside": 0, "cannot tell": 1}  # what must not be among those left out
IS_NO_PROOF = term(
    "What was written down, and no statement that this fuel is fit for any use. A bench test is not a standard's method; what was not tested is not known."
)


@dataclass(frozen=True, slots=True)
class OfSheet:
    """All that the sheet of a batch is made from."""

    row: Row
    tests: Sequence[Row]
    runs: int
    standing: Sequence[Row]
    changes: Sequence[Row]
    remembered: bool
    record: str | None
    scanned: str
    view: Shown


def pages(results: Results) -> Iterator[Unmade]:
    """A sheet for every batch."""
    tests, runs = grouped(results.rows("tests"), "subject"), grouped(results.rows("runs"), "batch")
    standing, changes = (
        grouped(results.passing("standing"), "batch"),
        grouped(results.rows("changes"), "batch"),
    )
    view = shown(results)

    def of(row: Row) -> OfSheet:
        name = row["batch"]
        return OfSheet(
            row,
            tests.get(name, []),
            len(runs.get(name, [])),
            standing.get(name, []),
            changes.get(name, []),
            results.remembered,
            record_digest(results, name),
            scanned(results, name),
            view,
        )

    for row in results.rows("batches"):
        yield Unmade(sheet_link(row["batch"]), _sheet, partial(of, row))


def _sheet(of: OfSheet) -> Page:
    row, view, name = of.row, of.view, of.row["batch"]
    groups = {
        say("Oil and dose"): dose_figures(row, view),
        say("Yield"): yield_figures(row, view, of.runs),
    }
    if of.runs:
        groups[say("Soap")] = soap_figures(row, of.runs, view)
    known = {group: [one for one in items if not one.missing] for group, items in groups.items()}
    return Page(
        path=sheet_link(name),
        title=say("Batch {name}", name=name),
        template="sheet.html",
        section="batches",
        finding=finding(row, None, view),
        content={
            "figures": {group: items for group, items in known.items() if items},
            "results": _results(of.tests),
            "late": late_text(of.changes, of.remembered),
            "coverage": standing_text(of.standing),
            "public_note": _short(row["public_note"] or ""),
            "back": batch_link(name, ROOT),
            "digest": of.record or "",
            "scanned": of.scanned,
            "unscanned": say(NO_ADDRESS),
            "caveat": say(IS_NO_PROOF),
        },
    )


def _results(tests: Sequence[Row]) -> TableView:
    """The results, the newest first, those outside a limit before all; with how many more the page has."""
    listed = list(reversed(tests))
    listed.sort(key=lambda row: min(FIRST.get(row[key], 2) for key in ("verdict", "own_verdict")))
    heads = (
        Head(say("Property")),
        Head(say("Result")),
        Head(say("Method")),
        Head(say("Where")),
        Head(say("Limit")),
        Head(say("Against it")),
    )
    cells = tuple(
        (
            Cell(property_text(row)),
            Cell(result_text(row)),
            Cell(said(row["method"] or "–")),
            Cell(where_text(row)),
            Cell(limits_text(row)),
            Cell(against_text(row)),
        )
        for row in listed[:MOST]
    )
    more = say("; {tests} more on the page", tests=len(tests) - MOST) if len(tests) > MOST else ""
    return TableView("results", say("Results{more}", more=more), heads, cells)


def _short(note: str) -> str:
    """A note that has room on the sheet; of a longer one where it stands."""
    return (
        note
        if len(note) <= LONGEST_NOTE
        else say("The note is too long for this sheet, and stands on the page of the batch.")
    )
