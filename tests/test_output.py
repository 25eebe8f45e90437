"""What a command prints has nowhere to go: a disk that is full, a reader who has gone. Told in a line, or not at all."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

from tests.logbook_files import logbook

ROOT = Path(__file__).resolve().parents[1]
FULL = Path("/dev/full")  # of Linux: takes no byte, and says that there is no room
TOLD = "error: the output cannot be written: No space left on device"
LISTS_ALL = ["explain"]

pytestmark = pytest.mark.skipif(not FULL.exists(), reason="this machine has no device that is always full")


def run(
    where: Path, words: list[str], out: int, err: int = subprocess.PIPE
) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-m", "generator", *words],
        cwd=where,
        env={**os.environ, "PYTHONPATH": str(ROOT)},
        stdin=subprocess.DEVNULL,
        stdout=out,
        stderr=err,
        text=True,
        timeout=60,
        check=False,
    )


@pytest.fixture
def shed(tmp_path: Path) -> Path:
    logbook(tmp_path)
    (tmp_path / "batches.csv").write_text("Date;Oil\n2026-01-20;190 L\n", encoding="utf-8")
    return tmp_path


@pytest.mark.parametrize(
    "words",
    [
        ["--help"],
        ["--version"],
        ["add", "--help"],
        ["add", "b2", "note", "Clear."],
        ["blank"],
        ["check", "--json"],
        ["dose", "b2"],
        LISTS_ALL,
        ["import", "batches.csv", "--suggest"],
        ["new", "batch", "--date=2026-01-25", "--dry-run"],
        ["offer", "school"],
        ["schema", "batches"],
    ],
    ids=" ".join,
)
def test_a_full_disk_is_told_in_one_line(shed: Path, words: list[str]) -> None:
    with FULL.open("wb") as full:
        done = run(shed, words, full.fileno())
    lines = [line for line in done.stderr.split("\n") if line and ": warning: " not in line]
    assert (done.returncode, lines[-1], "Traceback" in done.stderr) == (3, TOLD, False), done.stderr
    assert done.stderr.count("cannot be written") == 1
    assert "Clear." not in (shed / "logbook/batches/b2.yaml").read_text(encoding="utf-8")


@pytest.mark.parametrize("words", [["check"], ["nothing"], ["add"]], ids=" ".join)
def test_where_no_error_can_be_told_the_exit_tells_it(shed: Path, words: list[str]) -> None:
    with FULL.open("wb") as full:
        assert run(shed, words, subprocess.DEVNULL, full.fileno()).returncode == 3


@pytest.mark.parametrize("words", [LISTS_ALL, ["blank"], ["--help"], ["schema", "batches"]], ids=" ".join)
def test_a_reader_who_has_gone_is_told_nothing(shed: Path, words: list[str]) -> None:
    reader, writer = os.pipe()
    os.close(reader)
    try:
        done = run(shed, words, writer)
    finally:
        os.close(writer)
    assert (done.returncode, done.stderr) == (1, "")


def test_a_reader_of_messages_who_has_gone_changes_no_exit_but_to_one(shed: Path) -> None:
    reader, writer = os.pipe()
    os.close(reader)
    try:
        assert run(shed, ["nothing"], subprocess.DEVNULL, writer).returncode == 1
    finally:
        os.close(writer)


# The first file that is read does not fit any more: what is refused is asked for in Python. Libraries beside it would end the process.
WITHOUT_MEMORY = """
import resource, sys
from pathlib import Path
import generator.cli.check, generator.validate.logbook
from generator.cli import main
taken = int(Path("/proc/self/statm").read_text().split()[0]) * resource.getpagesize()
resource.setrlimit(resource.RLIMIT_AS, (taken + 600_000, -1))
main(["check", sys.argv[1]])
"""


def test_a_machine_without_memory_is_told_in_a_line(tmp_path: Path) -> None:
    root = logbook(tmp_path)
    for path in root.rglob("*.yaml"):
        with path.open("a", encoding="utf-8") as file:
            file.write("\n# " + "a" * 900_000)
    done = subprocess.run(
        [sys.executable, "-c", WITHOUT_MEMORY, str(root)],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=False,
    )
    assert (done.returncode, done.stdout) == (3, "")
    assert done.stderr == "error: the machine has no memory left for this\n    hint: end other programs\n"
