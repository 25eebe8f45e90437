"""Find: the results of a search, and below them everything that has a name, by kind, for reading without scripts."""

from __future__ import annotations

from collections.abc import Sequence

from generator.compute.results import Results
from generator.language import say
from generator.pages.search import PATH, entries, registered
from generator.pages.view import Page
from generator.pages.words import count


def page(results: Results, pages: Sequence[Page]) -> Page:
    """The page that a search leads to; what it lists, and what scripts search, is made from the pages of the same audience."""
    found = entries(results, pages)
    register = registered(found)
    named = sum(map(len, register.values()))
    return Page(
        path=PATH,
        title=say("Find"),
        template="find.html",
        section="find",
        finding=say(
            "{thing} with a name, by kind; a search finds results and notes too.",
            thing=count(named, "thing", "things"),
        ),
        content={"register": register, "entries": found},
    )
