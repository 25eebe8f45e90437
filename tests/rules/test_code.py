"""How the code is written: short modules, telling names, sources, nothing from the surroundings."""

from __future__ import annotations

import ast
import re
from pathlib import Path

import pytest

from .sources import MODULES, ROOT, ours, shown

MOST_LINES = 300
RECORDS = {"generator/records.py", "generator/tables.py"}  # declarations, one after the other, no logic
VAGUE = {"utils", "util", "helpers", "helper", "manager", "managers", "misc", "common", "base"}
PYTHON = [path for path in ours() if path.suffix == ".py"]
FORMULAS = [path for path in MODULES if path.parent.name == "formulas"]

# The clock, chance and the environment: the same logbook gives the same bytes.
CHANCE = {"random", "secrets", "uuid"}
SURROUNDINGS = {
    "date.today",
    "datetime.now",
    "datetime.today",
    "datetime.utcnow",
    "time.time",
    "time.localtime",
    "time.strftime",
    "os.environ",
    "os.getenv",
    "locale.setlocale",
    "os.urandom",
}
SEEDED = "generator/ledger/breakthrough.py"
BY_NAME = {"uuid.uuid5", "uuid.NAMESPACE_URL"}  # a hash of what it is given
# from what a bootstrap draws, and where the program git is looked for
KNOWN = {SEEDED: ["random"], "generator/read/git.py": ["os.environ"]}
FREE = ("generator/cli/", "generator/__main__.py")


def parsed(path: Path) -> ast.Module:
    """Read a module as a syntax tree."""
    return ast.parse(path.read_text(encoding="utf-8"))


def from_surroundings(tree: ast.Module) -> list[str]:
    """Name every use of clock, chance and environment, written `module.name` or imported by name."""
    found = []
    for node in ast.walk(tree):
        if isinstance(node, ast.Attribute):
            found += [
                name
                for name in SURROUNDINGS
                if ast.unparse(node) == name or ast.unparse(node).endswith(f".{name}")
            ]
        elif isinstance(node, ast.Import):
            found += [alias.name for alias in node.names if alias.name in CHANCE]
        elif isinstance(node, ast.ImportFrom):
            found += [
                f"{node.module}.{alias.name}"
                for alias in node.names
                if f"{node.module}.{alias.name}" in SURROUNDINGS
            ]
            names = {f"{node.module}.{alias.name}" for alias in node.names}
            found += [str(node.module)] * (node.module in CHANCE and not names <= BY_NAME)
    return found


@pytest.mark.parametrize("path", [path for path in MODULES if shown(path) not in RECORDS], ids=shown)
def test_modules_are_short(path: Path) -> None:
    assert len(path.read_text(encoding="utf-8").splitlines()) <= MOST_LINES


@pytest.mark.parametrize("path", PYTHON, ids=shown)
def test_names_of_modules_tell_something(path: Path) -> None:
    assert VAGUE.isdisjoint({path.stem, path.parent.name})


@pytest.mark.parametrize("path", [path for path in PYTHON if path.read_bytes()], ids=shown)
def test_modules_open_with_what_they_are_for(path: Path) -> None:
    assert ast.get_docstring(parsed(path))


@pytest.mark.parametrize("path", FORMULAS, ids=shown)
def test_public_formulas_name_their_source(path: Path) -> None:
    public = [node for node in parsed(path).body if isinstance(node, ast.FunctionDef) and node.name[0] != "_"]
    assert [node.name for node in public if "Source:" not in (ast.get_docstring(node) or "")] == []


def test_there_are_formulas() -> None:
    assert len(FORMULAS) > 5


@pytest.mark.parametrize("path", [path for path in MODULES if not shown(path).startswith(FREE)], ids=shown)
def test_nothing_comes_from_clock_chance_or_environment(path: Path) -> None:
    assert from_surroundings(parsed(path)) == KNOWN.get(shown(path), [])


def test_a_bootstrap_draws_from_a_seed_of_its_own() -> None:
    """`random.Random(SEED)` and nothing else: the module's own generator is seeded by the clock."""
    text = next(path for path in MODULES if shown(path) == SEEDED).read_text(encoding="utf-8")
    assert re.findall(r"random\.[\w.()]+", text) == ["random.Random(SEED)"]
    assert re.search(r"^RESAMPLES, SEED = \d+, \d+$", text, re.MULTILINE)


@pytest.mark.parametrize(
    "text",
    [
        "import random",
        "from uuid import uuid4",
        "from time import time",
        "x = datetime.now()",
        "import os\nos.environ['A']",
        "d = datetime.date.today()",
    ],
)
def test_a_clock_is_seen(text: str) -> None:
    assert from_surroundings(ast.parse(text)) != []


def test_printing_is_left_to_the_command() -> None:
    printing = [
        shown(path)
        for path in MODULES
        for node in ast.walk(parsed(path))
        if isinstance(node, ast.Call)
        and isinstance(node.func, ast.Name)
        and node.func.id in {"print", "input", "exit"}
    ]
    assert printing == []


def test_every_page_template_has_a_module_of_its_name() -> None:
    templates = {path.stem for path in (ROOT / "site_templates" / "pages").glob("*.html")}
    modules = {path.stem for path in (ROOT / "generator" / "pages").glob("*.py")}
    assert templates, "no templates found"
    assert templates <= modules
