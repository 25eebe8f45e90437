"""What the computation hands on: one data frame per declared table, and what was written in each batch file."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any
from weakref import WeakValueDictionary

import pandas as pd

from generator.compute.frames import Passing, plain_columns
from generator.compute.names import Names
from generator.compute.offers import Judged
from generator.compute.steps import Worked
from generator.compute.when_asked import WhenAsked
from generator.ledger.sheet import ToWeigh
from generator.records import Page


@dataclass(frozen=True, slots=True)
class Written:
    """One thing as it was written in a batch file; `names` is the id it names, `public` whether anyone may see it."""

    section: str
    label: str
    text: str
    names: str = ""
    public: bool = True


@dataclass(slots=True)
class Results:
    """Everything pages, charts and exports may use. `frames` has one entry per table of `tables.ALL`."""

    title: str
    notice: str | None
    as_of: str
    as_of_basis: str
    currency: str
    display: Mapping[str, str]
    reference_c: float
    specification: str
    specification_source: str
    instruments: Mapping[str, str]
    target_per_l: float | None
    thresholds: Mapping[str, float | None]
    ffa_as: str = "oleic"
    address: str | None = None
    audience: str = "workshop"
    locale: str = "en"
    theme: Mapping[str, Mapping[str, str]] = field(default_factory=dict)
    names: Names = field(default_factory=Names)
    frames: WhenAsked[pd.DataFrame] = field(default_factory=lambda: WhenAsked({}))
    written: Mapping[str, list[Written]] = field(default_factory=dict)
    worked: Mapping[str, list[Worked]] = field(default_factory=dict)
    budgets: dict[str, dict[str, Mapping[str, float]]] = field(default_factory=dict)
    explained: dict[str, tuple[str, ...]] = field(default_factory=dict)
    planned: list[ToWeigh] = field(default_factory=list)
    pages: dict[str, Page] = field(default_factory=dict)
    published: dict[str, bytes] = field(default_factory=dict)
    attached: dict[str, str] = field(default_factory=dict)
    remembered: bool = False  # whether git could be asked for the history of the files
    judged: Mapping[str, Judged] = field(default_factory=dict)
    _rows: dict[str, list[dict[str, Any]]] = field(default_factory=dict, init=False, repr=False)
    _passing: WeakValueDictionary[str, Passing] = field(
        default_factory=WeakValueDictionary, init=False, repr=False
    )

    def rows(self, name: str) -> list[dict[str, Any]]:
        """The rows of a table as plain values, None for unknown, in the order of the frame; made once, to be read only."""
        if name not in self._rows:
            self._rows[name] = list(self.passing(name))
        return self._rows[name]

    def passing(self, name: str) -> Passing:
        """The same of a long table of which nobody keeps every row; its columns are dropped with the last who holds them."""
        found = self._passing.get(name)
        if found is None:
            self._passing[name] = found = Passing(plain_columns(self.frames[name]))
        return found
