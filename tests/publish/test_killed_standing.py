"""Faults where a build keeps the lines of the pages that stand: what it makes, and what the next makes, are the bytes of none kept."""

from __future__ import annotations

import json
import shutil
import signal
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

import pytest

from generator.render.standing import place
from tests.conftest import Counted

from .injecting import COMMANDS, STANDS, Nursery, nursery
from .standing import PAGES, lay, pages, site
from .test_killed_command import Turns
from .trees import snapshot

# What each answer may come from; utimensat and newfstatat touch nothing that is kept.
CALLS = ("openat", "write", "mkdir", "rename", "unlink", "read", "newfstatat", "lseek", "utimensat", "close")
ANSWERS = ("ENOSPC", "EIO", "EROFS", "EACCES")


@pytest.fixture(scope="module")
def ward() -> Iterator[Nursery]:
    with nursery(STANDS) as made:
        yield made


def old(folder: Path, *, kept: bool) -> Path:
    """A folder that serves the old edition, with its lines or with none."""
    lay(folder, pages(folder, "old")[0])
    if not kept:
        shutil.rmtree(folder / "cache")
    return folder


def goes_on(folder: Path, fault: object) -> None:
    """What is served was not touched, and the next builds are what builds from nothing are."""
    served = snapshot(folder / "site")
    lay(folder, site("old"))
    assert snapshot(folder / "site").keys() == served.keys(), fault
    for edition in ("new", "old", "new"):
        made, _ = pages(folder, edition)
        assert made == site(edition), (fault, edition)
        lay(folder, made)
    assert pages(folder, "new") == (site("new"), 0), fault


@pytest.mark.parametrize("kept", [True, False], ids=["lines of a build before", "none kept"])
def test_killed_at_every_system_call(tmp_path: Path, ward: Nursery, kept: bool, counted: Counted) -> None:
    calls = ward.calls(str(old(tmp_path / "first", kept=kept)))
    assert {"openat", "write", "rename"} <= {*calls}
    done = 0
    for call, most in sorted(Counter(calls).items()):
        for number in range(1, most + 1):
            folder = old(tmp_path / f"{call}{number}", kept=kept)
            before = snapshot(folder / "site")
            end = ward.run(str(folder), "-e", f"inject={call}:signal=SIGKILL:when={number}")
            assert end.status == -signal.SIGKILL, (call, number)
            assert snapshot(folder / "site") == before, (call, number)
            goes_on(folder, (call, number))
            done += 1
    assert done > 12
    counted("kills at a system call", done)


@pytest.mark.parametrize("answer", ANSWERS)
def test_an_error_at_every_system_call(tmp_path: Path, ward: Nursery, answer: str, counted: Counted) -> None:
    done = 0
    for kept in (True, False):
        calls = ward.calls(str(old(tmp_path / f"first{kept}", kept=kept)))
        for call, most in sorted(Counter(each for each in calls if each in CALLS).items()):
            for number in range(1, most + 1):
                folder = old(tmp_path / f"{kept}{call}{number}", kept=kept)
                end = ward.run(str(folder), "-e", f"inject={call}:error={answer}:when={number}")
                assert end.status == 0 and not end.foreign and not end.message, (answer, call, number, end)
                goes_on(folder, (answer, call, number))
                done += 1
    assert done > 20
    counted("errors of the machine at a system call", done)


@pytest.mark.parametrize("spoilt", [b"", b"[]", b"\xff", b"{}", b'{"batches/b1.html": 3}', None])
def test_lines_of_another_hand(tmp_path: Path, spoilt: bytes | None) -> None:
    """Not whole, or lines of another place under this name; None cuts the file in half."""
    folder = old(tmp_path, kept=True)
    (line,) = (path for path in (folder / "cache").rglob("*") if path.is_file())
    line.write_bytes(line.read_bytes()[: line.stat().st_size // 2] if spoilt is None else spoilt)
    made, times = pages(folder, "new")
    assert (made, times) == (site("new"), PAGES)


def test_a_whole_build_killed_or_answered_where_it_reads_its_lines(tmp_path: Path, counted: Counted) -> None:
    """The command itself, where it reads the lines that are kept."""
    with nursery(COMMANDS) as command:
        turns = Turns(command, tmp_path)
        (lines,) = turns.cache.rglob(place(turns.out))
        assert json.loads(lines.read_bytes().partition(b"\n")[2])
        on_lines = ("-P", str(lines))
        calls = Counter(command.calls(turns.given(0), *on_lines))
        assert min(calls["openat"], calls["read"], calls["utimensat"]) >= 1, calls
        turns.build(1)
        turn = 0
        for call in ("openat", "read", "utimensat"):
            for fault in ("signal=SIGKILL", "error=EIO"):
                end = command.run(turns.given(turn), *on_lines, "-e", f"inject={call}:{fault}:when=1")
                assert (end.status == -signal.SIGKILL) == (fault == "signal=SIGKILL"), (call, fault, end)
                assert end.code == 0 and not end.foreign, (call, fault, end)
                now = snapshot(turns.out)
                assert now in ((turns.sites[turn % 2],) if end.status == 0 else turns.sites), (call, fault)
                turns.build(turn)
                assert snapshot(turns.out) == turns.sites[turn % 2], (call, fault)
                turn += 1
        counted("faults of the whole command at the lines of its pages", turn)
