"""Plain values -> YAML text in the hand of the logbook: plain words where they may be, double quotes where they must."""

from __future__ import annotations

import io
import json
from collections.abc import Mapping, Sequence
from typing import TypeAlias

from ruamel.yaml import YAML
from ruamel.yaml.emitter import Emitter

Value: TypeAlias = "str | Sequence[Value] | Mapping[str, Value]"

_OPEN = ("plan", "polish", "titration")  # groups that grow: a key a line
LONGEST_LINE = 100  # a group longer than this goes on lines of its own
_ANALYSER = Emitter(io.StringIO(), allow_unicode=True, dumper=YAML(pure=True))


def scalar(text: str, *, flow: bool) -> str:
    """One value; `flow` where it stands between brackets or braces, in which a comma, a colon or a question mark cuts it."""
    found = _ANALYSER.analyze_scalar(text)
    plain = found.allow_flow_plain and not {":", "?"} & set(text) if flow else found.allow_block_plain
    return text if plain and text and text[0] not in "?!" else json.dumps(text, ensure_ascii=False)


def flow(value: Value) -> str:
    """A value on one line: `{lot: oil-031, volume: 190 L}`."""
    if isinstance(value, str):
        return scalar(value, flow=True)
    if isinstance(value, Mapping):
        return "{" + ", ".join(f"{scalar(key, flow=True)}: {flow(item)}" for key, item in value.items()) + "}"
    return "[" + ", ".join(flow(item) for item in value) + "]"


def pair(key: str, value: Value, indent: int = 0) -> list[str]:
    """The lines of `key: value` in block style; entries of a list stand on a line each."""
    pad = " " * indent
    name = f"{pad}{scalar(key, flow=False)}:"
    if isinstance(value, str):
        return [f"{name} {scalar(value, flow=False)}"]
    if isinstance(value, Mapping):
        if _is_short(value) and key not in _OPEN:
            return [f"{name} {flow(value)}"]
        return [name, *(line for inner, item in value.items() for line in pair(inner, item, indent + 2))]
    if all(isinstance(item, str) for item in value):
        return [f"{name} {flow(value)}"]
    block = True if key in _OPEN else None
    return [name, *(line for item in value for line in entry(item, indent + 2, block=block))]


def entry(value: Value, indent: int, *, block: bool | None = None) -> list[str]:
    """The lines of one entry of a list, behind its hyphen at `indent`; a group in block style as told, or where it is long."""
    if isinstance(value, Mapping) and value and (block if block is not None else not _is_short(value)):
        lines = [line for key, item in value.items() for line in pair(key, item, indent + 2)]
        return [" " * indent + "- " + lines[0].lstrip(" "), *lines[1:]]
    text = scalar(value, flow=False) if isinstance(value, str) else flow(value)
    return [" " * indent + "- " + text]


def _is_short(value: Mapping[str, Value]) -> bool:
    nested = any(isinstance(item, Mapping) or _holds_groups(item) for item in value.values())
    return not nested and len(flow(value)) <= LONGEST_LINE


def _holds_groups(value: Value) -> bool:
    return not isinstance(value, str | Mapping) and any(not isinstance(item, str) for item in value)


def text_of_price(name: str, first: Mapping[str, str]) -> str:
    """The file of a reference price with its first value."""
    return "\n".join([*pair("price", name), *pair("series", [first])]) + "\n"
