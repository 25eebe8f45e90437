"""What is wrong with a logbook, and how it is told.

A mistake of the user is a `Problem`, never an exception. Every stage returns its problems; the command sorts
and prints them all at once. The codes live in `generator/data/problems.yaml`, one list with level and meaning.
"""

from __future__ import annotations

import difflib
import functools
import itertools
from collections import Counter
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from generator.data import rows


@functools.total_ordering
class Place:
    """A position in a file of the logbook; line and column count from 1, 0 stands for the whole file.

    They may be looked up when they are asked for: checks and ledgers name far more places than are ever told.
    """

    __slots__ = ("_at", "_look_up", "file")

    def __init__(self, file: str, line: int = 0, column: int = 0) -> None:
        """A place that is known."""
        self.file = file
        self._at: tuple[int, int] | None = (line, column)
        self._look_up: Callable[[], tuple[int, int]] | None = None

    @classmethod
    def looked_up(cls, file: str, look_up: Callable[[], tuple[int, int]]) -> Place:
        """A place in a file of which line and column are looked up once, when one of them is asked for."""
        found = cls.__new__(cls)
        found.file, found._at, found._look_up = file, None, look_up
        return found

    @property
    def at(self) -> tuple[int, int]:
        """Line and column."""
        if self._at is None:
            assert self._look_up is not None
            self._at, self._look_up = self._look_up(), None
        return self._at

    @property
    def line(self) -> int:
        """Counted from 1; 0 for the whole file."""
        return self.at[0]

    @property
    def column(self) -> int:
        """Counted from 1; 0 for the whole file."""
        return self.at[1]

    def __eq__(self, other: object) -> bool:
        """Whether both stand at one place of one file."""
        return isinstance(other, Place) and self.file == other.file and self.at == other.at

    def __lt__(self, other: Place) -> bool:
        """By file, then by line and column."""
        return (self.file, self.at) < (other.file, other.at)

    def __hash__(self) -> int:
        """One for equal places."""
        return hash((self.file, self.at))

    def __repr__(self) -> str:
        """As it would be written in code."""
        return f"Place({self.file!r}, {self.line}, {self.column})"

    def __str__(self) -> str:
        """Write the place as `file:line:column`, or as the file alone."""
        return f"{self.file}:{self.line}:{self.column}" if self.line else self.file


@dataclass(frozen=True, slots=True)
class Mend:
    """What a machine can write instead without guessing: a span of the problem's file, and the text that goes there.

    Lines and columns count from 1; the end is the first character that stays.
    """

    line: int
    column: int
    end_line: int
    end_column: int
    text: str


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
    mend: Mend | None = None

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


def without_values(problem: Problem) -> Problem:
    """The same problem in words that hold no value of a file: what its code means, and the general remedy."""
    rule = rules()[problem.code]
    return replace(problem, message=rule.meaning, hint=rule.remedy, mend=None)


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
    """Return `did you mean 'volume'?`, or the short list of what is known, or nothing.

    A word that is commonly said for a known one comes first, then one that is spelt alike.
    """
    names = sorted(known)
    found = next((name for name in _meant_by(word) if name in names), None) or nearest(word, names)
    if found is not None:
        return f"did you mean '{found}'?"
    return f"known here: {', '.join(names)}" if 0 < len(names) <= 12 else ""


def _meant_by(word: str) -> Sequence[str]:
    meant: Sequence[str] = _synonyms().get(word.casefold().replace(" ", "_"), ())
    return meant


@functools.cache
def _synonyms() -> Mapping[str, Sequence[str]]:
    table: Mapping[str, Sequence[str]] = rows("synonyms")["synonyms"]
    return table


def visible(text: str) -> str:
    """Make control, bidirectional and zero-width characters visible, so that text cannot steer a terminal."""
    return "".join(c if c.isprintable() else f"<U+{ord(c):04X}>" for c in text)


Lines = Callable[[str], Sequence[str] | None]
Paint = Callable[[str, str], str]


def _no_lines(file: str) -> None:
    """No file can be shown."""


def plain(role: str, text: str) -> str:
    """No colour: what a role is, its words say."""
    return text


def told(problem: Problem, lines: Lines = _no_lines, prefix: str = "", paint: Paint = plain) -> str:
    """Write a problem as people read it: place, level, message and code, then the line, a caret, related places, the remedy.

    `lines` gives the lines of a file, `prefix` stands before every path, so that a terminal can open it; `paint` may
    colour a text by its role (`error`, `warning`, `caret`, `hint`).
    """
    level = paint(problem.level, problem.level)
    place = visible(f"{prefix}{problem.place}")
    parts = [f"{place}: {level}: {visible(problem.message)} ({problem.code})"]
    parts += excerpt(problem.place, lines, paint)
    for other in problem.related:
        parts.append(f"    also: {visible(f'{prefix}{other}')}")
        parts += [f"      {line}" for line in excerpt(other, lines, paint)]
    if problem.hint:
        parts.append(f"    {paint('hint', 'hint')}: {visible(problem.hint)}")
    return "\n".join(parts)


def excerpt(place: Place, lines: Lines, paint: Paint = plain, width: int = 100) -> list[str]:
    """The line of a place (cut around the column when it is long) and a caret under the column; nothing where it is not to be had."""
    rows = lines(place.file) if place.line else None
    if not rows or place.line > len(rows):
        return []
    line = rows[place.line - 1]
    at = max(place.column - 1, 0)
    start = max(at - width // 2, 0) if len(line) > width else 0
    before, after = (
        visible(line[start:at].replace("\t", " ")),
        visible(line[at : start + width].replace("\t", " ")),
    )
    return [f"    {before}{after}".rstrip(), f"    {' ' * len(before)}{paint('caret', '^')}"]


@dataclass(frozen=True, slots=True)
class Told:
    """The problems of one file, by place: those to be shown, and of each code that repeats the lines of the rest."""

    file: str
    shown: tuple[Problem, ...]
    rest: Mapping[str, tuple[int, ...]]


def by_file(problems: Iterable[Problem], most: int) -> list[Told]:
    """Group sorted problems by file; of one code in one file at most `most` are shown, the rest are named by their lines."""
    out = []
    for file, group in itertools.groupby(problems, key=lambda problem: problem.place.file):
        shown: list[Problem] = []
        rest: dict[str, list[int]] = {}
        counts: Counter[str] = Counter()
        for problem in group:
            counts[problem.code] += 1
            if counts[problem.code] <= most:
                shown.append(problem)
            else:
                rest.setdefault(problem.code, []).append(problem.place.line)
        out.append(Told(file, tuple(shown), {code: tuple(lines) for code, lines in rest.items()}))
    return out
