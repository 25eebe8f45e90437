"""What is said of a mutant that lives is said of a line that is there."""

from __future__ import annotations

import ast
import re

import pytest

from .sources import ROOT

TABLE = (ROOT / "benchmarks" / "survivors.md").read_text(encoding="utf-8")
ROWS = re.findall(r"^\| (\S+), `(\w+)` \| `([^`]+)` \|", TABLE, re.MULTILINE)
FOLDERS = {
    "checks": "generator/validate/checks",
    "formulas": "generator/formulas",
    "ledger": "generator/ledger",
}


def test_every_row_names_a_place() -> None:
    assert len(ROWS) == len([line for line in TABLE.splitlines() if line.startswith("| ")]) - 1


@pytest.mark.parametrize(("file", "function", "line"), ROWS)
def test_a_mutant_that_lives_has_its_line(file: str, function: str, line: str) -> None:
    folder, name = file.split("/")
    text = (ROOT / FOLDERS[folder] / name).read_text(encoding="utf-8")
    assert any(
        line in (ast.get_source_segment(text, part) or "")
        for part in ast.walk(ast.parse(text))
        if isinstance(part, ast.FunctionDef) and part.name == function
    )
