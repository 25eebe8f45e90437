"""What all tests share: commands speak as to a person, not as to a forge, and keep nothing where the user keeps it.

At the end stands what tests have counted: kills, errors, texts; each is an assertion that held that often.
"""

from __future__ import annotations

import os
import subprocess
from collections import Counter
from collections.abc import Iterator
from functools import partial
from pathlib import Path
from typing import Protocol

import pytest
from jinja2 import Environment, FileSystemBytecodeCache

IN_CI = bool(os.environ.get("CI"))


@pytest.fixture(autouse=True)
def _no_forge(monkeypatch: pytest.MonkeyPatch) -> None:
    """In CI the variable CI is set, and the commands then leave out the values of the files."""
    monkeypatch.delenv("CI", raising=False)


@pytest.fixture(scope="session", autouse=True)
def _own_cache(tmp_path_factory: pytest.TempPathFactory) -> Iterator[None]:
    """The folder in which all commands of one run of the tests keep their pictures is not the user's own."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("XDG_CACHE_HOME", str(tmp_path_factory.mktemp("cache")))
        yield


@pytest.fixture(scope="session", autouse=True)
def _compiled_once(tmp_path_factory: pytest.TempPathFactory) -> Iterator[None]:
    """Of the hundreds of sites that one process renders, the first compiles the templates."""
    compiled = FileSystemBytecodeCache(str(tmp_path_factory.mktemp("templates")))
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("generator.render.site.Environment", partial(Environment, bytecode_cache=compiled))
        yield


@pytest.fixture
def small_disk(tmp_path: Path) -> Iterator[Path]:
    """A file system of 256 KiB of its own; needs the right to mount, which CI has."""
    disk = tmp_path / "disk"
    disk.mkdir()
    command = ["mount", "-t", "tmpfs", "-o", "size=256k", "tmpfs", str(disk)]
    mounted = subprocess.run(command, capture_output=True, text=True, check=False)
    if mounted.returncode != 0:
        if IN_CI:
            pytest.fail(f"CI must be able to mount a small disk: {mounted.stderr}")
        pytest.skip(f"mounting a small disk is not allowed here: {mounted.stderr.strip()}")
    yield disk
    # A broken publish may have moved a mounted folder elsewhere: unmount all that is left below, last first.
    lines = Path("/proc/self/mounts").read_text(encoding="utf-8").splitlines()
    for place in reversed([line.split()[1] for line in lines if line.split()[1].startswith(f"{tmp_path}/")]):
        subprocess.run(["umount", place], check=True)


class Counted(Protocol):
    """Notes that something held a number of times, for the end of the report."""

    def __call__(self, what: str, times: int) -> None: ...


@pytest.fixture
def counted(record_property: Counted) -> Counted:
    return record_property


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter) -> None:
    sums: Counter[str] = Counter()
    for report in terminalreporter.getreports("passed"):
        for what, times in report.user_properties if report.when == "call" else ():
            sums[str(what)] += int(str(times))
    if sums:
        told = "; ".join(f"{times} {what}" for what, times in sorted(sums.items()))
        terminalreporter.write_line(f"held: {told}")
