"""One free text of the logbook as a page of its own."""

from __future__ import annotations

from generator.pages.view import Page
from generator.records import Page as FreeText


def path(text: FreeText) -> str:
    """Where it stands."""
    return f"pages/{text.id.casefold()}.html"


def page(text: FreeText) -> Page:
    """One page of the logbook's own."""
    return Page(
        path=path(text),
        title=text.title,
        template="page.html",
        section=f"pages/{text.id}",
        finding="",
        content={"body": text.text},
    )
