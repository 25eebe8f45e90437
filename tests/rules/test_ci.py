"""What runs the tests elsewhere is the README's own command, with versions that were tried."""

from __future__ import annotations

import re
import tomllib

from .sources import ROOT

CONSTRAINTS = (ROOT / ".ci" / "constraints.txt").read_text(encoding="utf-8").splitlines()


def plain(name: str) -> str:
    """A package's name as the registry compares it."""
    return re.sub(r"[-_.]+", "-", name).lower()


def test_ci_ends_with_the_test_command_of_the_readme() -> None:
    last = (ROOT / ".ci" / "run").read_text(encoding="utf-8").splitlines()[-1]
    assert last.endswith("pytest")
    assert last in (ROOT / "README.md").read_text(encoding="utf-8").splitlines()


def test_every_dependency_has_a_version_that_was_tried() -> None:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    wanted = [*project["dependencies"], *project["optional-dependencies"]["test"]]
    names = {plain(match[0]) for each in wanted if (match := re.match(r"[\w.-]+", each))}
    assert names <= {plain(line.split("==")[0]) for line in CONSTRAINTS}


def test_constraints_are_versions_and_nothing_else() -> None:
    assert [line for line in CONSTRAINTS if not re.fullmatch(r"[\w.-]+==[\w.]+", line)] == []
