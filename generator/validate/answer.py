"""One value against the grammar, as it is typed: the annotation of its key says what it may be."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Annotated, Any

from pydantic import BaseModel, TypeAdapter, ValidationError

from generator.problems import did_you_mean
from generator.validate.shape import at, bare, field_of, keys_of, names, step, tagged

_ANY = "?"  # fits where any text does, and nowhere else


@dataclass(frozen=True, slots=True)
class Fault:
    """Why a value does not fit its place, and what to write instead."""

    message: str
    hint: str


@dataclass(frozen=True, slots=True)
class Slot:
    """What a place of a record takes: a list of entries, a group of keys, or one value; its keys where it is a group."""

    is_list: bool
    keys: tuple[str, ...]


def slot_of(model: type[BaseModel], path: Sequence[str | int]) -> Slot | Fault:
    """What the place at a path takes, or why there is no such place."""
    here: Any = model
    for number, part in enumerate(path):
        known = names(here)
        if isinstance(part, str) and known and part not in known:
            told = did_you_mean(part, known) or f"known here: {', '.join(sorted(known))}"
            return Fault(f"'{'.'.join(map(str, path[: number + 1]))[:64]}' is not a key known here", told)
        here = step(here, part)
        if here is None and not number:  # a number, and no record is a list
            return Fault(
                f"'{str(part)[:64]}' is not a key known here", f"known here: {', '.join(sorted(known))}"
            )
        if here is None:
            return Fault(
                f"nothing stands below '{'.'.join(map(str, path[:number]))[:64]}'", "write it without the dot"
            )
    inner = getattr(here, "__origin__", None) in (tuple, list)
    keys = keys_of(model, (*path, 0) if inner else path)
    return Slot(inner, tuple(keys))


def fault_of(
    model: type[BaseModel], path: Sequence[str | int], value: Any, context: Mapping[str, Any]
) -> Fault | None:
    """Why a value cannot stand at a path of a record; None where it can. `context` as for a whole record."""
    *above, last = path
    field = field_of(at(model, above), last)
    if field is None:
        return None
    annotated: Any = Annotated[(field.annotation, *field.metadata)] if field.metadata else field.annotation
    try:
        TypeAdapter(annotated, config=None).validate_python(value, context=dict(context))
    except ValidationError as error:
        item = error.errors(include_url=False)[0]
        told = item.get("ctx", {})
        return Fault(str(told.get("message", item["msg"])), str(told.get("hint", "")))
    return None


def keys_that_take(
    model: type[BaseModel],
    place: Sequence[str | int],
    keys: Sequence[str],
    text: str,
    context: Mapping[str, Any],
) -> list[str]:
    """The keys of a group that a value without one fits; those that any text fits are not told by it."""
    return [
        key
        for key in keys
        if fault_of(model, (*place, *key.split(".")), text, context) is None
        and fault_of(model, (*place, *key.split(".")), _ANY, context) is not None
    ]


def branch_keys(model: type[BaseModel], path: Sequence[str | int], tag: str) -> list[str]:
    """The keys of one branch of a union of records, by the word that names it."""
    branches = bare(at(model, path))
    found = (
        next((branch for branch in branches if tagged(branch, tag)), None)
        if isinstance(branches, tuple)
        else None
    )
    return names(found)
