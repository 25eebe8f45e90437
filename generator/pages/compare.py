"""Compare: two to four batches side by side, with the figures and entries of their own pages."""

from __future__ import annotations

from generator.compute.results import Results
from generator.pages import batches
from generator.pages.view import Page
from generator.pages.words import shown

PATH = "compare.html"


def page(results: Results) -> Page:
    """The page of a comparison: the table to choose from; a script puts the chosen ones beside each other."""
    rows, view = results.rows("batches"), shown(results)
    return Page(
        path=PATH,
        title="Compare batches",
        template="compare.html",
        section="batches",
        finding="Two to four batches side by side: their figures as on their own pages, and what was written of them.",
        content={"table": batches.table(rows, view, results, newest_first=True)},
    )
