"""Work spread over processes: all of it is done once, whatever ends a helper, and no helper is left behind."""

from __future__ import annotations

import errno
import os
import signal
import subprocess
import sys
import time
from collections.abc import Sequence
from pathlib import Path

import pytest

from generator.spreading import WORTH, Helped

ROOT = Path(__file__).resolve().parents[1]
MANY = range(WORTH * 3)
PATIENCE_S = 20.0

pytestmark = pytest.mark.skipif(sys.platform != "linux", reason="helpers are forked on Linux alone")


@pytest.fixture(autouse=True)
def _engine_elsewhere(monkeypatch: pytest.MonkeyPatch) -> None:
    """As in a process that has drawn nothing: other tests of this one may have, and nothing here draws."""
    monkeypatch.setattr("generator.spreading.THREADED", "nothing")


def squared(number: int) -> tuple[int, int]:
    """A piece of work, and by whom it was done."""
    time.sleep(0.001)
    return number * number, os.getpid()


def ended(number: int) -> bool:
    """Whether a process has ended, within patience."""
    until = time.monotonic() + PATIENCE_S
    while time.monotonic() < until:
        try:
            os.kill(number, 0)
            if Path(f"/proc/{number}/stat").read_text(encoding="utf-8").rpartition(")")[2].split()[0] == "Z":
                return True
        except (ProcessLookupError, FileNotFoundError):
            return True
        time.sleep(0.02)
    return False


def helpers() -> list[int]:
    """Processes that this one has started and not waited for."""
    found = Path(f"/proc/self/task/{os.getpid()}/children").read_text(encoding="utf-8")
    return [int(number) for number in found.split()]


@pytest.mark.parametrize("processes", [1, 2, 3])
@pytest.mark.parametrize("items", [range(0), range(5), MANY, range(2500)])
def test_all_of_it_is_done_once(processes: int, items: Sequence[int]) -> None:
    with Helped(items, squared, processes) as work:
        came = [*work.ready(), *work.rest()]
    assert sorted((place, value) for place, (value, _) in came) == [(n, n * n) for n in items]
    by = {done_by for _, (_, done_by) in came}
    assert (len(by) > 1) == (processes > 1 and len(items) >= WORTH)


def test_what_is_ready_is_given_before_one_takes_part() -> None:
    with Helped(MANY, squared, 2) as work:
        until = time.monotonic() + PATIENCE_S
        early: list[tuple[int, tuple[int, int]]] = []
        while len(early) < len(MANY) and time.monotonic() < until:
            early += work.ready()
        assert list(work.rest()) == []
    assert len(early) == len(MANY)
    assert os.getpid() not in {done_by for _, (_, done_by) in early}


def failing(number: int) -> int:
    """Work that a helper cannot do."""
    if os.getpid() != OWN:
        raise ZeroDivisionError(f"piece {number}")
    time.sleep(0.01)
    return number


class Awkward(Exception):
    """An error that cannot be made again from what it hands on."""

    def __init__(self, first: int, second: int) -> None:
        """Two numbers where its base keeps one text."""
        super().__init__(f"{first} and {second}")


def awkward(number: int) -> int:
    """Work that a helper cannot do, for a reason that is hard to tell."""
    if os.getpid() != OWN:
        raise Awkward(number, number)
    time.sleep(0.01)
    return number


OWN = os.getpid()


