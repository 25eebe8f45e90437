"""A kill at every system call of a publish, and an error of the machine at each: the old site or the new one, bit for bit.

After every fault the next publish leaves what a publish into a clean folder leaves, and nothing beside.
"""

from __future__ import annotations

import signal
from collections import Counter
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from generator.publish import publish
from tests.conftest import Counted

from .injecting import PUBLISHES, End, Nursery, nursery
from .trees import A, B, add_foreign, snapshot

# What a disk answers, and the calls it may answer so. A read fails with EIO or EACCES, what changes a disk with any.
CHANGES = ("openat", "write", "mkdir", "linkat", "rename", "renameat2", "unlink", "unlinkat", "rmdir")
MODES = ("fchmod", "chmod", "lchown", "utimensat")
READS = ("newfstatat", "getdents64", "read", "flock")
ANSWERS = {
    "ENOSPC": ("openat", "write", "mkdir", "linkat", "rename", "renameat2"),
    "EROFS": (*(call for call in CHANGES if call != "write"), *MODES),
    "EACCES": (*(call for call in CHANGES if call != "write"), *MODES, "newfstatat"),
    "EIO": (*CHANGES, *MODES, *READS),
}
# From that call on until the process ends: a disk that is full, or that the kernel has made read-only, stays so.
LASTING = {"ENOSPC": ("write", "mkdir", "linkat"), "EROFS": (*CHANGES[2:], *MODES), "EIO": CHANGES}


@pytest.fixture(scope="module")
def ward(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Nursery]:
    with nursery(PUBLISHES, tmp_path_factory.mktemp("warm") / "site") as made:
        yield made


class Place:
    """A folder that serves site A beside files of others, and what it holds with A and with B."""

    def __init__(self, out: Path, before: Callable[[Path], None]) -> None:
        self.out, self.before = out, before
        before(out)
        self.old = self.held()
        publish(B.items(), out, protected=[])
        self.new = self.held()
        self.reset()
        assert self.held() == self.old != self.new

    def held(self) -> dict[str, object] | None:
        return snapshot(self.out) if self.out.exists() else None

    def beside(self) -> set[str]:
        return {path.name for path in self.out.parent.iterdir()} - {"site"}

    def reset(self) -> None:
        self.before(self.out)

    def recovers(self, fault: object) -> None:
        """The next publish is as if nothing had been."""
        publish(B.items(), self.out, protected=[])
        assert (self.held(), self.beside()) == (self.new, set()), fault
        self.reset()
        assert (self.held(), self.beside()) == (self.old, set()), fault


def with_site(out: Path) -> None:
    if not out.exists():
        publish(A.items(), out, protected=[])
        add_foreign(out)
    publish(A.items(), out, protected=[])


def with_nothing(out: Path) -> None:
    if out.exists():
        publish({}.items(), out, protected=[])
        (out / ".esterday-files.json").unlink()
        out.rmdir()


def every(calls: list[str]) -> Iterator[tuple[str, int]]:
    """Each call of a publish, by its name and which of that name it is."""
    for name, most in sorted(Counter(calls).items()):
        yield from ((name, number) for number in range(1, most + 1))


@pytest.mark.parametrize("before", [with_site, with_nothing], ids=["over a site", "where none was"])
def test_killed_at_every_system_call(
    tmp_path: Path,
    ward: Nursery,
    before: Callable[[Path], None],
    counted: Counted,
) -> None:
    place = Place(tmp_path / "place" / "site", before)
    calls = ward.calls(str(place.out))
    place.reset()
    served: Counter[str] = Counter()
    for call, number in every(calls):
        end = ward.run(str(place.out), "-e", f"inject={call}:signal=SIGKILL:when={number}")
        assert end.status == -signal.SIGKILL, (call, number)
        now = place.held()
        assert now in (place.old, place.new), f"neither site after a kill at {call} {number}"
        served["old" if now == place.old else "new"] += 1
        place.recovers((call, number))
    assert min(served["old"], served["new"]) > 3, served
    counted("kills at a system call", served.total())


