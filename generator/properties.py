"""The properties that can be tested, from `data/properties/`: unit, kind, plausible range, words for words."""

from __future__ import annotations

import functools
import re
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


def method_named(text: str) -> str:
    """The standard method that a text names, as the tables write it; the text itself where it names none of them.

    `din en iso 12937:2000` is EN ISO 12937: a national prefix, a year and the case make no other method.
    """
    bare = _plain(text)
    return _methods().get(bare, text)


@functools.cache
def properties_of(method: str) -> tuple[str, ...]:
    """The properties that a standard method gives; none for a method that no table names."""
    return tuple(name for name, row in properties().items() if method in row.methods)


@functools.cache
def _methods() -> Mapping[str, str]:
    return {_plain(method): method for row in properties().values() for method in row.methods}


def _plain(text: str) -> str:
    bare = re.sub(r"[\s_-]+", " ", text.strip()).casefold()
    bare = re.sub(r"^(?:din|bs|nf|une|uni|i\.s\.) (?=en )", "", bare)
    return re.sub(r"(?<=\d):\d{4}.*$", "", bare).replace(" ", "")
