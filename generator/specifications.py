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
from generator.language import tell
from generator.properties import properties
from generator.units import quantity


@dataclass(frozen=True, slots=True)
class Limit:
    """What a property must reach or must not pass; a property told in words has the words that are within.

    `methods` are those the standard names. `grades` are those it holds for, none for all. Where the fuel reaches
    `instead`, the standard asks no result of this property.
    """

    property: str
    low: float | None
    high: float | None
    unit: str
    methods: tuple[str, ...]
    confidence: str
    text: str
    words: tuple[str, ...] = ()
    condition: str = ""
    note: str = ""
    grades: tuple[str, ...] = ()
    instead: Limit | None = None


@dataclass(frozen=True, slots=True)
class Specification:
    """One edition of a standard: where its limits were read, how sure that is, its grades, the limits.

    No batch before `year` can have been held to it.
    """

    standard: str
    edition: str
    year: int
    source: str
    confidence: str
    grades: tuple[str, ...]
    limits: tuple[Limit, ...]

    def of_grade(self, grade: str = "") -> dict[str, Limit]:
        """The limits by property, of all grades and of this one."""
        return {limit.property: limit for limit in self.limits if not limit.grades or grade in limit.grades}


@functools.cache
def specifications() -> Mapping[tuple[str, str], Specification]:
    """All editions known here, by standard and edition."""
    found = [_specification(rows(table)) for table in folder("specs")]
    return {(each.standard, each.edition): each for each in found}


def _specification(row: Mapping[str, Any]) -> Specification:
    return Specification(
        standard=row["standard"],
        edition=row["edition"],
        year=row["year"],
        source=rows("sources")[row["source"]]["title"],
        confidence=row["confidence"],
        grades=tuple(row.get("grades", ())),
        limits=tuple(_limit(each, row["confidence"]) for each in row["limits"]),
    )


def _limit(row: Mapping[str, Any], confidence: str) -> Limit:
    known = properties()[row["property"]]
    words = tuple(row.get("words", ()))
    instead = row.get("instead")
    return Limit(
        property=known.name,
        low=_value(row.get("min"), known.kinds),
        high=_value(row.get("max"), known.kinds),
        unit=known.unit,
        methods=tuple(row["methods"]),
        confidence=row.get("confidence", confidence),
        text=limit_text(row.get("min"), row.get("max"), words),
        words=words,
        condition=row.get("condition", ""),
        note=row.get("note", ""),
        grades=tuple(row.get("grades", ())),
        instead=_limit(instead, confidence) if instead is not None else None,
    )


def _value(text: str | None, kinds: tuple[str, ...]) -> float | None:
    return None if text is None else quantity(text, kinds).value


def limit_text(low: str | None, high: str | None, words: tuple[str, ...] = ()) -> str:
    """Write a limit as it was given: its digits and its unit are kept."""
    if words:
        return " or ".join(words)
    if low is not None and high is not None:
        return tell("{first} to {last}", first=low, last=high)
    return tell("at least {low}", low=low) if low is not None else tell("at most {high}", high=high)
