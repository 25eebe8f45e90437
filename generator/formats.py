"""The format in which a logbook is kept, told from others, and the steps that lead from an older one to the next.

There is one format so far, and so no step. A key that is added is no new format; one that an old logbook holds and that
would be refused, or read in another way, is.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import Any

from generator.problems import Mend, Place, Problem
from generator.read.document import Document
from generator.records import FORMAT


@dataclass(frozen=True, slots=True)
class Change:
    """One key or one value that is written otherwise, by its path in a document."""

    path: tuple[str | int, ...]
    text: str
    is_key: bool = False

    def found(self, document: Document) -> str:
        """What is written there."""
        data = document.data
        for part in self.path:
            data = data[part]
        return str(self.path[-1] if self.is_key else data)

    def mend(self, document: Document) -> Mend | None:
        """The span and what goes there; None where it is not written letter by letter, as it holds an escape or is folded."""
        return document.mend(self.place(document), self.found(document), self.text)

    def place(self, document: Document) -> Place:
        """Where it stands."""
        return document.place(*self.path, key=self.is_key)


@dataclass(frozen=True, slots=True)
class Step:
    """What is written otherwise in the next format: `changes` gets the folder of a document ("" for `logbook.yaml`) and its data.

    It must see by what is written whether that is old: a migration that was cut short is finished by another.
    """

    begins: int
    changes: Callable[[str, Any], Iterable[Change]]


STEPS: tuple[Step, ...] = ()


def written_format(workshop: Document) -> int | None:
    """The format that a `logbook.yaml` names; None where it names none that could be one."""
    text = workshop.data.get("format") if isinstance(workshop.data, dict) else None
    return int(text) if isinstance(text, str) and re.fullmatch("0|[1-9][0-9]{0,3}", text, re.ASCII) else None


def steps_from(found: int) -> list[Step]:
    """The steps from a format to the one of the grammar, in order; none where they do not reach from one to the other."""
    by_format = {step.begins: step for step in STEPS}
    wanted = range(found, int(FORMAT))
    return [by_format[number] for number in wanted] if all(number in by_format for number in wanted) else []


def other_format(workshop: Document) -> Problem | None:
    """Why the grammar cannot judge a logbook that is kept in another format: a newer one, or one that can be migrated."""
    found = written_format(workshop)
    if found is None or found == int(FORMAT):
        return None
    if found > int(FORMAT):
        message = f"this logbook is kept in format {found}, and the newest known here is {FORMAT}"
        hint = "install a newer esterday; nothing else was checked"
    elif steps_from(found):
        message = f"this logbook is kept in format {found}, and {FORMAT} is read here"
        hint = "see 'esterday migrate'; nothing else was checked"
    else:
        return None
    return Problem("other-format", workshop.place("format"), message, hint)
