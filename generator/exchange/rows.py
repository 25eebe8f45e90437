"""One row of a sheet -> the data of a record: what is known, in the groups that are complete, the rest in its note."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from pydantic import ValidationError

from generator.exchange.mapping import Map
from generator.exchange.places import MODELS, Path, Place, dotted
from generator.records import Record
from generator.validate.answer import Fault
from generator.writing.scalars import Value

Leaves = dict[Path, str]


@dataclass(slots=True)
class Fitted:
    """The data of a record, what was left out of it by group and why, and what does not fit by path."""

    data: dict[str, Value] = field(default_factory=dict)
    left_out: dict[Path, str] = field(default_factory=dict)
    faults: list[tuple[Path, Fault]] = field(default_factory=list)


@dataclass(frozen=True, slots=True)
class Refused:
    """Places whose cells could not be read, and those whose unreadable values go into the note."""

    paths: frozenset[Path] = frozenset()
    to_note: frozenset[Path] = frozenset()


@dataclass(frozen=True, slots=True)
class _Error:
    """What the grammar has against a value or a group: its place in the map, that in the record, why, what is meant."""

    path: Path
    loc: Path
    fault: Fault
    instead: str


def fitted(
    said: Mapping[Path, str], mapping: Map, note: Notes, context: Mapping[str, Any], known: Refused
) -> Fitted:
    """Make a record of what a row said by path; a group that lacks what the grammar wants goes into the note.

    A value that does not fit is a fault; the rest is looked at all the same, so that all are told at once.
    """
    out, left = Fitted(), dict(said)
    while True:
        leaves = _leaves(left, mapping, note, out)
        data, origin = _nested(leaves, ())
        errors = _errors(MODELS[mapping.records], data, origin, context)
        if not errors:
            out.data = data
            return out
        values = [error for error in errors if error.path in leaves]
        own = [(error.path, error.fault) for error in values if error.path not in left]
        if own:  # of the map, or of the note as a whole
            out.faults += own
            return out
        for error in values:
            _take_out(error, left, note, out, known)
        if values:
            continue
        groups = [error for error in errors if error.path]
        for error in groups:
            out.left_out.setdefault(error.path, error.fault.message)
            left = {path: text for path, text in left.items() if path[: len(error.path)] != error.path}
        if not groups:  # what is left to tell is of the record as a whole
            missing = {path[:1] for path in (*known.paths, *(path for path, _ in out.faults))}
            roots = [error for error in errors if error.loc[-1:] not in missing]
            out.faults += [((), _of_root(error.fault, out.left_out, error.loc)) for error in roots]
            return out


def _leaves(left: Leaves, mapping: Map, note: Notes, out: Fitted) -> Leaves:
    """What goes into the record: what is left of the row, the map's own where it joins, the note."""
    own = {
        path: text
        for path, text in constants(mapping, left).items()
        if not any(path[: len(group)] == group for group in out.left_out)
    }
    text = note.text(out.left_out)
    return left | own | ({("note",): text} if text else {})


def _take_out(error: _Error, left: Leaves, note: Notes, out: Fitted, known: Refused) -> None:
    """Write a value as it is meant without doubt, else take it out of the row: into the note, or as a fault."""
    if error.instead and left[error.path] != error.instead:
        left[error.path] = error.instead
        return
    del left[error.path]
    seen = note.cells.pop(error.path, None)
    if error.path in known.to_note and seen:
        note.take(*seen)
    else:
        out.faults.append((error.path, error.fault))


def unchecked(said: Mapping[Path, str], mapping: Map, note: Notes) -> dict[str, Value]:
    """What a row said as the data of a record, complete or not; to be compared, never to be written."""
    text = note.text({})
    leaves = dict(said) | constants(mapping, said) | ({("note",): text} if text else {})
    found: dict[str, Value] = _nested(leaves, ())[0]
    return found


def _of_root(fault: Fault, left_out: Mapping[Path, str], loc: Path) -> Fault:
    """Why the record as a whole cannot be: the group that was left out, where its key is the one that is missing."""
    deeper = [(path, why) for path, why in left_out.items() if loc and path[0] == loc[-1]]
    if not deeper:
        key = str(loc[-1]) if loc else ""
        return Fault(
            fault.message, fault.hint or f"write it into the sheet, or '{key}' under 'always' in the map"
        )
    path, why = deeper[0]
    return Fault(f"{dotted(path)}: {why}", "write it into the sheet, or under 'always' in the map")


