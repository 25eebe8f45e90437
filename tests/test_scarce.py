"""Where the machine has no file, thread or process left: a line that says so and exit code 3, and what stood there stands."""

from __future__ import annotations

import os
import resource
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from tests.logbook_files import logbook
from tests.publish.injecting import missing

ROOT = Path(__file__).parents[1]
COMMAND = (sys.executable, "-m", "generator")
REFUSED = ("-f", "-qq", "-o", os.devnull, "-e", "trace=clone,clone3,fork,vfork", "-e")


def run(*words: str | Path, files: int | None = None) -> subprocess.CompletedProcess[str]:
    """A real command; `files` is how many it may have open."""

    def limited() -> None:
        if files is not None:
            resource.setrlimit(resource.RLIMIT_NOFILE, (files, files))

    env = {**os.environ, "PYTHONPATH": str(ROOT)}
    return subprocess.run(
        [str(word) for word in words],
        capture_output=True, text=True, errors="replace", env=env, timeout=120, preexec_fn=limited, check=False,
    )  # fmt: skip


@pytest.fixture
def strace() -> tuple[str, ...]:
    """The start of a command that is refused every process and thread from the n-th on."""
    why = missing("strace")
    if why:
        pytest.skip(why)
    if subprocess.run(["strace", "-o", os.devnull, "true"], capture_output=True, check=False).returncode:
        pytest.skip("strace may not attach here")
    return ("strace", *REFUSED)


@pytest.mark.parametrize("files", [6, 10, 14, 18, 19])
def test_a_build_that_may_open_few_files_ends_with_a_line_or_with_all_of_the_site(
    files: int, tmp_path: Path
) -> None:
    """What draws the charts needs a few; it made a panic of each that was refused."""
    root, out = logbook(tmp_path), tmp_path / "site"
    done = run(*COMMAND, "build", root, "--out", out, "--no-cache", files=files)
    assert "Traceback" not in done.stderr
    assert (done.returncode, (out / "index.html").exists()) in ((3, False), (0, True)), done.stderr
    assert done.returncode == 0 or "error: " in done.stderr
    assert (
        run(*COMMAND, "build", root, "--out", out, "--no-cache").returncode == 0
    )  # clears what could not be cleared
    assert sorted(path.name for path in tmp_path.iterdir()) == ["logbook", "site"]


def test_a_build_that_may_start_no_thread_ends_with_a_line_and_leaves_what_stood(
    tmp_path: Path, strace: tuple[str, ...]
) -> None:
    """A library of numbers interrupts the process that it cannot start a thread in: that looked like Ctrl-C."""
    root, out = logbook(tmp_path), tmp_path / "site"
    assert run(*COMMAND, "build", root, "--out", out, "--no-cache").returncode == 0
    before = {path: path.read_bytes() for path in out.rglob("*") if path.is_file()}
    lot = root / "lots" / "oil-1.yaml"
    lot.write_text(lot.read_text(encoding="utf-8") + "note: more\n", encoding="utf-8")
    done = run(*strace, "inject=clone,clone3,fork,vfork:error=EAGAIN", *COMMAND, "build", root, "--out", out, "--no-cache")  # fmt: skip
    assert done.returncode == 3, done.stderr
    assert "could not be written: resource temporarily unavailable" in done.stderr
    assert "Traceback" not in done.stderr
    assert {path: path.read_bytes() for path in out.rglob("*") if path.is_file()} == before


@pytest.mark.parametrize("first", [1, 2])
@pytest.mark.parametrize("words", [("doctor",), ("setup", "hook", "--logbook")])
def test_git_that_cannot_be_started_for_now_is_not_taken_for_one_that_is_not_installed(
    words: tuple[str, ...], first: int, tmp_path: Path, strace: tuple[str, ...]
) -> None:
    if not shutil.which("git"):
        pytest.skip("git is not installed")
    root = logbook(tmp_path)
    subprocess.run(["git", "init", "-q", str(tmp_path)], check=True)
    done = run(*strace, f"inject=clone,clone3,fork,vfork:error=EAGAIN:when={first}+", *COMMAND, *words, root)
    assert done.returncode == 3, done.stderr
    assert "error: the machine has too little left for this: resource temporarily unavailable" in done.stderr
    assert "Traceback" not in done.stderr and "install" not in done.stderr
