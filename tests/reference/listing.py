"""Which cases hold which formula, written to `generator/data/checks.yaml` for the methods page.

Nobody writes names: each case is run, and the formulas that run with it are the ones it holds. After a change of the
cases, write the file anew with `python -m tests.reference.listing`.
"""

from __future__ import annotations

import functools
import importlib
import json
import sys
from collections import Counter
from collections.abc import Iterator
from pathlib import Path
from types import FrameType
from typing import Any

from generator.data import rows
from generator.methods import FORMULAS, described, name_of, public_formulas

from .case import WORDS, Case

HERE = Path(__file__).parent
LISTING = HERE.parents[1] / "generator" / "data" / "checks.yaml"
COMMAND = "python -m tests.reference.listing"
Row = tuple[str, str, str]


@functools.cache
def _formulas() -> dict[str, bool]:
    """Every public formula, and whether it computes; one that only looks something up holds nothing by itself."""
    return {name_of(formula): bool(described(formula).formulas) for formula in public_formulas()}


def cases() -> Iterator[Case]:
    """Every case in a list of a module of `tests/reference`, once."""
    seen: set[int] = set()
    for path in sorted(HERE.glob("test_*.py")):
        for value in vars(importlib.import_module(f"{__package__}.{path.stem}")).values():
            for case in value if isinstance(value, list | tuple) else ():
                if isinstance(case, Case) and id(case) not in seen:
                    seen.add(id(case))
                    yield case


def held_by(case: Case) -> set[str]:
    """The formulas that run when a case is checked, by `module.function`, whatever stands between."""
    found: set[str] = set()

    def seen(frame: FrameType, event: str, _: Any) -> None:
        module = str(frame.f_globals.get("__name__"))
        name = f"{module.rpartition('.')[2]}.{frame.f_code.co_qualname}"
        if event != "call" or not module.startswith(f"{FORMULAS}.") or name not in _formulas():
            return
        caller = frame.f_back.f_globals.get("__name__", "") if frame.f_back is not None else ""
        if _formulas()[name] or not str(caller).startswith(FORMULAS):
            found.add(name)

    _formulas()
    _forget()
    before = sys.getprofile()
    sys.setprofile(seen)
    try:
        case.check()
    finally:
        sys.setprofile(before)
    return found


def _forget() -> None:
    """Empty the caches of the formulas, so that one that was asked before runs again."""
    for formula in public_formulas():
        module = importlib.import_module(formula.__module__)
        clear = getattr(getattr(module, formula.__name__), "cache_clear", None)
        if clear is not None:
            clear()


def counted() -> dict[str, Counter[Row]]:
    """For each formula the sources that hold it, and how many values of each."""
    found: dict[str, Counter[Row]] = {}
    for case in cases():
        for name in held_by(case):
            found.setdefault(name, Counter())[(case.source, case.place, case.confidence)] += 1
    return found


def text() -> str:
    """The listing as it should stand, the surest sources first."""
    lines = [f"# The cases that hold each formula. Made by `{COMMAND}`; not written by hand."]
    for name, counts in sorted(counted().items()):
        lines.append(f"{name}:")
        order = sorted(counts, key=lambda row: (WORDS.index(row[2]), row))
        for source, place, confidence in order:
            row = f"source: {_quoted(source)}, place: {_quoted(place)}, confidence: {_quoted(confidence)}"
            lines.append(f"  - {{{row}, count: {counts[source, place, confidence]}}}")
    return "\n".join(lines) + "\n"


def _quoted(words: str) -> str:
    return json.dumps(words, ensure_ascii=False)


def known() -> Any:
    """The listing as it stands."""
    return rows("checks")


if __name__ == "__main__":
    LISTING.write_text(text(), encoding="utf-8")
