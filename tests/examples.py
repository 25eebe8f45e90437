"""One case of the gallery for each code, written to `generator/data/examples.yaml` for `explain` and its page.

The gallery is not part of what is installed. After a change of it, write the file anew with `python -m tests.examples`.
"""

from __future__ import annotations

import difflib
import json
import re
from collections.abc import Iterator
from pathlib import Path

from generator.problems import rules
from tests.logbook_files import BASE

GALLERY = BASE.parent
LISTING = Path(__file__).parents[1] / "generator" / "data" / "examples.yaml"
COMMAND = "python -m tests.examples"
MENDABLE = "can be mended without guessing"
_COUNTS = re.compile(r"[0-9]+ batch(es)? ")
MOST = 12  # lines of a change that still teach something


def case_of(code: str) -> Path:
    """The case of a code that is shown: the one of its name, or else the first variant."""
    own = GALLERY / code
    return own if own.is_dir() else next(iter(sorted(GALLERY.glob(f"{code}-*"))))


def mendable(code: str) -> bool:
    """Whether `fix` mends any case of a code."""
    cases = (case / "expected.txt" for case in (GALLERY / code, *GALLERY.glob(f"{code}-*")) if case.is_dir())
    texts = (path.read_text(encoding="utf-8") for path in cases)
    return any(f"({code})" in text and MENDABLE in text for text in texts)


def told(case: Path) -> str:
    """What the command prints for the case, without its counts."""
    lines = (case / "expected.txt").read_text(encoding="utf-8").split("\n")
    end = next(number for number, line in enumerate(lines) if _COUNTS.match(line) or number == len(lines) - 1)
    return "\n".join(lines[:end])


def change(case: Path) -> list[str]:
    """The lines of the case that are wrong (`- `) and those of the good logbook in their place (`+ `); nothing where there are none."""
    out: list[str] = []
    for file in _files(case):
        good = BASE / file
        if not good.is_file() or (case / "removed").exists():
            return []
        wrong, right = ((folder / file).read_text(encoding="utf-8").split("\n") for folder in (case, BASE))
        out += _changed(wrong, right)
    return out if len(out) <= MOST else []


def _changed(wrong: list[str], right: list[str]) -> Iterator[str]:
    for line in difflib.unified_diff(wrong, right, n=0, lineterm=""):
        if not line.startswith(("---", "+++", "@@")):
            yield f"{line[0]} {line[1:]}".rstrip()


def _files(case: Path) -> Iterator[str]:
    for path in sorted(case.rglob("*")):
        if path.is_file() and path.name not in ("expected.txt", "removed"):
            yield path.relative_to(case).as_posix()


def text() -> str:
    """The examples as they should stand, in the order of the list of codes."""
    lines = [
        f"# One example for each problem, from the gallery of the tests. Made by `{COMMAND}`; not written by hand."
    ]
    for code in rules():
        case = case_of(code)
        lines.append(f"{code}:")
        lines.append(f"  told: {_quoted(told(case))}")
        lines.append(f"  change: [{', '.join(_quoted(line) for line in change(case))}]")
        lines.append(f"  mendable: {str(mendable(code)).lower()}")
    return "\n".join(lines) + "\n"


def _quoted(words: str) -> str:
    return json.dumps(words, ensure_ascii=False)


if __name__ == "__main__":
    LISTING.write_text(text(), encoding="utf-8")
