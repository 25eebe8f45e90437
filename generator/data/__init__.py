"""Rows that people add to: units, substances, oils, properties, specifications. No code but the loader."""

from __future__ import annotations

import re
from collections.abc import Callable
from importlib import resources
from typing import Any

_WORDS = {"": None, "~": None, "null": None, "true": True, "false": False}
_WHOLE = re.compile(r"[-+]?[0-9]+")
_BROKEN = re.compile(r"[-+]?(?:[0-9]+\.?[0-9]*|\.[0-9]+)(?:[eE][-+]?[0-9]+)?")


def rows(name: str) -> Any:
    """Load `generator/data/NAME.yaml`, one of the tool's own trusted tables.

    The library's parser, and no more of it: it would find out for every word anew what a version of YAML takes it for,
    which took as long as reading a logbook. `tests/test_data.py` holds every table against the library's own reading.
    """
    from ruamel.yaml.cyaml import CParser  # type: ignore[attr-defined]  # noqa: PLC0415 - keeps `--help` fast

    following = CParser(text(f"{name}.yaml")).get_event
    following(), following()  # the stream and the document begin
    return _value(following(), following, {})


def _value(event: Any, following: Callable[[], Any], named: dict[str, Any]) -> Any:
    kind = type(event).__name__
    if kind == "AliasEvent":
        return named[event.anchor]
    found: Any
    if kind == "ScalarEvent":
        found = event.value if event.style else _typed(event.value)
    elif kind == "SequenceStartEvent":
        found = []
        while type(item := following()).__name__ != "SequenceEndEvent":
            found.append(_value(item, following, named))
    else:
        found = {}
        while type(key := following()).__name__ != "MappingEndEvent":
            found[_value(key, following, named)] = _value(following(), following, named)
    if event.anchor:
        named[event.anchor] = found
    return found


def _typed(word: str) -> Any:
    if word in _WORDS:
        return _WORDS[word]
    if word[0] not in "+-.0123456789":
        return word
    if _WHOLE.fullmatch(word):
        return int(word)
    return float(word) if _BROKEN.fullmatch(word) else word


def text(name: str) -> str:
    """Read a file below `generator/data/` as it is."""
    return resources.files(__package__).joinpath(name).read_text(encoding="utf-8")


def folder(name: str) -> list[str]:
    """Name the tables below `generator/data/NAME/`, in folders below it too, without suffix, in order."""
    found: list[str] = []
    for child in resources.files(__package__).joinpath(name).iterdir():
        if child.is_dir():
            found += folder(f"{name}/{child.name}")
        elif child.name.endswith(".yaml"):
            found.append(f"{name}/{child.name.removesuffix('.yaml')}")
    return sorted(found)
