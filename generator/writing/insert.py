"""One addition to a file: where it goes and its text. Everything that was there stays, byte by byte.

A file that is read and dumped as a whole keeps its comments, and loses its line breaks, quotes and spacing here and
there. So the parser's marks say where the addition goes, and nothing else is written.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from ruamel.yaml import YAML
from ruamel.yaml.nodes import MappingNode, Node, ScalarNode, SequenceNode

from generator.writing.scalars import Value, entry, flow, pair, scalar

Path = tuple[str | int, ...]

_DATE = re.compile(r"\d{4}-\d{2}-\d{2}")


@dataclass(frozen=True, slots=True)
class Insertion:
    """A text and the position, in characters, at which it goes into another."""

    at: int
    text: str

    def into(self, text: str) -> str:
        """Return the text with the addition in it."""
        return text[: self.at] + self.text + text[self.at :]

    def shown_in(self, text: str) -> str:
        """The lines that were added; the whole line where it goes into one."""
        if "\n" in self.text:
            return self.text.strip("\r\n")
        after = self.into(text)
        return after[after.rfind("\n", 0, self.at) + 1 :].split("\n", 1)[0].rstrip("\r")

    def remarked(self, remark: str) -> Insertion:
        """The same with a comment behind its first line; as it is where it stands among others in one line."""
        first = re.match(r"(?:\r?\n)?[^\r\n]+(?=\r?\n)", self.text)
        if not remark or first is None:
            return self
        return Insertion(self.at, first[0] + remark + self.text[first.end() :])


class AlreadyWrittenError(Exception):
    """There is a value at this place; `line` counts from 1."""

    def __init__(self, path: Path, line: int) -> None:
        """Keep where it is."""
        super().__init__(path, line)
        self.path, self.line = path, line


class NoPlaceError(Exception):
    """What is there is neither a group nor a list, so that nothing can be added to it."""


def inserted(text: str, path: Path, value: Value, order: Sequence[str], *, to_list: bool) -> Insertion:
    """Place a value at `path`, or as a further entry of the list there; -1 in a path is the last entry.

    `order` names the keys of the group that gets a new key, in the order of the work. An entry with a date goes before
    those at the end of its list that are of a later day.
    Raises AlreadyWrittenError and NoPlaceError.
    """
    node: Node = YAML(typ="safe", pure=True).compose(text)
    for depth, part in enumerate(path):
        found = _child(node, part)
        if found is None:
            if not isinstance(node, MappingNode) or not isinstance(part, str):
                raise NoPlaceError
            rest = [step for step in path[depth + 1 :] if isinstance(step, str)]
            return _new_key(text, node, part, _wrapped(rest, [value] if to_list else value), order)
        node = found
    if not to_list:
        raise AlreadyWrittenError(path, node.start_mark.line + 1)
    if not isinstance(node, SequenceNode):
        raise NoPlaceError
    return _new_entry(text, node, value)


def _wrapped(keys: Sequence[str], value: Value) -> Value:
    return {keys[0]: _wrapped(keys[1:], value)} if keys else value


def _child(node: Node, part: str | int) -> Node | None:
    if isinstance(node, MappingNode) and isinstance(part, str):
        return next((value for key, value in node.value if key.value == part), None)
    if isinstance(node, SequenceNode) and isinstance(part, int) and part < len(node.value):
        return node.value[part]  # type: ignore[no-any-return]
    return (
        node if isinstance(part, int) and isinstance(node, MappingNode) else None
    )  # a list of one, written bare


def _new_entry(text: str, node: SequenceNode, value: Value) -> Insertion:
    before = node.value[: len(node.value) - _later(node, value)]
    if node.flow_style:
        return _between(node, before[-1] if before else None, flow(value))
    like = before[-1] if before else node.value[0]
    block = isinstance(like, MappingNode) and not like.flow_style
    lines = entry(value, node.start_mark.column, block=block)
    return _lines(text, _end(text, like), lines) if before else _lines_above(text, like, lines)


def _later(node: SequenceNode, value: Value) -> int:
    """How many entries at the end of a list are of a later time than the one to come; on one day only where both have an hour."""
    mine = value.get("date") if isinstance(value, Mapping) else None
    if not isinstance(mine, str):
        return 0
    count = 0
    for item in reversed(node.value):
        written = _child(item, "date")
        theirs = written.value if isinstance(written, ScalarNode) else ""
        length = min(len(mine), len(theirs))
        if not _DATE.match(mine) or not _DATE.match(theirs) or theirs[:length] <= mine[:length]:
            break
        count += 1
    return count


def _new_key(text: str, node: MappingNode, key: str, value: Value, order: Sequence[str]) -> Insertion:
    """Behind the last of the keys that come before it in the order of the work; at the end where there is none."""
    names = {name.value: number for number, (name, _) in enumerate(node.value)}
    before = order[: order.index(key)] if key in order else ()
    number = max((names[name] for name in before if name in names), default=len(node.value) - 1)
    last = node.value[number][1] if node.value else None
    if node.flow_style:
        return _between(node, last, f"{scalar(key, flow=True)}: {flow(value)}")
    assert last is not None
    return _lines(text, _end(text, last), pair(key, value, node.value[0][0].start_mark.column))


def _between(node: Node, last: Node | None, text: str) -> Insertion:
    """Into brackets or braces, behind what is there, or before all of it."""
    if last is None:
        return Insertion(node.start_mark.index + 1, f"{text}, " if node.value else text)
    return Insertion(last.end_mark.index, f", {text}")


def _end(text: str, node: Node) -> int:
    """Where the content of a node ends; the parser's own mark of a block lies behind the comments that follow it."""
    if isinstance(node, MappingNode) and not node.flow_style and node.value:
        return _end(text, node.value[-1][1])
    if isinstance(node, SequenceNode) and not node.flow_style and node.value:
        return _end(text, node.value[-1])
    end: int = node.end_mark.index
    if isinstance(node, ScalarNode) and node.style in ("|", ">"):
        head = text[node.start_mark.index :].split("\n", 1)[0]
        return end - 1 if "+" in head.split("#")[0] else len(text[:end].rstrip())
    return end


def _lines_above(text: str, node: Node, lines: Sequence[str]) -> Insertion:
    """Whole lines above the one in which an entry begins."""
    start = text.rfind("\n", 0, node.start_mark.index) + 1
    return Insertion(start, "".join(line + _newline(text) for line in lines))


def _lines(text: str, after: int, lines: Sequence[str]) -> Insertion:
    """Whole lines below the one in which `after` lies, with the line ends of the file."""
    newline = _newline(text)
    end = text.find("\n", after)
    if end < 0:
        return Insertion(len(text), newline + newline.join(lines))
    return Insertion(end + 1, "".join(line + newline for line in lines))


def _newline(text: str) -> str:
    """How the lines of a file end."""
    return "\r\n" if "\r\n" in text else "\n"
