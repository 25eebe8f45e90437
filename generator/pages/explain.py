"""What each problem means: one page with an anchor for every code, the same text as the command tells."""

from __future__ import annotations

from generator.explaining import FIX, by_area
from generator.language import say
from generator.pages.view import Page
from generator.pages.words import count

PATH = "explained.html"


def page() -> Page:
    """Every code by area, with meaning, reason, remedy and example."""
    areas = by_area()
    return Page(
        path=PATH,
        title=say("Problems explained"),
        template="explain.html",
        section="problems",
        finding=say(
            "{kind} of problems that the check can tell: what each means, why it matters, how it is mended.",
            kind=count(sum(map(len, areas.values())), "kind", "kinds"),
        ),
        content={
            "fix": say(FIX),
            "areas": [{"name": say(area), "problems": entries} for area, entries in areas.items()],
        },
    )
