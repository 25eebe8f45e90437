"""What runs the tests elsewhere is the README's own command, with versions that were tried."""

from __future__ import annotations

import os
import re
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest

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


LOCKS = {
    name: (ROOT / ".ci" / f"{name}.lock").read_text(encoding="utf-8") for name in ("runtime", "requirements")
}


def locked(name: str) -> dict[str, str]:
    """The packages of a lock with their versions."""
    found = re.findall(r"^([\w.-]+)==([\w.]+)", LOCKS[name], re.MULTILINE)
    return {plain(package): version for package, version in found}


def test_the_lock_and_the_constraints_say_the_same() -> None:
    """What no longer agrees is locked anew by `.ci/lock`."""
    tried = {plain(name): version for name, version in (line.split("==") for line in CONSTRAINTS)}
    for name in LOCKS:
        assert {key: tried.get(key, value) for key, value in locked(name).items()} == locked(name)
    assert locked("runtime").items() <= locked("requirements").items()


def test_every_dependency_is_locked() -> None:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    for name, wanted in (
        ("runtime", project["dependencies"]),
        ("requirements", project["optional-dependencies"]["test"]),
    ):
        names = {plain(match[0]) for each in wanted if (match := re.match(r"[\w.-]+", each))}
        assert names <= locked(name).keys()


@pytest.mark.parametrize("name", LOCKS)
def test_every_locked_package_has_hashes_and_no_address(name: str) -> None:
    entries = re.split(r"^(?=\S)", LOCKS[name], flags=re.MULTILINE)[1:]
    assert len(entries) == len(locked(name)) > 20
    for entry in entries:
        head, *hashes = [line.strip(" \\") for line in entry.rstrip("\n").split("\n")]
        assert re.fullmatch(r"[\w.-]+==[\w.]+( ; [^:]+)?", head)
        assert hashes and all(re.fullmatch(r"--hash=sha256:[0-9a-f]{64}", each) for each in hashes)


def test_each_runtime_dependency_has_its_reason() -> None:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    told = (
        (ROOT / "DEVELOPERS.md")
        .read_text(encoding="utf-8")
        .split("## Runtime dependencies")[1]
        .split("\n## ")[0]
    )
    first = " ".join(line.split("|")[1] for line in told.splitlines() if line.startswith("| "))
    named = {plain(word) for word in re.findall(r"[\w.-]+", first)}
    wanted = {plain(match[0]) for each in project["dependencies"] if (match := re.match(r"[\w.-]+", each))}
    assert wanted <= named


def test_an_audit_that_cannot_ask_says_so(tmp_path: Path) -> None:
    """Without the tool, and with answers as the tool gives them; a hole is a failure, what was skipped is named."""
    answers = {
        "exit 3": (0, "SKIPPED: no advisory could be asked for"),
        """echo '{"dependencies": [{"name": "a", "skip_reason": "not found"}]}'""": (0, "0 of 1 packages"),
        """echo '{"dependencies": [{"name": "a", "version": "1", "vulns": [{"id": "X-1"}]}]}'; exit 1""": (
            1,
            "HOLE: a 1: X-1",
        ),
        """echo '{"dependencies": [{"name": "a", "version": "1", "vulns": []}]}'""": (0, "1 of 1 packages"),
    }
    for script, (code, said) in answers.items():
        tool = tmp_path / "pip-audit"
        tool.write_text(f"#!/bin/sh\n{script}\n", encoding="utf-8")
        tool.chmod(0o755)
        done = subprocess.run(
            [sys.executable, ROOT / ".ci" / "audit"],
            env={**os.environ, "PATH": f"{tmp_path}:{os.environ['PATH']}"},
            capture_output=True,
            text=True,
            check=False,
        )
        assert (done.returncode, said in done.stdout) == (code, True), done.stdout + done.stderr


def test_constraints_are_versions_and_nothing_else() -> None:
    assert [line for line in CONSTRAINTS if not re.fullmatch(r"[\w.-]+==[\w.]+", line)] == []
