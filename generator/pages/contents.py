"""Contents that were titrated, as a reader sees them: with their uncertainty and detection limit, or as bounds."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from generator.language import said, say
from generator.pages.words import plus_minus, significant, unknown


def soap_text(row: Mapping[str, Any], point: str) -> str:
    """A soap result with its detection limit; below it `not detected`."""
    return titrated_text(row, f"soap_{point}")


def whole_text(row: Mapping[str, Any]) -> str:
    """Soap in all of the fuel; empty where the product sample tells the same."""
    ends = [
        (row[f"soap_{name}_low_mg_per_kg"], row[f"soap_{name}_high_mg_per_kg"])
        for name in ("whole", "product")
    ]
    if not row["round_kg"] and (ends[0][1] is None or ends[0] == ends[1]):
        return ""
    low, high = ends[0]
    if low is None or high is None:
        return unknown()
    first, last = significant(low, "", 2), significant(high, "mg/kg", 2)
    if low <= 0:
        return say("at most {last}", last=last)
    return last if first == significant(high, "", 2) else say("{first} to {last}", first=first, last=last)


def titrated_text(row: Mapping[str, Any], name: str) -> str:
    """A titrated content with its uncertainty and detection limit; below the limit `not detected`; bounds as they are."""
    value, standard, limit = (
        row[f"{name}_mg_per_kg"],
        row[f"u_{name}_mg_per_kg"],
        row[f"{name}_limit_mg_per_kg"],
    )
    told = row[f"{name}_detected"]
    if told is None:
        return unknown()
    if told == "no":
        return say("not detected, below {limit}", limit=significant(limit, "mg/kg", 2))
    if told != "yes":
        low, high = row[f"{name}_low_mg_per_kg"], row[f"{name}_high_mg_per_kg"]
    if told == "between":
        return say(
            "between {low} and {high}", low=significant(low, "", 2), high=significant(high, "mg/kg", 2)
        )
    if told in ("at least", "at most"):
        return f"{said(told)} {significant(low if told == 'at least' else high, 'mg/kg', 2)}"
    return say(
        "{value} (detection limit {limit})",
        value=plus_minus(value, standard, "mg/kg"),
        limit=significant(limit, "", 2),
    )
