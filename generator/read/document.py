"""YAML text -> plain values, every scalar as text, each with its line and column.

The C parser's events are walked directly, so that anchors, aliases, tags, repeated keys, several documents and too deep
or too large files are refused before anything is built. What a scalar means is for the grammar (`records.py`) to say.
"""

from __future__ import annotations

import functools
import re
import sys
from array import array
from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Any

from ruamel.yaml import events
from ruamel.yaml.cyaml import CParser  # type: ignore[attr-defined]
from ruamel.yaml.error import MarkedYAMLError, YAMLError

from generator.mending import pointed, with_point
from generator.problems import Mend, Place, Problem, visible
from generator.read.marks import Mark, Marks, Path
from generator.read.syntax import strict_problem, syntax_problem
from generator.read.text import odd_character

MAX_BYTES = 1024 * 1024
MAX_DEPTH = 20
MAX_ITEMS = 20_000

# keys whose values are sentences, in which a '#' may well be meant
_PROSE = frozenset(
    ("for", "method", "name", "note", "notice", "public_note", "reason", "source", "title", "to", "use")
)
# the two halves of a number that a comma has cut
_WHOLE = re.compile(r"[-+<>]?\s*[0-9]+", re.ASCII)
_UNIT_BEHIND = re.compile(r"[0-9]+(?:\s|$|[A-Za-z%°])", re.ASCII)


@dataclass(frozen=True, slots=True)
class Document:
    """One file: its plain data (dict, list, str) and the mark of every path in it."""

    file: str
    data: Any
    marks: Marks
    offset: int = 0
    text: str = ""

    def place(self, *path: str | int, key: bool = False) -> Place:
        """Return the place of a value (or of its key), or of the nearest parent that is there.

        A number that is not there is passed over: a list of one may be written without its list.
        """
        return Place.looked_up(self.file, functools.partial(self._at, path, key))

    def _at(self, path: Path, key: bool) -> tuple[int, int]:
        mark = self.marks.get(path) or self.marks.get(self._nearest(path))
        if mark is None:
            return 1 + self.offset, 1
        line, column = (mark.key_line, mark.key_column) if key else (mark.line, mark.column)
        return line + self.offset, column

    def _nearest(self, path: Path) -> Path:
        found: Path = ()
        for part in path:
            if (*found, part) in self.marks:
                found = (*found, part)
            elif isinstance(part, str):
                break
        return found

    def mend(self, place: Place, found: str, text: str) -> Mend | None:
        """How `found`, a key or a value that begins at a place, is written instead.

        None where it does not stand there letter by letter, as it is folded or holds an escape.
        """
        rows = _rows(self.text)
        line = place.line - self.offset
        row = rows[line - 1] if 0 < line <= len(rows) else ""
        at = place.column - 1
        at += row[at : at + 1] in ("'", '"')
        if not row.startswith(found, at):
            return None
        return Mend(place.line, at + 1, place.line, at + 1 + len(found), text)


@functools.lru_cache(maxsize=1)
def _rows(text: str) -> list[str]:
    return text.split("\n")


@dataclass(slots=True)
class Reading:
    """What came of reading one file: a document, or the problems that kept it from being one."""

    document: Document | None
    problems: list[Problem] = field(default_factory=list)


class _RefusedError(Exception):
    """Stops the walk at something that is not used here."""

    def __init__(self, code: str, message: str, mark: Any, hint: str, other: Any = None) -> None:
        super().__init__(message)
        self.code, self.message, self.mark, self.hint, self.other = code, message, mark, hint, other


def parse(file: str, text: str, offset: int = 0) -> Reading:
    """Read one YAML document; `offset` lines stand before it in the file."""
    walk = _Walk(CParser(text).get_event, file, text, offset)
    try:
        data = walk.document()
    except _RefusedError as error:
        place = _at(file, error.mark, offset)
        related = (_at(file, error.other, offset),) if error.other is not None else ()
        return Reading(None, [Problem(error.code, place, error.message, error.hint, related)])
    except MarkedYAMLError as error:
        return Reading(None, [syntax_problem(file, text, error, offset)])
    except YAMLError:
        problem = Problem(
            "yaml-syntax",
            Place(file, 1 + offset, 1),
            "this file is not YAML",
            "see the examples in the demo logbook",
        )
        return Reading(None, [problem])
    loose = strict_problem(file, text, offset)
    if loose is not None:
        walk.problems.append(loose)
    if any(problem.is_error for problem in walk.problems):
        return Reading(None, walk.problems)
    return Reading(Document(file, data, Marks(data, array("I", walk.numbers)), offset, text), walk.problems)


def _at(file: str, mark: Any, offset: int) -> Place:
    return Place(file, mark.line + 1 + offset, mark.column + 1)


