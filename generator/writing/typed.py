"""What was typed for the places of a record -> its data: lists and groups as they are written, dotted keys as groups."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from generator.problems import visible
from generator.read.document import parse
from generator.records import Record
from generator.validate.answer import Fault, slot_of
from generator.writing.scalars import Value

DEEPEST = 12  # parts of a dotted key; no record is nested so deep


def typed(text: str) -> Value:
    """A value as typed: in brackets or braces the list or group it writes."""
    if text[:1] in ("[", "{"):
        reading = parse("value", text)
        if reading.document is not None:
            found: Value = reading.document.data
            return found
    return text


def typed_at(model: type[Record], path: Sequence[str | int], text: str) -> Value | Fault:
    """The same at a place of a record, where a list may be written without its brackets: `2.4 mL, 2.5 mL`."""
    slot = slot_of(model, path)
    if isinstance(slot, Fault):
        return typed(text)
    if text[:1] in ("[", "{") and (slot.keys or slot.is_list):
        problem = next(iter(parse("value", text).problems), None)
        return (
            typed(text)
            if problem is None
            else Fault(f"'{visible(text)[:64]}': {problem.message}", problem.hint)
        )
    if not slot.is_list:
        return typed(text)
    listed = f"[{text}]"
    problem = next(iter(parse("value", listed).problems), None)
    return Fault(problem.message, problem.hint) if problem is not None else typed(listed)


def parts_of(key: str) -> tuple[str | int, ...]:
    """A dotted key as a path; a number in it counts the entries of a list from 0."""
    return tuple(int(part) if _counts(part) else part for part in key.split("."))


def placed(data: Mapping[str, Value], values: Mapping[str, Value]) -> dict[str, Value] | Fault:
    """The data with values set in it by their dotted keys; groups and lists that are not there yet are made."""
    out: Any = _copy(data)
    for key, value in values.items():
        if not _set(out, parts_of(key), value):
            return Fault(
                f"'{visible(key)[:64]}' is not a place in this record",
                "count the entries of a list from 0, and leave none out: oil.0.volume",
            )
    found: dict[str, Value] = out
    return found


def said_in(
    model: type[Record],
    data: Mapping[str, Value],
    pairs: Mapping[str, str],
    at: tuple[str | int, ...] = (),
) -> dict[str, Value] | Fault:
    """The data of a record, or of the group `at` a place of one, with what was typed for its dotted keys."""
    values: dict[str, Value] = {}
    for key, text in pairs.items():
        value = typed_at(model, (*at, *parts_of(key)), text)
        if isinstance(value, Fault):
            return value
        values[key] = value
    return placed(data, values)


def _set(here: Any, path: tuple[str | int, ...], value: Value) -> bool:
    """Set a value below; whether its place can be reached."""
    if len(path) > DEEPEST:
        return False
    for step, inner in zip(path, (*path[1:], None), strict=True):
        part = str(step) if isinstance(here, dict) else step
        if isinstance(here, dict):
            here.setdefault(part, [] if isinstance(inner, int) else {})
        elif not isinstance(here, list) or not isinstance(part, int) or part > len(here):
            return False
        elif part == len(here):
            here.append([] if isinstance(inner, int) else {})
        if inner is None:
            here[part] = value
        here = here[part]
    return True


def _counts(part: str) -> bool:
    return part.isascii() and part.isdigit() and len(part) <= 4


def _copy(value: Value) -> Any:
    if isinstance(value, str):
        return value
    if isinstance(value, Mapping):
        return {key: _copy(item) for key, item in value.items()}
    return [_copy(item) for item in value]
