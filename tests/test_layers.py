"""Imports point one way, from the vocabulary to the command, and heavy libraries stay where they belong."""

from __future__ import annotations

import ast
import re
import subprocess
import sys
from collections.abc import Iterable, Iterator
from graphlib import CycleError, TopologicalSorter
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[1]

# Each may import those before it and itself. A new module takes its place in this list.
ORDER = (
    "data",
    "locales",
    "language",
    "mending",
    "problems",
    "explaining",
    "units",
    "colours",
    "properties",
    "specifications",
    "zones",
    "fields",
    "pricing",
    "formulas",
    "plain",
    "spreading",
    "kept",
    "program",
    "attaching",
    "methods",
    "digests",
    "tables",
    "records",
    "schema",
    "read",
    "formats",
    "log",
    "ledger",
    "validate",
    "compute",
    "charts",
    "pages",
    "render",
    "publish",
    "repeated",
    "build",
    "fixing",
    "migrating",
    "weighing",
    "offering",
    "previewing",
    "blank",
    "doctor",
    "writing",
    "exchange",
    "cli",
    "__main__",
)
# Some keep apart although they stand later in the list: layer -> the only ones of the project it may import.
ONLY = {
    "data": set(),
    "attaching": set(),
    "publish": {"problems"},
    "formulas": {"data"},
}
NEVER = {
    "pages": {"read"},
    "render": {"read"},
    "charts": {"read", "validate"},
}
# Library -> the layers that may import it.
LIBRARIES = {
    "pandas": {"compute", "charts"},
    "numpy": {"compute", "charts"},
    "altair": {"charts"},
    "vl_convert": {"charts", "render"},
    "jinja2": {"render"},
    "markupsafe": {"render"},
    "markdown_it": {"render"},
    "ruamel": {"data", "read", "writing", "doctor"},
    "pydantic": {"fields", "pricing", "records", "schema", "validate", "exchange"},
    "pydantic_core": {"fields", "records", "schema", "validate"},
    "click": {"cli"},
    "openpyxl": {"exchange"},
    "pikepdf": {"attaching"},
    "PIL": {"attaching"},
}
HEAVY = ("pandas", "altair", "pydantic", "jinja2", "ruamel", "openpyxl", "pikepdf", "PIL")

FILES = sorted((ROOT / "generator").rglob("*.py"))


def layer_of(module: str) -> str:
    """`generator.read.folder` -> `read`; nothing for the package itself."""
    return module.split(".")[1] if "." in module else ""


def imported(path: Path, root: Path = ROOT) -> Iterator[str]:
    """Every module a file imports, inside functions and under TYPE_CHECKING too, relative ones resolved."""
    package = path.relative_to(root).parent.parts
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            base = package[: len(package) - node.level + 1] if node.level else ()
            module = ".".join([*base, *([node.module] if node.module else [])])
            names = [f"{module}.{alias.name}" for alias in node.names]
            yield from (names if module == "generator" else [module])


def faults(path: Path, root: Path = ROOT) -> list[str]:
    """What a file imports and must not."""
    own = layer_of(".".join(path.relative_to(root).with_suffix("").parts))
    found = []
    for module in imported(path, root):
        top = module.split(".")[0]
        if top in LIBRARIES and own not in LIBRARIES[top]:
            found.append(f"{module}: only for {', '.join(sorted(LIBRARIES[top]))}")
        layer = layer_of(module) if top == "generator" else ""
        if layer in ("", own, "__version__"):
            continue
        if layer not in ORDER or own not in ORDER or ORDER.index(layer) > ORDER.index(own):
            found.append(f"{module}: {own} comes before {layer}")
        elif layer not in ONLY.get(own, {layer}) or layer in NEVER.get(own, ()):
            found.append(f"{module}: {own} keeps apart from {layer}")
    return found


def circle(paths: Iterable[Path], root: Path = ROOT) -> list[str]:
    """Modules that import one another in a ring, the first also last; none: an empty list."""
    needs = {
        ".".join(path.relative_to(root).with_suffix("").parts): set(imported(path, root)) for path in paths
    }
    try:
        TopologicalSorter({module: wanted & needs.keys() for module, wanted in needs.items()}).prepare()
    except CycleError as error:
        return list(error.args[1])
    return []


def test_there_is_something_to_look_at() -> None:
    assert len(FILES) > 40


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.relative_to(ROOT).as_posix())
def test_imports_point_one_way(path: Path) -> None:
    assert faults(path) == []


def test_no_modules_import_one_another() -> None:
    assert circle(FILES) == []


def test_a_ring_of_imports_is_seen(tmp_path: Path) -> None:
    ring = {
        "one": "from generator.ledger.two import x",
        "two": "def f():\n    from generator.ledger.one import y",
    }
    for name, text in ring.items():
        path = tmp_path / "generator" / "ledger" / f"{name}.py"
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8")
    assert len(circle(tmp_path.rglob("*.py"), tmp_path)) == 3


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.relative_to(ROOT).as_posix())
def test_every_module_has_its_place(path: Path) -> None:
    layer = path.relative_to(ROOT / "generator").parts[0].removesuffix(".py")
    assert layer in {*ORDER, "__init__"}, "a new module: give it a place in the list"


@pytest.mark.parametrize(
    ("layer", "text"),
    [
        ("formulas", "import pandas"),
        ("formulas", "def f():\n    from ruamel.yaml import YAML"),
        ("formulas", "from generator.units import quantity"),
        ("pages", "from generator.read.folder import Folder"),
        ("render", "from ..read import folder"),
        ("publish", "from generator import records"),
        ("ledger", "from generator.validate.logbook import check"),
        ("ledger", "import generator.build"),
        ("pages", "import pandas as pd"),
        ("records", "from generator.unheard_of import x"),
    ],
)
def test_a_wrong_import_is_seen(layer: str, text: str, tmp_path: Path) -> None:
    path = tmp_path / "generator" / layer / "module.py"
    path.parent.mkdir(parents=True)
    path.write_text(text, encoding="utf-8")
    assert len(faults(path, tmp_path)) == 1


@pytest.mark.parametrize(
    "command",
    [
        ["--help"],
        ["build", "--help"],
        ["new", "--help"],
        ["import", "--help"],
        ["add", "--help"],
        ["--version"],
    ],
    ids=" ".join,
)
def test_help_waits_for_no_heavy_library(command: list[str]) -> None:
    done = subprocess.run(
        [sys.executable, "-X", "importtime", "-m", "generator", *command],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=True,
        timeout=60,
    )
    loaded = {line.rpartition("|")[2].strip().split(".")[0] for line in done.stderr.splitlines()}
    assert "click" in loaded, "the list of imports was not read"
    assert loaded.isdisjoint(HEAVY)
    assert re.search(r"esterday|Usage", done.stdout)


def test_a_weigh_sheet_waits_for_no_table() -> None:
    """It is printed at the bench, and frames and charts took longer to import than all the rest of it."""
    done = subprocess.run(
        [sys.executable, "-X", "importtime", "-m", "generator", "dose", "barn-2026-24", "logbook"],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=True,
    )
    loaded = {line.rpartition("|")[2].strip().split(".")[0] for line in done.stderr.splitlines()}
    assert "pydantic" in loaded, "the list of imports was not read"
    assert loaded.isdisjoint({"pandas", "altair", "jinja2"})
    assert "CAUTIONS" in done.stdout
