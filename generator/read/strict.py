"""What the C parser reads although it is no YAML, or reads as another text than stands there.

Another program that opens the file would refuse it, or take it otherwise. Few files can hold such a thing at all; those
are walked a second time. One thing is let pass: a bracket or brace that closes at the margin hides nothing from anybody.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from ruamel.yaml import events
from ruamel.yaml.cyaml import CParser  # type: ignore[attr-defined]

# The last bracket that opens in a line and is not closed in it: the search begins at each, and ends at the next.
OPEN = re.compile(r"[\[{][^\[{\]}\n]*$", re.MULTILINE)
# A comment or tab where none may be, a lone hyphen or a question mark between brackets, brackets or quotes over several
# lines, a block of text of which no line is seen. One pattern each: the search for one sign is quicker than for any of six.
_SUSPECT = tuple(
    re.compile(pattern, re.MULTILINE)
    for pattern in (
        r"#(?<=\S#)",
        r"^ *\t",
        r"[\[{,:]\s*(?:-\s*[,\]}]|\?\S)",
        r"-:(?:\s|\Z)",
        OPEN.pattern,
        r"""["'](?<![^\s\[{,:].)(?:(?<=")(?:[^"\\\n]|\\.)*+\\?|(?<=')(?:[^'\n]|'')*+)$""",
        r"[|>][-+0-9]*\s*(?:#.*)?\n\s*\n",
    )
)
_HEADER = re.compile(r"[|>][-+0-9]*#")


@dataclass(frozen=True, slots=True)
class Slip:
    """Where a text is no YAML, counted from 0 in characters, what stands there, and what to write."""

    index: int
    message: str
    hint: str


def is_suspect(text: str) -> bool:
    """Whether a text can hold something that the C parser takes and YAML does not allow, or that it reads otherwise."""
    return any(pattern.search(text) for pattern in _SUSPECT)


def slip(text: str) -> Slip | None:
    """Find the first such thing in a text that the parser takes."""
    return next(_Strict(text).slips(), None)


class _Strict:
    """One pass over the events of a text that the parser takes."""

    def __init__(self, text: str) -> None:
        self.text = text
        self.blocks: list[int] = []  # columns of the block collections that are open
        self.flows: list[int] = []  # where the brackets and braces that are open begin
        self.before = 0

    def slips(self) -> Iterator[Slip]:
        parser = CParser(self.text)
        while parser.check_event():
            event = parser.get_event()
            start, end = event.start_mark.index, event.end_mark.index
            yield from self.comments(self.before, start)
            self.before = max(self.before, end)
            if isinstance(event, events.CollectionEndEvent):
                yield from self.closed(end)
                continue
            if self.flows and self.text[start - 1 : start] == "?":
                yield Slip(start - 1, "a question mark that begins a word", "put the whole word in quotes")
            if isinstance(event, events.ScalarEvent):
                yield from self.scalar(event, start, end)
            elif isinstance(event, events.CollectionStartEvent):
                (self.flows if event.flow_style else self.blocks).append(
                    start if event.flow_style else event.start_mark.column
                )

    def closed(self, end: int) -> Iterator[Slip]:
        if not self.flows:
            self.blocks.pop()
            return
        start = self.flows.pop()
        if not self.flows:
            yield from self.lines(start, end, "]}")

    def scalar(self, event: Any, start: int, end: int) -> Iterator[Slip]:
        if event.style in ("|", ">"):
            yield from self.block(event.value, start)
        elif event.style and not self.flows:
            yield from self.lines(start, end, "")
        elif not event.style and event.value == "-":
            yield Slip(start, "a hyphen for a value", "put it in quotes, or leave the value out")

    def comments(self, start: int, end: int) -> Iterator[Slip]:
        """A comment between two values begins behind a blank."""
        at = self.text.find("#", start, end)
        while at >= 0:
            if at and not self.text[at - 1].isspace():
                yield _unparted(at)
            line = self.text.find("\n", at, end)
            at = self.text.find("#", line, end) if line >= 0 else -1

    def lines(self, start: int, end: int, closing: str) -> Iterator[Slip]:
        """What goes on over several lines stands further right, by blanks, than the group it is in."""
        least = self.blocks[-1] + 1 if self.blocks else 0
        at = self.text.find("\n", start, end) + 1
        while at:
            stop = self.text.find("\n", at, end)
            row = self.text[at : stop if stop >= 0 else end]
            word = row.strip()
            if word and word[0] not in f"#{closing}" and len(row) - len(row.lstrip(" ")) < least:
                yield Slip(
                    at, "a line that goes on with a value and is not indented", "indent it with blanks"
                )
            at = stop + 1

    def block(self, value: str, start: int) -> Iterator[Slip]:
        header = _HEADER.match(self.text, start)
        if header:
            yield _unparted(header.end() - 1)
        if value.strip():
            return
        most, at = 0, self.text.find("\n", start) + 1
        for row in self.text[at:].split("\n") if at else ():
            inside = len(row) - len(row.lstrip(" "))
            if row.strip():
                if (self.blocks[-1] if self.blocks else -1) < inside < most:
                    yield Slip(
                        at + inside, "a line indented less than the blank ones before it", "delete those"
                    )
                return
            most, at = max(most, inside), at + len(row) + 1


def _unparted(at: int) -> Slip:
    return Slip(
        at, "a comment without a blank before it", "put a blank before the #, or quotes around it all"
    )
