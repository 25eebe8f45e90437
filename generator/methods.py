"""How each figure is made, as its functions say it: the docstrings of `formulas`, read into plain records.

A docstring holds a summary, free lines, then `Formula:` (one for each figure it gives), `Where:` with a line for each
symbol, `Range:` and `Source:`. A function that only looks something up by name has `Units:` in place of a formula.
"""

from __future__ import annotations

import importlib
import inspect
import pkgutil
import re
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Final

from generator.data import rows

FORMULAS: Final = "generator.formulas"
CONFIDENCE: Final = (
    "published",
    "published formula",
    "secondary copy",
    "library",
    "derived",
    "from memory",
    "common practice, no source",
)
_HEAD = re.compile(r"^(Formula|Where|Units|Range|Source):\s*(.*)$")
_QUOTES = "'\""


class NotADocstring(ValueError):
    """A docstring of a formula that does not follow the grammar; a mistake in the program."""


@dataclass(frozen=True, slots=True)
class Symbol:
    """One letter of a formula: its meaning, its unit, and what it is in the function (empty: the result)."""

    name: str
    meaning: str
    unit: str
    bound: str = ""


@dataclass(frozen=True, slots=True)
class Check:
    """What holds a figure from outside: a source, the place in it, how sure it is, how many values of it."""

    source: str
    place: str
    confidence: str
    count: int


@dataclass(frozen=True, slots=True)
class Described:
    """One function as its docstring describes it; `name` is `module.function`."""

    name: str
    summary: str
    text: str
    formulas: tuple[str, ...]
    symbols: tuple[Symbol, ...]
    units: str
    range: str
    source: str
    confidence: str
    checks: tuple[Check, ...] = ()


@dataclass(frozen=True, slots=True)
class Method:
    """One entry of the methods page: what a figure means, and the functions it is made by."""

    id: str
    title: str
    text: str
    functions: tuple[Described, ...]


def methods() -> tuple[Method, ...]:
    """Every entry of `data/methods.yaml`, in its order, with its functions as their docstrings describe them."""
    held = rows("checks")
    return tuple(
        Method(id_, row["title"], row["text"], tuple(_held(name, held) for name in row.get("functions", ())))
        for id_, row in rows("methods").items()
    )


def _held(name: str, held: Mapping[str, Sequence[Mapping[str, Any]]]) -> Described:
    module, _, function = name.partition(".")
    found = getattr(importlib.import_module(f"{FORMULAS}.{module}"), function)
    return described(found, tuple(Check(**row) for row in held.get(name, ())))


def public_formulas() -> Iterator[Callable[..., Any]]:
    """Every public function that a module of `formulas` defines itself, without its cache."""
    package = importlib.import_module(FORMULAS)
    for module in pkgutil.iter_modules(package.__path__, f"{FORMULAS}."):
        for name, each in vars(importlib.import_module(module.name)).items():
            function = inspect.unwrap(each) if callable(each) else each
            own = inspect.isfunction(function) and function.__module__ == module.name
            if own and not name.startswith("_"):
                yield function


def name_of(function: Callable[..., Any]) -> str:
    """`module.function`, as `data/methods.yaml` names it."""
    return f"{function.__module__.rpartition('.')[2]}.{function.__name__}"


def described(function: Callable[..., Any], checks: tuple[Check, ...] = ()) -> Described:
    """Read one function; NotADocstring where its docstring does not follow the grammar."""
    name = name_of(inspect.unwrap(function))
    summary, _, rest = (inspect.getdoc(function) or "").replace("`", "").partition("\n\n")
    text, parts = _parts(rest, name)
    for one in ("Range", "Source"):
        if len(parts.get(one, ())) != 1:
            raise NotADocstring(f"{name}: {one} is missing or twice")
    if ("Formula" in parts) == ("Units" in parts) or ("Formula" in parts) != ("Where" in parts):
        raise NotADocstring(f"{name}: a formula and what its symbols are, or units alone")
    source, confidence = _source(parts["Source"][0].removesuffix("."))
    return Described(
        name=name,
        summary=" ".join(summary.split()),
        text=text,
        formulas=tuple(parts.get("Formula", ())),
        symbols=tuple(_symbol(line, name) for line in parts.get("Where", ())),
        units=" ".join(parts.get("Units", ())),
        range=parts["Range"][0],
        source=source,
        confidence=confidence,
        checks=checks,
    )


def _parts(rest: str, name: str) -> tuple[str, dict[str, list[str]]]:
    """The free lines, and by head its texts; under `Where` one text for each symbol, deeper lines joined to it."""
    free: list[str] = []
    parts: dict[str, list[str]] = {}
    head, first = "", 0
    for line in rest.splitlines():
        indent, told = len(line) - len(line.lstrip()), line.strip()
        found = _HEAD.match(line)
        if found is not None:
            head, first = found[1], 0
            parts.setdefault(head, []).extend([found[2]] if head != "Where" else [])
        elif not head:
            free.append(told)
        elif told and head == "Where" and indent <= (first or indent):
            first = indent
            parts[head].append(told)
        elif told:
            if not parts[head]:
                raise NotADocstring(f"{name}: nothing to go on from: {told}")
            parts[head][-1] = f"{parts[head][-1]} {told}".strip()
    return " ".join(line for line in free if line), parts


def _source(text: str) -> tuple[str, str]:
    """The source, and the last clauses of it that all say how sure it is."""
    clauses = text.split("; ")
    cut = len(clauses)
    while cut > 1 and any(word in clauses[cut - 1] for word in CONFIDENCE):
        cut -= 1
    return "; ".join(clauses[:cut]), "; ".join(clauses[cut:])


def _symbol(line: str, name: str) -> Symbol:
    found = re.match(r"(\w+)(?= \(|: )", line)
    if found is None:
        raise NotADocstring(f"{name}: no symbol: {line}")
    end = found.end()
    bound = ""
    if line[end] == " ":
        close = _closing(line, end + 1)
        bound, end = line[end + 2 : close], close + 1
    meaning, comma, unit = line[end:].removeprefix(": ").rpartition(", ")
    if not line[end:].startswith(": ") or not comma or not meaning or not unit:
        raise NotADocstring(f"{name}: a symbol has a meaning and, after a comma, a unit: {line}")
    return Symbol(found[1], meaning, unit, bound)


def _closing(line: str, start: int) -> int:
    """Where the parenthesis that opens at `start` closes; quoted text does not count."""
    depth, quote = 0, ""
    for place in range(start, len(line)):
        letter = line[place]
        if quote:
            quote = "" if letter == quote else quote
        elif letter in _QUOTES:
            quote = letter
        else:
            depth += (letter == "(") - (letter == ")")
            if depth == 0:
                return place
    raise NotADocstring(f"a parenthesis stays open: {line}")
