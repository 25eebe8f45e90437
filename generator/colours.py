"""Colours of the site: the palette of each scheme, a workshop's own laid over it, and whether text can be read on it."""

from __future__ import annotations

import functools
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from generator.data import rows

TEXT, MARKS = 4.5, 3.0  # least contrast; WCAG 2.2, success criteria 1.4.3 and 1.4.11
GREY_MIDDLE = (
    0.18  # luminance from which a ground counts as light: black and white stand out about equally on it
)
SCHEMES = ("light", "dark")
# text -> the grounds it stands on: the page, a row under the pointer, a place that a link led to
_WRITTEN: Mapping[str, tuple[str, ...]] = {
    "ink": ("paper", "faint", "mark"),
    "soft": ("paper", "faint"),
    "link": ("paper", "faint", "mark"),
}


@dataclass(frozen=True, slots=True)
class Faint:
    """Two colours of a scheme that are too like each other: which stands on which, their contrast, what is needed."""

    scheme: str
    above: str
    ground: str
    contrast: float
    least: float
    darker: bool


@functools.cache
def _schemes() -> Mapping[str, Mapping[str, Mapping[str, str]]]:
    loaded: Any = rows("colours")
    return {scheme: loaded[scheme] for scheme in SCHEMES}


def palette(scheme: str, own: Mapping[str, str]) -> dict[str, str]:
    """Every colour of a scheme by name, as `#rrggbb`; `own` are a workshop's.

    The rule of the margin follows an accent of one's own, half mixed into the paper.
    """
    found = {
        name: value
        for group in ("notebook", "kept", "charts")
        for name, value in _schemes()[scheme][group].items()
    }
    found |= own
    if "accent" in own:
        found["margin-rule"] = mixed(found["accent"], found["paper"])
    return found


def faint(scheme: str, own: Mapping[str, str]) -> list[Faint]:
    """The pairs of a scheme that lack contrast, the worst first."""
    colours = palette(scheme, own)
    found = []
    for above, ground, least in _pairs(scheme):
        ratio = contrast(colours[above], colours[ground])
        if ratio < least:
            found.append(Faint(scheme, above, ground, ratio, least, luminance(colours[ground]) > GREY_MIDDLE))
    return sorted(found, key=lambda each: each.contrast / each.least)


def _pairs(scheme: str) -> Iterator[tuple[str, str, float]]:
    for above, grounds in _WRITTEN.items():
        yield from ((above, ground, TEXT) for ground in grounds)
    yield from ((name, "paper", MARKS) for name in ("accent", *_schemes()[scheme]["charts"]))


def contrast(first: str, second: str) -> float:
    """Contrast of two colours, from 1 to 21, by the definition of WCAG 2.2 (published formula)."""
    high, low = sorted((luminance(first), luminance(second)), reverse=True)
    return (high + 0.05) / (low + 0.05)


def luminance(colour: str) -> float:
    """Relative luminance of `#rrggbb`, from 0 to 1, by the definition of WCAG 2.2 (published formula)."""
    red, green, blue = (
        part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4
        for part in (value / 255 for value in _parts(colour))
    )
    return float(0.2126 * red + 0.7152 * green + 0.0722 * blue)


def mixed(first: str, second: str) -> str:
    """The colour halfway between two, channel by channel."""
    pairs = zip(_parts(first), _parts(second), strict=True)
    return "#" + "".join(f"{(one + other) // 2:02x}" for one, other in pairs)


def _parts(colour: str) -> tuple[int, ...]:
    return tuple(int(colour[place : place + 2], 16) for place in (1, 3, 5))