def constants(mapping: Map, said: Mapping[Path, str]) -> Leaves:
    """What the map holds for every row, where the row says something of the group it belongs to."""
    fed = [column.place.path for column in mapping.columns]
    out = {}
    for place, text in mapping.always:
        if place.behind:
            continue
        above = next(
            (
                place.path[:depth]
                for depth in range(len(place.path) - 1, -1, -1)
                if any(path[:depth] == place.path[:depth] for path in fed)
            ),
            (),
        )
        if not above or any(path[: len(above)] == above for path in said):
            out[place.path] = text
    return out


def _nested(leaves: Mapping[Path, str], at: Path) -> tuple[Any, dict[Path, Path]]:
    """Groups and lists of the leaves below a path; lists are closed up, and `origin` says which entry came from where."""
    heads = list(dict.fromkeys(path[len(at)] for path in leaves if len(path) > len(at)))
    listed = bool(heads) and isinstance(heads[0], int)
    if listed:
        heads.sort(key=int)
    origin: dict[Path, Path] = {}
    out: Any = [] if listed else {}
    for number, head in enumerate(heads):
        path = (*at, head)
        here: str | int = number if listed else head
        below = {each: value for each, value in leaves.items() if each[: len(path)] == path}
        value, inner = (below[path], {}) if path in below else _nested(below, path)
        origin |= {(here,): path, **{(here, *each): place for each, place in inner.items()}}
        if listed:
            out.append(value)
        else:
            out[head] = value
    return out, origin


def _errors(
    model: type[Record], data: Any, origin: Mapping[Path, Path], context: Mapping[str, Any]
) -> list[_Error]:
    """What the grammar has against some data."""
    try:
        model.model_validate(data, context=dict(context))
    except ValidationError as error:
        return [_told(item, origin) for item in error.errors(include_url=False)]
    return []


def _told(item: Any, origin: Mapping[Path, Path]) -> _Error:
    told, loc = item.get("ctx", {}), item["loc"]
    path = _original(loc, origin)
    if item["type"] == "missing":
        return _Error(path, loc, Fault(f"'{loc[-1]}' is missing", ""), "")
    fault = Fault(str(told.get("message", item["msg"])), str(told.get("hint", "")))
    return _Error(path, loc, fault, str(told.get("instead", "")))


def _original(loc: Path, origin: Mapping[Path, Path]) -> Path:
    """The path before lists were closed up, of a location in the grammar's words."""
    found: Path = ()
    for part in loc:
        if (*found, part) in origin:
            found = (*found, part)
    return origin.get(found, ())


@dataclass(slots=True)
class Notes:
    """The note of a row: its own text, lines with a heading before them, and what had no complete group to go to.

    `lines` and `cells` hold heading and text, `cells` by the path that they feed.
    """

    own: list[str] = field(default_factory=list)
    lines: list[tuple[str, str]] = field(default_factory=list)
    cells: dict[Path, tuple[str, str]] = field(default_factory=dict)

    def take(self, heading: str, text: str) -> None:
        """Take a text of its own, or a line where there is a heading."""
        if heading:
            self.lines.append((heading, text))
        else:
            self.own.append(text)

    def text(self, left_out: Mapping[Path, str]) -> str:
        """The note, where these groups are left out."""
        kept = [
            pair
            for path, pair in self.cells.items()
            if any(path[: len(group)] == group for group in left_out)
        ]
        return "\n".join([*self.own, *(line(*pair) for pair in dict.fromkeys((*self.lines, *kept)))])


def line(heading: str, text: str) -> str:
    """A line of a note that says what a column held."""
    return f"{heading}: {' / '.join(text.split(chr(10)))}"


def result_of(place: Place, said: Mapping[Path, str]) -> str | None:
    """The property of the test that a place is the result of; None where it is no result, nothing known where it is open."""
    if place.sort != "result":
        return None
    return said.get((*place.path[:-1], "property"), "")
