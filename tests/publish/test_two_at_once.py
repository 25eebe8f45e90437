"""Two builds into one folder: each waits for the other or says so, and the end is one complete site."""

from __future__ import annotations

import fcntl
import threading
import time
from pathlib import Path

import pytest

from generator.publish import CannotPublish, publish

from .trees import GONE, LOOP, A, B, contents, snapshot, start


def test_two_processes_take_turns(tmp_path: Path) -> None:
    out = tmp_path / "site"
    publish(A.items(), tmp_path / "a", protected=[])
    publish(B.items(), tmp_path / "b", protected=[])
    children = [start(LOOP, out, 31), start(LOOP, out, 30)]
    for child in children:
        _, errors = child.communicate(timeout=120)
        assert child.returncode == 0, errors
    assert snapshot(out) in (snapshot(tmp_path / "a"), snapshot(tmp_path / "b"))
    assert sorted(path.name for path in tmp_path.iterdir()) == ["a", "b", "site"]


def test_a_build_that_cannot_wait_says_so(tmp_path: Path) -> None:
    out = tmp_path / "site"
    publish(A.items(), out, protected=[])
    with (tmp_path / ".site.esterday-lock").open("wb") as other:
        fcntl.flock(other, fcntl.LOCK_EX)
        with pytest.raises(CannotPublish, match="another build is writing") as caught:
            publish(B.items(), out, protected=[], wait_s=0.1)
    assert str(out) in caught.value.message
    assert contents(out) == dict(A)
    publish(B.items(), out, protected=[])
    assert contents(out) == dict(B)


def test_a_build_waits_for_another(tmp_path: Path) -> None:
    out = tmp_path / "site"
    with (tmp_path / ".site.esterday-lock").open("wb") as other:
        fcntl.flock(other, fcntl.LOCK_EX)
        waiting = threading.Thread(target=publish, args=(A.items(), out), kwargs={"protected": []})
        waiting.start()
        time.sleep(0.3)
        assert not out.exists()
        fcntl.flock(other, fcntl.LOCK_UN)
        waiting.join(timeout=20)
    assert contents(out) == dict(A)


def test_the_lock_of_a_dead_build_does_not_hold(tmp_path: Path) -> None:
    (tmp_path / ".site.esterday-lock").write_bytes(b"")
    publish(A.items(), tmp_path / "site", protected=[], wait_s=0)
    assert [path.name for path in tmp_path.iterdir()] == ["site"]


def test_a_lock_file_removed_at_the_wrong_moment_locks_nothing(tmp_path: Path) -> None:
    """Who holds a file that is no longer there must take the new one, or two would write at once."""
    child = start(GONE, tmp_path / "lock")
    said, errors = child.communicate(timeout=30)
    assert said == "True 1\n", errors
