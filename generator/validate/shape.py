"""The shape of the grammar's records: what stands at a place of one, by the annotations of its classes."""

from __future__ import annotations

import types
import typing
from collections.abc import Iterator, Mapping, Sequence
from typing import Annotated, Any, Union, get_args, get_origin

from pydantic import BaseModel
from pydantic.fields import FieldInfo


def at(model: type[BaseModel], path: Sequence[str | int]) -> Any:
    """The annotation at a path; a union of records as a tuple of its branches; None where nothing stands."""
    here: Any = model
    for part in path:
        here = step(here, part)
    return here


def keys_of(model: type[BaseModel], path: Sequence[str | int]) -> list[str]:
    """The keys of the group at a path, in the order of the grammar; none where there is no group."""
    return names(at(model, path))


def paths_to(here: Any, key: str, path: tuple[str | int, ...] = ()) -> Iterator[tuple[str | int, ...]]:
    """Where a key stands in the groups of a record, those in its lists too; 0 stands for any entry of a list."""
    for name, field in fields_of(here).items():
        place, inner = (*path, field.alias or name), bare(field.annotation)
        if place[-1] == key:
            yield place
        if get_origin(inner) in (tuple, list):
            place, inner = (*place, 0), step(inner, 0)
        yield from paths_to(inner, key, place)


def names(here: Any) -> list[str]:
    """The keys of a record, in the order of the grammar; none where it is no record."""
    return [field.alias or name for name, field in fields_of(here).items()]


def field_of(here: Any, name: str | int) -> FieldInfo | None:
    """The field of a record that a key names."""
    return next((field for key, field in fields_of(here).items() if name in (key, field.alias)), None)


def fields_of(here: Any) -> Mapping[str, FieldInfo]:
    """The fields of a record by name; none where it is no record."""
    return here.model_fields if isinstance(here, type) and issubclass(here, BaseModel) else {}


def step(here: Any, part: int | str) -> Any:
    """Follow one part of a location through the annotations of the grammar."""
    if isinstance(here, type) and issubclass(here, BaseModel):
        for name, field in here.model_fields.items():
            if part in (name, field.alias):
                return bare(field.annotation)
        return None
    if isinstance(here, tuple):  # a union: its branch is named by the tag
        for branch in here:
            if tagged(branch, part):
                return branch
        return None
    origin = get_origin(here)
    if origin in (tuple, list):
        return bare(get_args(here)[0])
    if origin is dict:
        return bare(get_args(here)[1])
    return here


def bare(annotation: Any) -> Any:
    """Strip `Annotated` and `None`; a union of records becomes a tuple of its branches."""
    if get_origin(annotation) is Annotated:
        return bare(get_args(annotation)[0])
    if get_origin(annotation) in (Union, types.UnionType):
        branches = [branch for branch in get_args(annotation) if branch is not type(None)]
        return bare(branches[0]) if len(branches) == 1 else tuple(branches)
    return annotation


def tagged(branch: Any, tag: int | str) -> bool:
    """Whether a word names this branch of a union."""
    return any(tag in typing.get_args(field.annotation) for field in fields_of(branch).values())
