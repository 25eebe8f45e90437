"""Processes that die while they publish: the served folder is the old site or the new one, bit for bit."""

from __future__ import annotations

import os
import random
import signal
import time
from pathlib import Path

import pytest

from generator.publish import publish
from generator.publish.swap import exchange, rename_twice
from generator.publish.target import target
from tests.conftest import Counted

from .trees import FOREIGN, LATE, LOOP, A, B, add_foreign, contents, snapshot, start

KILLS = 45
HIDDEN = {".site.esterday-new", ".site.esterday-old", ".site.esterday-lock"}


def served(tmp_path: Path) -> tuple[Path, dict[str, object], dict[str, object]]:
    """A folder with site A and foreign files, and what it holds with A and with B."""
    out = tmp_path / "place" / "site"
    publish(A.items(), out, protected=[])
    add_foreign(out)
    publish(B.items(), out, protected=[])
    with_b = snapshot(out)
    publish(A.items(), out, protected=[])
    return out, snapshot(out), with_b


def beside(out: Path) -> set[str]:
    return {path.name for path in out.parent.iterdir()} - {"site"}


def test_killed_at_any_moment(tmp_path: Path, counted: Counted) -> None:
    out, with_a, with_b = served(tmp_path)
    moments = random.Random(20_260_101)
    seen, left_beside = set(), 0
    for _ in range(KILLS):
        child = start(LOOP, out, 1_000_000)
        assert child.stdout is not None
        assert child.stdout.readline() == "ready\n"
        time.sleep(moments.uniform(0, 0.04))
        child.send_signal(signal.SIGKILL)
        child.communicate()
        assert child.returncode == -signal.SIGKILL
        now = snapshot(out)
        assert now in (with_a, with_b)
        seen.add("A" if now == with_a else "B")
        left_beside += bool(beside(out))
        assert beside(out) <= HIDDEN
    assert seen == {"A", "B"}
    assert left_beside, "no kill fell into a publish: the test has shown nothing"
    publish(B.items(), out, protected=[])
    assert snapshot(out) == with_b
    assert beside(out) == set()
    counted("kills at any moment", KILLS)


def test_dead_between_two_renames(tmp_path: Path) -> None:
    """Where folders cannot change places a run may die with none served: the next puts the old one back."""
    out, with_a, with_b = served(tmp_path)
    out.rename(out.with_name(".site.esterday-old"))
    publish(B.items(), out, protected=[])
    assert snapshot(out) == with_b
    assert contents(out).items() >= FOREIGN.items()
    assert beside(out) == set()
    assert with_a != with_b


def test_dead_after_two_renames(tmp_path: Path) -> None:
    out, with_a, _ = served(tmp_path)
    publish(B.items(), out.with_name("other"), protected=[])
    out.with_name("other").rename(out.with_name(".site.esterday-old"))
    publish(A.items(), out, protected=[])
    assert snapshot(out) == with_a
    assert beside(out) == set()


def test_the_two_renames_themselves(tmp_path: Path) -> None:
    place = target(tmp_path / "site", [])
    publish(A.items(), place.folder, protected=[])
    publish(B.items(), tmp_path / "b", protected=[])
    (tmp_path / "b").rename(place.staged)
    rename_twice(place)
    assert contents(place.folder) == dict(B)
    assert contents(place.aside) == dict(A)


def test_the_second_rename_fails_and_the_old_site_is_back(tmp_path: Path) -> None:
    place = target(tmp_path / "site", [])
    publish(A.items(), place.folder, protected=[])
    with pytest.raises(FileNotFoundError):
        rename_twice(place)
    assert contents(place.folder) == dict(A)


def test_exchange_is_one_step_here(tmp_path: Path) -> None:
    """On Linux the fallback must not be what the other tests ran."""
    for name in ("one", "other"):
        (tmp_path / name / name).mkdir(parents=True)
    assert exchange(tmp_path / "one", tmp_path / "other")
    assert os.listdir(tmp_path / "one") == ["other"]  # noqa: PTH208 - one name
    with pytest.raises(OSError, match="none"):
        exchange(tmp_path / "one", tmp_path / "none")


def test_a_file_put_into_the_old_site_at_the_last_moment_is_not_lost(tmp_path: Path) -> None:
    """The old site, changed after its place was taken by a run that then died."""
    out, _, with_b = served(tmp_path)
    publish(B.items(), out.with_name("new"), protected=[])
    add_foreign(out.with_name("new"))
    (out / "late").mkdir()
    (out / "late" / "file").write_bytes(b"late")
    assert exchange(out, out.with_name("new"))
    out.with_name("new").rename(out.with_name(".site.esterday-new"))
    publish(B.items(), out, protected=[])
    assert contents(out) == {**B, **FOREIGN, "late/file": b"late"}
    assert snapshot(out).items() >= with_b.items()
    assert beside(out) == set()


def test_what_others_write_while_we_publish_is_not_lost(tmp_path: Path) -> None:
    out, _, _ = served(tmp_path)
    child = start(LATE, out)
    _, errors = child.communicate(timeout=60)
    assert child.returncode == 0, errors
    assert contents(out) == {**B, **FOREIGN, "late/file": b"late", "CNAME": b"other.example\n"}
    assert beside(out) == set()
