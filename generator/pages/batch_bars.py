"""The small bars of a batch's page: soap on its way, the parts of a litre's cost."""

from __future__ import annotations

from typing import Any

from generator.compute.costs import PARTS
from generator.language import say
from generator.pages.contents import soap_text
from generator.pages.cost_names import NAMES
from generator.pages.parts import Row
from generator.pages.words import Shown


def soap_bars(row: Row, vessels: int) -> list[dict[str, Any]]:
    """Bars on a scale whose full length is the feed, or the largest of them."""
    points = {say("Feed"): "feed", say("Between"): "between", say("Product"): "product"}
    if vessels < 2:
        del points[say("Between")]
    ends = {point: _soap_end(row, point) for point in points.values()}
    most = max(ends.values())
    if most <= 0:
        return []
    return [
        {
            "label": label,
            "text": soap_text(row, point),
            "censored": row[f"soap_{point}_detected"] not in (None, "yes"),
            "share": round(100 * ends[point] / most, 1),
        }
        for label, point in points.items()
    ]


def _soap_end(row: Row, point: str) -> float:
    """How long a bar is: the content, or of one that is bounded the most it can be, or the least."""
    names = ("mg_per_kg", "high_mg_per_kg", "low_mg_per_kg")
    return next(
        (row[f"soap_{point}_{name}"] for name in names if row[f"soap_{point}_{name}"] is not None), 0.0
    )


def cost_bars(cost: Row, view: Shown) -> list[dict[str, Any]]:
    """Cost per litre by part, on the scale of the largest."""
    known = {part: cost[f"{part}_per_l"] for part in PARTS}
    most = max((value for value in known.values() if value is not None), default=0.0)
    if most <= 0:
        return []
    return [
        {
            "label": say(NAMES[part]),
            "text": view.per_volume(value),
            "censored": False,
            "share": round(100 * max(value or 0.0, 0.0) / most, 1),
        }
        for part, value in known.items()
        if value is None or value != 0
    ]
