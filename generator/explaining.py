"""What a code of a problem means: its level, meaning, reason and remedy, and an example from the gallery of the tests.

Rows alone: `data/problems.yaml`, `data/explained.yaml` and `data/examples.yaml`. The command and the site both tell
from here.
"""

from __future__ import annotations

import functools
import textwrap
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from generator.data import rows
from generator.problems import Rule, rules

FIX = "Where it leaves no doubt, 'esterday fix' does it."


@dataclass(frozen=True, slots=True)
class Explained:
    """All that is known about a code: its rule, its area, why it matters, what is printed, and how the example is mended.

    `mendable` says whether there are such problems that `esterday fix` mends. `change` holds lines that begin with `- ` (as it was) and `+ ` (mended); it is empty where no line of a file shows it.
    """

    rule: Rule
    area: str
    why: str
    told: str
    change: tuple[str, ...]
    mendable: bool


@functools.cache
def explained() -> Mapping[str, Explained]:
    """Everything about every code, area by area.

    Raises KeyError for a code without a rule or an example: a mistake in the rows, not in a logbook.
    """
    known, examples = rules(), rows("examples")
    return {
        code: _explained(known[code], area, why, examples[code])
        for area, reasons in rows("explained").items()
        for code, why in reasons.items()
    }


def _explained(rule: Rule, area: str, why: str, example: Mapping[str, Any]) -> Explained:
    return Explained(rule, area, why, example["told"], tuple(example["change"]), example["mendable"])


def by_area() -> Mapping[str, list[Explained]]:
    """The codes of each area."""
    out: dict[str, list[Explained]] = {}
    for each in explained().values():
        out.setdefault(each.area, []).append(each)
    return out


def page_of(each: Explained) -> Iterator[str]:
    """Tell one code as plain text, line by line."""
    yield f"{each.rule.code} ({each.rule.level}; {each.area})"
    for head, text in (("Means", each.rule.meaning), ("Matters", each.why), ("Mend", each.rule.remedy)):
        yield ""
        yield from textwrap.wrap(f"{head}: {text}", 88, subsequent_indent="  ", break_on_hyphens=False)
    if each.mendable:
        yield f"  {FIX}"
    yield ""
    yield "Example:"
    yield from (f"  {line}".rstrip() for line in each.told.split("\n"))
    if each.change:
        yield ""
        yield "Mended (- as it was, + as it should be):"
        yield from (f"  {line}" for line in each.change)


def contents() -> Iterator[str]:
    """The codes by area, each with its level and meaning, line by line."""
    for area, entries in by_area().items():
        yield f"{area}:"
        for each in entries:
            head = f"  {each.rule.code:<24} {each.rule.level:<8}"
            yield from textwrap.wrap(f"{head}{each.rule.meaning}", 100, subsequent_indent=" " * 35)
        yield ""
