"""The pages that every page leads to, in the order in which they are named there: where each stands and what it is called."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, NamedTuple

from generator.language import say, term
from generator.pages.view import Page


class Place(NamedTuple):
    """Where a page stands, and its title, which is said where it is shown."""

    path: str
    title: str


PLACES = {
    "home": Place("index.html", term("Home")),
    "batches": Place("batches.html", term("Batches")),
    "quality": Place("quality.html", term("Quality")),
    "drift": Place("drift.html", term("Drift")),
    "costs": Place("costs.html", term("Costs")),
    "oil": Place("oil.html", term("Oil")),
    "columns": Place("columns.html", term("Columns")),
    "tanks": Place("tanks.html", term("Tanks")),
    "tracing": Place("tracing.html", term("Tracing")),
    "methods": Place("methods.html", term("Methods")),
    "glossary": Place("glossary.html", term("Glossary")),
    "problems": Place("problems.html", term("Problems")),
    "downloads": Place("downloads.html", term("Downloads")),
}


def placed(section: str, finding: str, content: Mapping[str, Any]) -> Page:
    """The page that stands first in a section, and gives it its name."""
    place = PLACES[section]
    return Page(place.path, say(place.title), f"{section}.html", finding, section, content)
