"""Ids in a text become links: whole words alone, everything else stays text."""

from __future__ import annotations

import re
from collections.abc import Mapping

from markupsafe import Markup, escape

WORD = re.compile(r"[A-Za-z0-9]+(?:-[A-Za-z0-9]+)*")


def linked(text: str, names: Mapping[str, str], root: str, own: str = "") -> Markup:
    """The text with a link at each word that is one of `names`, but for those that lead to the page `own` itself."""
    if names.keys().isdisjoint(WORD.findall(text)):
        return escape(text)
    out, done = [], 0
    for match in WORD.finditer(text):
        href = names.get(match[0])
        if href is None or href == own:
            continue
        out.append(escape(text[done : match.start()]))
        out.append(Markup('<a href="{}">{}</a>').format(f"{root}{href}", match[0]))
        done = match.end()
    return Markup("").join([*out, escape(text[done:])])
