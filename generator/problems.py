"""What is wrong with a logbook, and how it is told.

A mistake of the user is a `Problem`, never an exception. Every stage returns its problems; the command sorts
and prints them all at once. The codes live in `generator/data/problems.yaml`, one list with level and meaning.
"""

from __future__ import annotations

import difflib
import functools
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from generator.data import rows


@dataclass(frozen=True, slots=True, order=True)
class Place:
    """A position in a file of the logbook; line and column count from 1, 0 stands for the whole file."""

    file: str
    line: int = 0
    column: int = 0

    def __str__(self) -> str:
        """Write the place as `file:line:column`, or as the file alone."""
        return f"{self.file}:{self.line}:{self.column}" if self.line else self.file


@dataclass(frozen=True, slots=True)
class Rule:
    """One kind of problem: its code, its level (`error` or `warning`) and what it means."""

    code: str
    level: str
    meaning: str
    remedy: str


@dataclass(frozen=True, slots=True)
class Problem:
    """One thing wrong: where, what was found, and what to write instead."""

    code: str
    place: Place
    message: str
    hint: str = ""
    related: tuple[Place, ...] = ()

    @property
    def level(self) -> str:
        """`error` or `warning`, as the list of codes says."""
        return rules()[self.code].level

    @property
    def is_error(self) -> bool:
        """Whether this problem keeps the site from being written."""
        return self.level == "error"

    def order(self) -> tuple[Place, str, str]:
        """Sort key: by place, then by code, so that the same logbook gives the same list."""
        return (self.place, self.code, self.message)


@functools.cache
def rules() -> Mapping[str, Rule]:
    """All codes, by code, in the order of the list."""
    table: dict[str, dict[str, str]] = rows("problems")
    return {code: Rule(code, row["level"], row["meaning"], row["remedy"]) for code, row in table.items()}


def ordered(problems: Iterable[Problem]) -> list[Problem]:
    """Sort by place and drop repetitions."""
    return sorted(set(problems), key=Problem.order)


def nearest(word: str, known: Iterable[str]) -> str | None:
    """Return the known word most like `word`, or None where none is alike."""
    names = list(known)
    by_case = {name.casefold(): name for name in names}
    found = difflib.get_close_matches(word.casefold(), list(by_case), n=1, cutoff=0.6)
    return by_case[found[0]] if found else None


def did_you_mean(word: str, known: Iterable[str]) -> str:
    """Return `did you mean 'volume'?`, or the short list of what is known, or nothing."""
    names = sorted(known)
    found = nearest(word, names)
    if found is not None:
        return f"did you mean '{found}'?"
    return f"known here: {', '.join(names)}" if 0 < len(names) <= 12 else ""


def visible(text: str) -> str:
    """Make control, bidirectional and zero-width characters visible, so that text cannot steer a terminal."""
    return "".join(c if c.isprintable() else f"<U+{ord(c):04X}>" for c in text)


def told(problem: Problem, lines: list[str] | None, prefix: str = "") -> str:
    """Write a problem as people read it: place, level, message and code, then the line, a caret, the remedy.

    `prefix` stands before every path, so that a terminal can open it.
    """
    head = (
        f"{prefix}{visible(str(problem.place))}: {problem.level}: {visible(problem.message)} ({problem.code})"
    )
    parts = [head]
    if lines and 0 < problem.place.line <= len(lines):
        parts += _excerpt(lines[problem.place.line - 1], problem.place.column)
    parts += [f"    also: {visible(prefix)}{visible(str(place))}" for place in problem.related]
    if problem.hint:
        parts.append(f"    hint: {visible(problem.hint)}")
    return "\n".join(parts)


def _excerpt(line: str, column: int, width: int = 100) -> list[str]:
    """Return the line (cut around the column when it is long) and a caret under the column."""
    at = max(column - 1, 0)
    start = max(at - width // 2, 0) if len(line) > width else 0
    before, after = (
        visible(line[start:at].replace("\t", " ")),
        visible(line[at : start + width].replace("\t", " ")),
    )
    return [f"    {before}{after}".rstrip(), f"    {' ' * len(before)}^"]
