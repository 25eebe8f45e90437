"""The order in which a record is written: that of the grammar, in its groups and lists too."""

from __future__ import annotations

from collections.abc import Mapping

from generator.records import Record
from generator.validate.shape import keys_of
from generator.writing.scalars import Value


def arranged(model: type[Record], value: Value, path: tuple[str | int, ...] = ()) -> Value:
    """The data with its keys in the order of the grammar, unknown ones last."""
    if isinstance(value, Mapping):
        return {
            key: arranged(model, value[key], (*path, key)) for key in keys_in_order(model, list(value), path)
        }
    if isinstance(value, str):
        return value
    return [arranged(model, each, (*path, number)) for number, each in enumerate(value)]


def keys_in_order(model: type[Record], keys: list[str], path: tuple[str | int, ...] = ()) -> list[str]:
    """Keys of one group in the order of the grammar, unknown ones last, as they came."""
    rank = {key: number for number, key in enumerate(keys_of(model, path))}
    return sorted(keys, key=lambda key: rank.get(key, len(rank)))
