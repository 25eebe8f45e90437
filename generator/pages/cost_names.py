"""The names of the parts of a cost, and where they stand beside a chart of bars: at their height in the last bar, and none on another."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from generator.language import term

NAMES = {
    "oil": term("Oil"),
    "methanol": term("Methanol"),
    "catalyst": term("Catalyst"),
    "energy": term("Energy"),
    "other": term("Other"),
    "credits": term("Credits"),
    "media": term("Media"),
    "overheads": term("Overheads"),
    "labour": term("Labour"),
}
LINE = 1 / 15  # of the highest bar, what a line of text takes of a plot


def beside_last(values: Sequence[Mapping[str, Any]]) -> list[dict[str, Any]]:
    """Each part and its height beside the last bar; rows {batch, part, per_l}, unknown parts without height.

    What is below zero stands below the bar; a part that no bar has is not named.
    """
    drawn = {row["part"] for row in values if row["per_l"]}
    totals: dict[str, float] = {}
    for row in values:
        totals[row["batch"]] = totals.get(row["batch"], 0.0) + max(row["per_l"] or 0.0, 0.0)
    newest = next(reversed(totals), None)
    line = LINE * max(totals.values(), default=0.0)
    last = {
        row["part"]: row["per_l"] or 0.0 for row in values if row["batch"] == newest and row["part"] in drawn
    }
    out: list[dict[str, Any]] = []
    below, least = 0.0, line / 2
    for part, height in last.items():
        if height < 0:
            out.append({"part": part, "at": round(height / 2, 4)})
            continue
        at = max(below + height / 2, least)
        out.append({"part": part, "at": round(at, 4)})
        below, least = below + height, at + line
    return out
