"""A workshop's own colours leave text readable and marks visible: 4.5 to 1 for text, 3 to 1 for marks, light and dark."""

from __future__ import annotations

from collections.abc import Iterator

from generator.colours import SCHEMES, TEXT, Faint, faint
from generator.ledger.ledgers import Ledgers
from generator.problems import Problem


def check(ledgers: Ledgers) -> Iterator[Problem]:
    """Tell of each colour that was set the pair that lacks most."""
    workshop = ledgers.log.workshop
    for scheme in SCHEMES:
        own = getattr(ledgers.log.settings.theme, scheme).own()
        worst: dict[str, Faint] = {}
        for each in faint(scheme, own) if own else ():
            name = each.above if each.above in own else each.ground
            worst.setdefault(name, each)
        for name, each in worst.items():
            kind = "text" if each.least == TEXT else "a mark"
            yield Problem(
                "colour-contrast",
                workshop.at("theme", scheme, name),
                f"'{each.above}' on '{each.ground}' reaches a contrast of {_floored(each.contrast)} to 1 in the {scheme} scheme, and {kind} needs {each.least:g}",
                f"take a {_way(each, name)} '{name}'",
            )


def _way(each: Faint, name: str) -> str:
    """Away from the other of the two: what stands on a light ground gets darker, and the ground of it lighter."""
    return "darker" if each.darker == (name == each.above) else "lighter"


def _floored(contrast: float) -> str:
    """One decimal, never rounded up to what is needed."""
    return f"{int(contrast * 10) / 10:.1f}"
