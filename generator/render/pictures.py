"""Charts as pictures: SVG that a page holds in itself, drawn at the build, so that no script is needed to see it."""

from __future__ import annotations

import json
import re
from collections.abc import Iterable, Mapping, Sequence
from functools import lru_cache
from html import escape
from typing import Any

import vl_convert
from markupsafe import Markup

from generator.charts import spec
from generator.pages.view import Chart, Page

TAG = re.compile(r"<[a-z][^>]*>")
# A style attribute is refused by the pages' policy; roles inside a picture would be read beside its own name.
DROPPED = re.compile(r' (?:style|role|aria-roledescription|aria-label|aria-hidden)="[^"]*"')
NUMBERED = re.compile(r'(?<=id=")(?:clip|gradient)_?\d+|(?<=url\(#)(?:clip|gradient)_?\d+')


def svg(specification: Mapping[str, Any], values: Sequence[Mapping[str, Any]], id_: str = "chart") -> Markup:
    """One SVG element: ids made from `id_`, no style attributes, its description as its name."""
    filled = {**specification, "data": {"name": "table", "values": list(values)}}
    text = vl_convert.vegalite_to_svg(filled)
    text = TAG.sub(lambda tag: DROPPED.sub("", tag[0]), text[text.index("<svg") :])
    name = escape(str(specification.get("description", "")), quote=True)
    text = _renumbered(text, id_).replace("<svg", f'<svg role="img" aria-label="{name}"', 1)
    return Markup(text)  # Vega escapes the text it was given


def _renumbered(text: str, id_: str) -> str:
    """Ids of clip paths count up through a process: number them within the picture instead."""
    seen: dict[str, str] = {}
    return NUMBERED.sub(lambda match: seen.setdefault(match[0], f"{id_}-clip-{len(seen) + 1}"), text)


def picture(chart: Chart) -> Markup:
    """The picture of a chart; one that stands on two pages is drawn once."""
    return _drawn(chart.kind, json.dumps(chart.params, sort_keys=True), json.dumps(chart.values), chart.id)


@lru_cache(maxsize=64)
def _drawn(kind: str, params: str, values: str, id_: str) -> Markup:
    return svg(spec(kind, json.loads(params)), json.loads(values), f"chart-{id_}")


def specifications(pages: Iterable[Page]) -> dict[str, dict[str, Any]]:
    """The specification of every chart on these pages by its id; ValueError where one id stands for two."""
    found: dict[str, dict[str, Any]] = {}
    for page in pages:
        for chart in page.content.get("charts", ()):
            made = spec(chart.kind, chart.params)
            if found.setdefault(chart.id, made) != made:
                raise ValueError(
                    f"{page.path}: the chart id {chart.id!r} already stands for another specification"
                )
    return dict(sorted(found.items()))