def test_what_a_helper_meets_is_raised_here(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(globals(), "OWN", os.getpid())
    with pytest.raises(ZeroDivisionError, match="piece"), Helped(MANY, failing, 2) as work:
        list(work.rest())
    with pytest.raises(RuntimeError, match="Awkward: "), Helped(MANY, awkward, 2) as work:
        list(work.rest())


def test_what_a_killed_helper_took_is_done_here() -> None:
    before = set(helpers())  # of other tests in this process
    with Helped(range(5000), squared, 2) as work:
        (helper,) = set(helpers()) - before
        early = [*work.ready()]
        os.kill(helper, signal.SIGKILL)
        came = [*early, *work.rest()]
    assert sorted((place, value) for place, (value, _) in came) == [(n, n * n) for n in range(5000)]


def test_where_no_process_can_be_had_this_one_does_all(monkeypatch: pytest.MonkeyPatch) -> None:
    def refused() -> int:
        raise BlockingIOError(errno.EAGAIN, os.strerror(errno.EAGAIN))

    monkeypatch.setattr(os, "fork", refused)
    with Helped(MANY, squared, 3) as work:
        assert sorted(place for place, _ in work.rest()) == list(MANY)


def test_what_a_stopped_helper_took_is_done_here() -> None:
    before = set(helpers())
    with Helped(range(5000), squared, 2) as work:
        (helper,) = set(helpers()) - before
        os.kill(helper, signal.SIGSTOP)
        came = [*work.rest()]
    assert sorted((place, value) for place, (value, _) in came) == [(n, n * n) for n in range(5000)]
    assert ended(helper)


def short_of_memory(number: int) -> tuple[int, int]:
    """Work for which a helper finds no memory."""
    if os.getpid() != OWN:
        raise MemoryError
    return squared(number)


def short_of_files(number: int) -> tuple[int, int]:
    """Work for which a helper may open no file."""
    if os.getpid() != OWN:
        raise OSError(errno.EMFILE, os.strerror(errno.EMFILE))
    return squared(number)


def test_what_a_helper_has_no_file_for_is_done_here(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(globals(), "OWN", os.getpid())
    with Helped(MANY, short_of_files, 3) as work:
        assert sorted(place for place, _ in work.rest()) == list(MANY)


def test_what_a_helper_has_no_memory_for_is_done_here(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(globals(), "OWN", os.getpid())
    with Helped(MANY, short_of_memory, 3) as work:
        assert sorted(place for place, _ in work.rest()) == list(MANY)


def test_what_cannot_be_taken_over_for_want_of_memory_is_done_here(monkeypatch: pytest.MonkeyPatch) -> None:
    def refused(*_: object) -> object:
        raise MemoryError

    monkeypatch.setattr("multiprocessing.connection.Connection.recv", refused)
    with Helped(MANY, squared, 3) as work:
        assert sorted(place for place, _ in work.rest()) == list(MANY)


@pytest.mark.parametrize("what", ["pipe", "thread"])
def test_where_the_machine_refuses_what_helpers_need_this_one_does_all(
    monkeypatch: pytest.MonkeyPatch, what: str
) -> None:
    def refused(*_: object, **__: object) -> object:
        raise (
            OSError(errno.EMFILE, os.strerror(errno.EMFILE)) if what == "pipe" else RuntimeError("no thread")
        )

    monkeypatch.setattr(
        "generator.spreading.Pipe" if what == "pipe" else "generator.spreading.Thread.start", refused
    )
    before = set(helpers())
    with Helped(MANY, squared, 3) as work:
        came = [*work.rest()]
    assert {done_by for _, (_, done_by) in came} == {os.getpid()}
    assert sorted(place for place, _ in came) == list(MANY)
    assert set(helpers()) <= before


def test_whoever_stops_early_leaves_no_helper() -> None:
    before = set(helpers())
    with Helped(range(100_000), squared, 3) as work:
        started = set(helpers()) - before
        next(work.rest())
    assert len(started) == 2
    assert not started & set(helpers())


BUSY = """
import os, signal, sys, time
from pathlib import Path
from generator.spreading import Helped
signal.signal(signal.SIGINT, signal.default_int_handler)  # a shell lets what it starts in the background ignore it
def do(number):
    time.sleep(0.001)
    return bytes(100_000)
with Helped(range(100_000), do, 3) as work:
    print(Path(f"/proc/self/task/{os.getpid()}/children").read_text(), flush=True)
    for _ in work.rest():
        pass
"""


@pytest.mark.parametrize("stopped", [False, True])
@pytest.mark.parametrize("by", [signal.SIGKILL, signal.SIGTERM, signal.SIGINT, signal.SIGHUP])
def test_helpers_end_with_the_process_they_help(by: signal.Signals, stopped: bool) -> None:
    with subprocess.Popen(
        [sys.executable, "-c", BUSY], cwd=ROOT, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, text=True
    ) as process:
        assert process.stdout is not None
        started = [int(number) for number in process.stdout.readline().split()]
        assert len(started) == 2
        time.sleep(0.2)
        for helper in started if stopped else ():
            os.kill(helper, signal.SIGSTOP)
        process.send_signal(by)
        process.wait(PATIENCE_S)
    assert all(map(ended, started))
