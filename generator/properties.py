"""The properties that can be tested, from `data/properties/`: unit, kind, plausible range, words for words."""

from __future__ import annotations

import functools
from collections.abc import Mapping
from dataclasses import dataclass

from generator.data import folder, rows
from generator.units import base_symbol


@dataclass(frozen=True, slots=True)
class Property:
    """A property of oil or fuel that a test can give."""

    name: str
    kinds: tuple[str, ...]
    lowest: float
    highest: float
    meaning: str
    words: tuple[str, ...]
    methods: tuple[str, ...]

    @property
    def unit(self) -> str:
        """The unit in which results are compared and shown."""
        return base_symbol(self.kinds[0]) if self.kinds else ""


@functools.cache
def properties() -> Mapping[str, Property]:
    """All properties, by name."""
    out = {}
    for table in folder("properties"):
        row = rows(table)
        out[row["property"]] = Property(
            name=row["property"],
            kinds=tuple(row.get("kinds", ())),
            lowest=float(row.get("lowest", 0)),
            highest=float(row.get("highest", "inf")),
            meaning=row["meaning"],
            words=tuple(row.get("words", ())),
            methods=tuple(row.get("methods", ())),
        )
    return out
