"""Where in a record the values of a column are: through its lists, whose entries are told apart as the map names them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from generator.exchange.mapping import Map
from generator.exchange.places import Path

_NAMING = ("property", "point", "for", "lot")  # what tells the entries of a list apart


def found(data: Any, path: Path, mapping: Map) -> list[str]:
    """The values at a path: none, one, or several where a list has more entries than the map has places for."""
    here: list[Any] = [data]
    for depth, part in enumerate(path):
        if isinstance(part, int):
            lists = [each if isinstance(each, list) else [each] for each in here]
            here = [entry for each in lists for entry in _entries(each, path[:depth], part, mapping)]
        else:
            here = [each[part] for each in here if isinstance(each, dict) and part in each]
    flat = [item for each in here for item in (each if isinstance(each, list) else [each])]
    return [item for item in flat if isinstance(item, str)]


def _entries(entries: Sequence[Any], above: Path, number: int, mapping: Map) -> Sequence[Any]:
    """The entry that is called as the map calls this one, else the one in its turn; the last place takes the rest."""
    fed = _numbers(above, mapping)
    names = {index: name for index in fed if (name := _name(above, index, mapping))}
    wanted = names.get(number)
    alike = [index for index in fed if names.get(index) == wanted]
    if wanted:
        left = [entry for entry in entries if _is_called(entry, wanted)]
    else:
        left = [entry for entry in entries if not any(_is_called(entry, each) for each in names.values())]
    turn = alike.index(number) if number in alike else len(alike)
    return left[turn:] if number == alike[-1] else left[turn : turn + 1]


def _numbers(above: Path, mapping: Map) -> list[int]:
    """The numbers of the entries of a list that columns of the map feed."""
    depth = len(above)
    paths = (fed.place.path for fed in mapping.columns)
    return sorted({int(path[depth]) for path in paths if len(path) > depth and path[:depth] == above})


def _name(above: Path, number: int, mapping: Map) -> Mapping[str, str]:
    """What the map says that an entry is called; a lot alone is no name, unless there are several entries with one."""
    said = {place.path: text for place, text in mapping.always}
    name = {key: said[(*above, number, key)] for key in _NAMING if (*above, number, key) in said}
    others = [each for each in _numbers(above, mapping) if (*above, each, "lot") in said]
    return name if len(others) > 1 else {key: text for key, text in name.items() if key != "lot"}


def _is_called(entry: Any, name: Mapping[str, str]) -> bool:
    return isinstance(entry, dict) and all(entry.get(key) == text for key, text in name.items())
