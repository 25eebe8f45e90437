"""The whole command killed while it reads, draws, keeps what it drew and publishes: one site or the other, and what is kept is whole."""

from __future__ import annotations

import shutil
import signal
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

import pytest

from generator.kept import Kept, digest
from tests.conftest import Counted
from tests.site.building import ROOT

from .injecting import COMMANDS, KEEPS, Nursery, nursery
from .trees import snapshot

READS = {"openat": 2, "read": 2, "newfstatat": 1, "getdents64": 1}
CHANGES = {
    "mkdir": 1,
    "linkat": 2,
    "fchmod": 1,
    "rename": 1,
    "renameat2": 1,
    "unlinkat": 2,
    "rmdir": 1,
    "unlink": 1,
}
UNKEPT = {"write": 1, "rename": 2, "mkdir": 1}


@pytest.fixture(scope="module")
def command() -> Iterator[Nursery]:
    with nursery(COMMANDS) as made:
        yield made


def spread(calls: list[str], wanted: dict[str, int]) -> Iterator[tuple[str, int]]:
    """Some of the calls of each name, spread evenly over all of that name."""
    most = Counter(calls)
    for name, some in wanted.items():
        assert most[name] >= some, (name, most)
        yield from ((name, 1 + most[name] * (2 * place + 1) // (2 * some)) for place in range(some))


class Turns:
    """Builds of two logbooks into one folder in turn, each killed and then done again."""

    def __init__(self, command: Nursery, folder: Path) -> None:
        self.command, self.out, self.cache = command, folder / "place" / "site", folder / "cache"
        self.books = [folder / "one", folder / "two"]
        for path in self.books:
            shutil.copytree(ROOT / "tests" / "logbooks" / "gallons", path)
        settings = self.books[1] / "logbook.yaml"
        text = settings.read_text(encoding="utf-8")
        settings.write_text(text.replace("title: Five", "title: Only five"), encoding="utf-8")
        self.sites = []
        for turn in (0, 1):
            self.build(turn)
            self.sites.append(snapshot(self.out))
        assert self.sites[0] != self.sites[1]

    def given(self, turn: int) -> tuple[list[str], str]:
        return ["build", str(self.books[turn % 2]), "--out", str(self.out)], str(self.cache)

    def build(self, turn: int, trace: str = "trace=renameat2") -> list[str]:
        return self.command.calls(self.given(turn), "-e", trace)

    def forget(self) -> None:
        shutil.rmtree(self.cache)

    def killed(self, turn: int, call: str, number: int) -> bool:
        """Kill a build at a call; whether the new site was there by then. The next build is as if nothing had been."""
        end = self.command.run(self.given(turn), "-e", f"inject={call}:signal=SIGKILL:when={number}")
        assert end.status == -signal.SIGKILL, (call, number, end)
        old, new = self.sites[1 - turn % 2], self.sites[turn % 2]
        now = snapshot(self.out)
        assert now in (old, new), f"neither site after a kill at {call} {number}"
        self.build(turn)
        assert snapshot(self.out) == new, (call, number)
        assert [path.name for path in self.out.parent.iterdir()] == ["site"], (call, number)
        return now == new


def test_killed_anywhere(command: Nursery, tmp_path: Path, counted: Counted) -> None:
    turns = Turns(command, tmp_path)
    calls = turns.build(0, f"trace={','.join({**READS, **CHANGES})}")
    turns.build(1)
    ends = [turns.killed(turn, *place) for turn, place in enumerate(spread(calls, {**READS, **CHANGES}))]
    assert {*ends} == {True, False}
    counted("kills of the whole command", len(ends))


def test_killed_while_it_keeps_what_it_has_drawn(command: Nursery, tmp_path: Path, counted: Counted) -> None:
    """What is kept is half written then, or not at all: the next build takes nothing of it that is not whole."""
    turns = Turns(command, tmp_path)
    turns.forget()
    calls = turns.build(0, f"trace={','.join(UNKEPT)}")
    turns.build(1)
    done = 0
    for turn, place in enumerate(spread(calls, UNKEPT)):
        turns.forget()
        turns.killed(turn, *place)
        done += 1
    counted("kills of the whole command", done)


def test_what_is_kept_survives_a_kill_at_every_system_call(tmp_path: Path, counted: Counted) -> None:
    texts = {digest(str(number)): f"text {number} " * 4000 for number in range(16)}
    with nursery(KEEPS) as ward:
        calls = ward.calls(str(tmp_path / "first"))
        done = 0
        for call, most in Counter(calls).items():
            for number in range(1, most + 1):
                folder = tmp_path / f"{call}{number}"
                end = ward.run(str(folder), "-e", f"inject={call}:signal=SIGKILL:when={number}")
                assert end.status == -signal.SIGKILL, (call, number)
                for key, text in texts.items():
                    assert Kept(folder).text(key, lambda text=text: text) == text  # type: ignore[misc]
                Kept(folder, most=3).prune()
                assert sum(path.is_file() for path in folder.rglob("*")) == 3
                done += 1
    assert done > 100
    counted("kills at a system call", done)
