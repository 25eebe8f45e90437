"""A drawn picture in fewer bytes: what nobody sees left out, what all marks of a group have in common said once."""

from __future__ import annotations

import re

# letters that are not shown, frames without a colour, and what is so anyhow
UNSEEN = re.compile(
    r'<text[^>]*\sopacity="0"[^>]*>[^<]*</text>|<path class="(?:background|foreground)"(?:(?! fill| stroke)[^>])*/>'
)
ANYHOW = re.compile(r' opacity="1"| font-family="[^"]*"')  # the face is the style sheet's
TAG = re.compile(r"<[a-z][^>]*>")
PLACED = re.compile(r' (?:transform|d|x|y|x2|y2)="[^"]*"')
LONG = re.compile(r"(-?\d+\.\d\d)\d+")  # a hundredth of a px is enough
GROUP = re.compile(r'(<g class="mark-[^>]*)>((?:<(?:path|text|line)\s[^<]*(?:</text>)?)+)</g>')
CHILD = re.compile(r"<(?:path|text|line)\s([^>]*?)/?>")
NAMED = re.compile(r'([\w-]+)="([^"]*)"')
# attributes that a group hands on to what is in it
HANDED = ("fill", "stroke", "stroke-width", "stroke-dasharray", "stroke-linejoin", "font-size", "font-style", "text-anchor")  # fmt: skip


def slimmed(picture: str) -> str:
    """The same picture, as it is seen."""
    return GROUP.sub(_handed, TAG.sub(_shorter, UNSEEN.sub("", picture)))


def _shorter(tag: re.Match[str]) -> str:
    return PLACED.sub(_rounded, ANYHOW.sub("", tag[0]))


def _rounded(found: re.Match[str]) -> str:
    return LONG.sub(lambda number: f"{float(number[0]):.2f}", found[0])


def _handed(found: re.Match[str]) -> str:
    """The group with what its marks have in common; a group of one keeps it as it is."""
    opening, inside = found[1], found[2]
    marks = [dict(NAMED.findall(each)) for each in CHILD.findall(inside)]
    if len(marks) < 2:
        return found[0]
    for name in HANDED:
        values = {each.get(name) for each in marks}
        value = next(iter(values))
        if len(values) == 1 and value is not None and f" {name}=" not in opening:
            opening += f' {name}="{value}"'
            inside = CHILD.sub(lambda tag, said=f' {name}="{value}"': tag[0].replace(said, "", 1), inside)
    return f"{opening}>{inside}</g>"
