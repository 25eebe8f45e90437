"""The face of a workshop as a style sheet: the palette with its own colours, and what stands at the edges of printed pages."""

from __future__ import annotations

from collections.abc import Mapping

from generator.colours import SCHEMES, palette
from generator.compute.results import Results
from generator.language import said, say, term
from generator.pages.words import shown

LONGEST = 70  # signs of a title at the edge of a page
DARK = "@media (prefers-color-scheme: dark)"
PLAIN = " .,-()'"  # signs beside letters and digits that end no string of a style sheet


CAUTION = term(
    "Methanol burns unseen and poisons through the skin; alkali and acid blind; spent media and rags heat by themselves."
)
NO_STATEMENT = term(
    "These pages record what was written down and are no statement that a fuel or a plant is fit for use."
)


def units_text(results: Results) -> str:
    """The basis of the volumes of all pages."""
    return say("Volumes are {basis} unless a page says otherwise.", basis=shown(results).basis)


def colours_css(theme: Mapping[str, Mapping[str, str]]) -> str:
    """The variables of both schemes; `theme` holds a workshop's own colours by scheme and name."""
    light, dark = (_variables(palette(scheme, theme.get(scheme, {}))) for scheme in SCHEMES)
    return f":root {{ color-scheme: light dark; {light} }}\n{DARK} {{ :root {{ {dark} }} }}\n"


def _variables(colours: Mapping[str, str]) -> str:
    return " ".join(f"--{name}: {value};" for name, value in colours.items())


def edges_css(results: Results) -> str:
    """Head and foot of every printed page but the head of the first: whose, as of which day, which page of how many.

    What stands at the foot of a page on a screen stands at the foot of every sheet: it needs no sheet of its own, and a
    sheet that was taken from the others keeps its caution.

    The day is the one that the pages count from, so that the same logbook gives the same bytes.
    """
    title = results.title if len(results.title) <= LONGEST else f"{results.title[: LONGEST - 1]}…"
    private = say("Private: workshop copy") if results.audience == "workshop" else ""
    as_of, of = say("as of {day}", day=said(results.as_of)), say(" of ")
    foot = " ".join((say(CAUTION), say(NO_STATEMENT)))
    return (
        "@page {\n"
        "  font: 8.5pt serif; color: #333;\n"
        f"  @top-left {{ content: {css_string(title)}; }}\n"
        f"  @top-right {{ content: {css_string(as_of)}; }}\n"
        f"  @bottom-center {{ content: {css_string(foot)}; font-size: 7.5pt; width: 11cm; }}\n"
        f"  @bottom-left {{ content: {css_string(private)}; white-space: nowrap; }}\n"
        f"  @bottom-right {{ content: counter(page) {css_string(of)} counter(pages); }}\n"
        "}\n"
        "@page :first { @top-left { content: none; } @top-right { content: none; } }\n"
    )


def css_string(text: str) -> str:
    """A text as a string of a style sheet: every sign but plain ones as its code point, so that none ends the string."""
    return (
        '"'
        + "".join(
            sign if sign.isascii() and (sign.isalnum() or sign in PLAIN) else f"\\{ord(sign):x} "
            for sign in text
        )
        + '"'
    )
