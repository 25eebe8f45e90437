"""What a command is given at once, as flags or as JSON -> the text of each dotted key; nothing is said twice."""

from __future__ import annotations

import json
from math import isfinite
from typing import TYPE_CHECKING, Any

from generator.cli.saving import stop
from generator.cli.telling import is_text

if TYPE_CHECKING:
    from collections.abc import Mapping


class _NoNumberError(Exception):
    """A word of JSON that stands for no number that can be written."""


def from_flags(pairs: tuple[str, ...]) -> dict[str, str]:
    """Take KEY=VALUE apart; exits with 2 for what is none, and where a key stands twice."""
    from generator.problems import visible

    out: dict[str, str] = {}
    for pair in pairs:
        key, sign, value = pair.partition("=")
        if not sign or not key:
            raise stop(f"'{pair}' is not KEY=VALUE", "write --set oil.0.volume='66 L at 22 °C'")
        if key in out:
            told = f"--set {key[:64]} is given twice: '{out[key][:64]}', and '{value[:64]}'"
            raise stop(visible(told), "give each key once; a list in brackets: --set KEY='[ONE, TWO]'")
        out[key] = value
    return out


def from_json(source: Any) -> dict[str, str]:
    """Read the object in a file; exits with 2 for what is none, for a key that stands twice, and for what is no number."""
    if source is None:
        return {}
    try:
        text = source.read()
        found = json.loads(text, parse_float=_number, parse_constant=_number)
    except _NoNumberError as error:
        raise stop(f"{source.name}: {error} is no number", "write the value as text, in quotes") from None
    except (ValueError, RecursionError) as error:
        why = "it is nested too deep" if isinstance(error, RecursionError) else str(error)
        raise stop(f"this is not JSON: {why}", 'write an object, such as {"date": "2026-03-14"}') from None
    if not isinstance(found, dict):
        raise stop("an object is wanted in the JSON", 'write {"date": "2026-03-14"}')
    _refuse_twice(source.name, text)
    values = {
        str(key): value if isinstance(value, str) else json.dumps(value, ensure_ascii=False)
        for key, value in found.items()
        if value is not None  # unknown, so it is left out
    }
    odd = next((key for pair in values.items() for key in pair if not is_text(key)), None)
    if odd is not None:
        raise stop(f"{json.dumps(odd)[:64]} holds half a character", "write it anew in the JSON")
    return values


def _number(text: str) -> str:
    """A number as it is written, digit by digit."""
    if not isfinite(float(text)):
        raise _NoNumberError(text[:64])
    return text


def _refuse_twice(name: str, text: str) -> None:
    """Exit with 2 and the place where a key stands twice: of two values JSON keeps the last, and says nothing."""
    from generator.read.document import parse

    for problem in parse(name, text).problems:
        if problem.code == "key-twice":
            raise stop(f"{problem.place}: {problem.message}", problem.hint)


def refuse_two(what: str, named: str, key: str, given: Mapping[str, str]) -> None:
    """Exit with 2 where a thing is named in its own place and named otherwise by its key."""
    from generator.problems import visible

    if named and given.get(key, named) != named:
        told = f"the {what} is given twice: '{named[:64]}', and '{given[key][:64]}' for the key {key}"
        raise stop(visible(told), "give it once")