class _Walk:
    """One pass over the parser's events."""

    def __init__(self, next_event: Callable[[], Any], file: str, text: str, offset: int) -> None:
        self.next = next_event
        self.file, self.text, self.offset = file, text, offset
        self.problems: list[Problem] = []
        self.numbers: list[int] = []  # of the marks, in the order of the values

    def document(self) -> Any:
        self.next()
        event = self.next()
        if type(event) is events.StreamEndEvent:
            return None
        if event.explicit and event.version:
            raise _RefusedError(
                "yaml-feature", "a %YAML line is not used here", event.start_mark, "delete it"
            )
        data = self.node(self.next(), 0, None)
        self.next()
        event = self.next()
        if type(event) is not events.StreamEndEvent:
            raise _RefusedError(
                "yaml-feature", "a second document begins here", event.start_mark, "write one file per record"
            )
        return data

    def node(self, event: Any, depth: int, key: Any) -> Any:
        mark = event.start_mark
        first = key or mark
        self.numbers.extend((first.line + 1, first.column + 1, mark.line + 1, mark.column + 1))
        if len(self.numbers) > 4 * MAX_ITEMS:
            raise _RefusedError(
                "file-too-large", f"more than {MAX_ITEMS} entries in one file", mark, "split the file"
            )
        kind = type(event)
        if kind is events.AliasEvent or event.anchor:
            raise _RefusedError(
                "yaml-feature",
                "anchors (&) and aliases (*) are not used here",
                mark,
                "write the value out, or quote it",
            )
        if event.ctag is not None:
            raise _RefusedError(
                "yaml-feature",
                f"the tag {visible(str(event.tag))} is not used here",
                mark,
                "drop it; every value is read as text",
            )
        if kind is events.ScalarEvent:
            if event.style == '"':
                self.refuse_odd(event)
            return event.value
        if depth >= MAX_DEPTH:
            raise _RefusedError("too-deep", f"nested deeper than {MAX_DEPTH} levels", mark, "flatten it")
        return self.sequence(depth + 1) if kind is events.SequenceStartEvent else self.mapping(depth + 1)

    def sequence(self, depth: int) -> list[Any]:
        out: list[Any] = []
        at = 0  # where the numbers of the last item begin
        while type(event := self.next()) is not events.SequenceEndEvent:
            last, at = at, len(self.numbers)
            item = self.node(event, depth, None)
            if out and type(item) is str and type(out[-1]) is str:
                self.comma(out[-1], item, last)
            out.append(item)
        return out

    def mapping(self, depth: int) -> dict[str, Any]:
        out: dict[str, Any] = {}
        begin: dict[str, int] = {}  # where the numbers of each key begin
        before: str | None = None
        while type(event := self.next()) is not events.MappingEndEvent:
            mark = event.start_mark
            if type(event) is not events.ScalarEvent:
                raise _RefusedError("yaml-feature", "a key must be a plain word", mark, "write 'key: value'")
            if event.anchor or event.ctag is not None or event.value == "<<":
                raise _RefusedError(
                    "yaml-feature",
                    "anchors, tags and merge keys are not used here",
                    mark,
                    "write the values out",
                )
            if event.style == '"':
                self.refuse_odd(event)
            if event.value in out:
                first = self.mark(begin[event.value])
                raise _RefusedError(
                    "key-twice", f"'{event.value}' stands twice", mark, "keep one of the two", _First(first)
                )
            value = self.next()
            if before is not None and getattr(value, "value", None) == "" and _UNIT_BEHIND.match(event.value):
                self.comma(out[before], event.value, begin[before])
            before = sys.intern(event.value)  # files of one kind have the same keys
            begin[before] = len(self.numbers)
            out[before] = self.node(value, depth, mark)
            if before in _PROSE and type(value) is events.ScalarEvent and not value.style:
                self.cut(value.end_mark)
        return out

    def refuse_odd(self, event: Any) -> None:
        """Between double quotes an escape can stand for a character that is refused when it is typed."""
        odd = odd_character(event.value)
        if odd is not None:
            raise _RefusedError(
                "odd-character",
                f"{odd} is written here as an escape",
                event.start_mark,
                "delete it and type the text again",
            )

    def mark(self, at: int) -> Mark:
        return Mark(*self.numbers[at : at + 4])

    def comma(self, first: Any, second: str, at: int) -> None:
        """Tell a decimal comma between braces or brackets, where it has made two items of one number."""
        if type(first) is not str or not _WHOLE.fullmatch(first) or not _UNIT_BEHIND.match(second):
            return
        mark = self.mark(at)
        place = Place(self.file, mark.line + self.offset, mark.column)
        told = f"'{first},{second}' has a comma in its number, and so became two entries"
        mend = self.joined(mark, f"{first},{second}")
        self.problems.append(
            Problem("decimal-comma", place, told, with_point(f"{first},{second}"), mend=mend)
        )

    def joined(self, mark: Mark, number: str) -> Mend | None:
        """One number for the two entries, where no blank parts them: in `[2, 4 mL]` a unit may be missing instead."""
        row, at = _rows(self.text)[mark.line - 1], mark.column - 1
        pair = row.startswith(number, at) and not row[:at].endswith(",") and not number[-1].isdigit()
        if not pair or not pointed(number):
            return None
        line = mark.line + self.offset
        return Mend(line, at + 1, line, at + 1 + len(number), pointed(number))

    def cut(self, end: Any) -> None:
        """Tell a text that goes on behind ' #': YAML takes the rest for a comment."""
        rows = _rows(self.text)
        rest = rows[end.line][end.column :] if end.line < len(rows) else ""
        if rest.lstrip().startswith("#"):
            place = Place(
                self.file, end.line + 1 + self.offset, end.column + len(rest) - len(rest.lstrip()) + 1
            )
            hint = "put the whole text in double quotes; or, if a comment is meant, on a line of its own"
            self.problems.append(
                Problem(
                    "text-cut",
                    place,
                    f"'{visible(rest.strip()[:40])}' is a comment and not part of the text before it",
                    hint,
                )
            )


class _First:
    """The mark of an earlier key, counted from 0 as the parser does."""

    def __init__(self, mark: Mark) -> None:
        self.line, self.column = mark.key_line - 1, mark.key_column - 1
