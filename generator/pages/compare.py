"""Compare: two to four batches side by side, with the figures and entries of their own pages."""

from __future__ import annotations

from generator.compute.results import Results
from generator.language import say
from generator.pages.parts import batch_link
from generator.pages.view import Page

PATH = "compare.html"


def page(results: Results) -> Page:
    """The page of a comparison: the batches to choose from; a script puts the chosen ones beside each other."""
    rows = results.rows("batches")
    return Page(
        path=PATH,
        title=say("Compare batches"),
        template="compare.html",
        section="batches",
        finding=say(
            "Two to four batches side by side: their figures and results as on their own pages, and what was written of them."
        ),
        content={"choices": [(row["batch"], batch_link(row["batch"]), row["date"]) for row in rows[::-1]]},
    )
