"""The limits of standards, by standard and edition, from `data/specs/`, in the base unit of each property.

They are secondary copies, and each says so. A result beside a limit is a comparison, no statement of
conformity.
"""

from __future__ import annotations

import functools
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from generator.data import folder, rows
from generator.properties import properties
from generator.units import quantity


@dataclass(frozen=True, slots=True)
class Limit:
    """What a property must reach or must not pass; a property told in words has the words that are within."""

    property: str
    low: float | None
    high: float | None
    unit: str
    method: str
    confidence: str
    text: str
    words: tuple[str, ...] = ()
    condition: str = ""
    note: str = ""


@dataclass(frozen=True, slots=True)
class Specification:
    """One edition of a standard: where its limits were read, how sure that is, and the limits by property."""

    standard: str
    edition: str
    source: str
    confidence: str
    limits: Mapping[str, Limit]
    holds_from: str | None = None


@functools.cache
def specifications() -> Mapping[tuple[str, str], Specification]:
    """All editions known here, by standard and edition."""
    found = [_specification(rows(table)) for table in folder("specs")]
    return {(each.standard, each.edition): each for each in found}


def _specification(row: Mapping[str, Any]) -> Specification:
    limits = [_limit(each, row["confidence"]) for each in row["limits"]]
    return Specification(
        standard=row["standard"],
        edition=row["edition"],
        source=rows("sources")[row["source"]]["title"],
        confidence=row["confidence"],
        limits={limit.property: limit for limit in limits},
        holds_from=row["holds_from"],
    )


def _limit(row: Mapping[str, Any], confidence: str) -> Limit:
    known = properties()[row["property"]]
    words = tuple(row.get("words", ()))
    return Limit(
        property=known.name,
        low=_value(row.get("min"), known.kinds),
        high=_value(row.get("max"), known.kinds),
        unit=known.unit,
        method=row["method"],
        confidence=row.get("confidence", confidence),
        text=_told(row.get("min"), row.get("max"), words),
        words=words,
        condition=row.get("condition", ""),
        note=row.get("note", ""),
    )


def _value(text: str | None, kinds: tuple[str, ...]) -> float | None:
    return None if text is None else quantity(text, kinds).value


def _told(low: str | None, high: str | None, words: tuple[str, ...]) -> str:
    """Write the limit as the standard gives it: its digits and its unit are kept."""
    if words:
        return " or ".join(words)
    if low is not None and high is not None:
        return f"{low} to {high}"
    return f"at least {low}" if low is not None else f"at most {high}"