@pytest.mark.parametrize("number", [signal.SIGTERM, signal.SIGINT], ids=lambda number: number.name)
def test_asked_to_stop_at_every_change_of_the_disk(
    tmp_path: Path, ward: Nursery, number: signal.Signals, counted: Counted
) -> None:
    place = Place(tmp_path / "place" / "site", with_site)
    calls = [call for call in ward.calls(str(place.out)) if call in (*CHANGES, *MODES)]
    place.reset()
    done = 0
    for call, when in every(calls):
        end = ward.run(str(place.out), "-e", f"inject={call}:signal={number.name}:when={when}")
        assert end.status == -number or number == signal.SIGINT, (call, when, end)
        assert place.held() in (place.old, place.new), f"neither site after {number.name} at {call} {when}"
        place.recovers((call, when))
        done += 1
    counted("kills at a system call", done)


def test_killed_where_two_folders_cannot_change_places(
    tmp_path: Path, ward: Nursery, counted: Counted
) -> None:
    """Some disks know no exchange. Only between the two renames is no site served, and the next publish brings one back."""
    place = Place(tmp_path / "place" / "site", with_site)
    other_way = ("-e", "inject=renameat2:error=EINVAL")
    calls = [call for call in ward.calls(str(place.out), *other_way) if call in (*CHANGES, *MODES)]
    place.reset()
    without, done = [], 0
    for call, when in every(calls):
        if call == "renameat2":
            continue
        end = ward.run(str(place.out), *other_way, "-e", f"inject={call}:signal=SIGKILL:when={when}")
        assert end.status == -signal.SIGKILL, (call, when)
        now = place.held()
        if now is None:
            without.append(call)
        assert now in (place.old, place.new, None), f"half a site after a kill at {call} {when}"
        place.recovers((call, when))
        done += 1
    assert without in ([], ["rename"]), without
    counted("kills at a system call", done)


def told_of(place: Place, end: End, fault: object) -> str:
    """Hold what a publish with an error of the machine must leave; return which site it left."""
    assert end.status == 0 and not end.foreign, (fault, end)
    now = place.held()
    assert now in (place.old, place.new), f"neither site after {fault}"
    if end.message:
        assert "\n" not in end.message and str(place.out.parent) in end.message and end.hint, (fault, end)
        assert now == place.old or "is written" in end.message, (fault, end)
    else:
        assert now == place.new, (fault, end)
    return "told" if end.message else "written all the same"


@pytest.mark.parametrize("answer", ANSWERS)
def test_an_error_at_every_system_call(tmp_path: Path, ward: Nursery, answer: str, counted: Counted) -> None:
    place = Place(tmp_path / "place" / "site", with_site)
    calls = [call for call in ward.calls(str(place.out)) if call in ANSWERS[answer]]
    assert set(ANSWERS[answer]) <= {*calls}, "a call that no publish makes"
    place.reset()
    ends: Counter[str] = Counter()
    for call, number in every(calls):
        fault = f"{answer} at {call} {number}"
        end = ward.run(str(place.out), "-e", f"inject={call}:error={answer}:when={number}")
        ends[told_of(place, end, fault)] += 1
        place.recovers(fault)
    assert ends["told"] > 10, ends
    counted("errors of the machine at a system call", ends.total())


@pytest.mark.parametrize("answer", LASTING)
def test_an_error_from_a_system_call_on(tmp_path: Path, ward: Nursery, answer: str, counted: Counted) -> None:
    place = Place(tmp_path / "place" / "site", with_site)
    calls = ward.calls(str(place.out))
    place.reset()
    done = 0
    most = max(Counter(call for call in calls if call in LASTING[answer]).values())
    for number in range(1, most + 1):
        faults = [
            part
            for call in LASTING[answer]
            for part in ("-e", f"inject={call}:error={answer}:when={number}+")
        ]
        told_of(place, ward.run(str(place.out), *faults), f"{answer} from {number} on")
        place.recovers((answer, number))
        done += 1
    counted("errors of the machine at a system call", done)
