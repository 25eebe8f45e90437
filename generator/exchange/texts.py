"""The text of a record's file: as the logbook writes it, read back before it counts."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from generator.read.document import parse
from generator.read.text import decoded
from generator.validate.answer import Fault
from generator.writing.scalars import Value, pair


def record_text(file: str, data: Value) -> str | Fault:
    """The file of a record; a fault where it would not be read back as what was put in."""
    assert isinstance(data, Mapping)
    lines: list[str] = []
    for key, value in data.items():
        if isinstance(value, str) and "\n" in value and _is_block(value):
            lines += [f"{key}: |", *(f"  {line}".rstrip() for line in value.split("\n"))]
        else:
            lines += pair(key, _single(key, value))
    text = "\n".join(lines) + "\n"
    problems = decoded(file, text.encode("utf-8", "replace"))[1]
    reading = parse(file, text)
    problems = [*problems, *reading.problems]
    if problems or reading.document is None or _plain(reading.document.data) != _plain(data):
        told = problems[0].message if problems else "it would be read back as something else"
        return Fault(f"its file would not be right: {told}", "look for odd characters in its cells")
    return text


def _is_block(text: str) -> bool:
    lines = text.split("\n")
    return (
        all(line.isprintable() for line in lines) and lines[0][:1] not in ("", " ", "#") and bool(lines[-1])
    )


def _single(key: str, value: Value) -> Value:
    """A single run through the columns is written without a list."""
    if key == "polish" and isinstance(value, list) and len(value) == 1:
        found: Value = value[0]
        return found
    return value


def _plain(value: Any, key: str = "") -> Any:
    if isinstance(value, Mapping):
        return {name: _plain(each, name) for name, each in value.items()}
    if isinstance(value, str):
        return value.rstrip("\n")
    found = [_plain(each) for each in value]
    return found[0] if key == "polish" and len(found) == 1 else found
