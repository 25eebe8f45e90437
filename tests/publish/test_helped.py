"""Builds that several processes share: the same site, and a kill of one or all of them leaves one site or the other."""

from __future__ import annotations

import os
import shutil
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from benchmarks.logbooks import write
from tests.conftest import Counted
from tests.site.building import ROOT
from tests.test_spreading import PATIENCE_S, ended

pytestmark = pytest.mark.skipif(sys.platform != "linux", reason="helpers are forked on Linux alone")

BUILD = """
import os, sys
from pathlib import Path
from generator.build import build_site
forks = []
os.register_at_fork(after_in_parent=lambda: forks.append(1))
logbook, out, cache, processes = sys.argv[1:]
build_site(Path(logbook), Path(out), "workshop", None, Path(cache), int(processes))
print(len(forks))
"""
KILLS = 16
BATCHES = 30


def build(logbook: Path, out: Path, cache: Path, processes: int) -> subprocess.Popen[str]:
    """A build under way."""
    arguments = [sys.executable, "-c", BUILD, str(logbook), str(out), str(cache), str(processes)]
    return subprocess.Popen(arguments, cwd=ROOT, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True)


def done(process: subprocess.Popen[str]) -> int:
    """How many helpers a build had that came to its end."""
    told, wrong = process.communicate(timeout=300)
    assert process.returncode == 0, wrong
    return int(told)


def changed(logbook: Path, to: Path) -> Path:
    """The logbook with another name, which stands on every page."""
    shutil.copytree(logbook, to)
    settings = to / "logbook.yaml"
    text = settings.read_text(encoding="utf-8")
    assert "\ntitle: " in f"\n{text}"
    settings.write_text(text.replace("title: ", "title: Another ", 1), encoding="utf-8")
    return to


def children(number: int) -> list[int]:
    """What a process has started that has not ended."""
    try:
        found = Path(f"/proc/{number}/task/{number}/children").read_text(encoding="utf-8")
    except OSError:
        return []
    return [int(child) for child in found.split()]


@pytest.fixture(scope="module")
def books(tmp_path_factory: pytest.TempPathFactory) -> tuple[list[Path], list[dict[str, bytes]], Path]:
    """Two logbooks, their sites as one process makes them, and a cache in which what is drawn is kept."""
    folder = tmp_path_factory.mktemp("helped")
    write(BATCHES, folder / "one")
    logbooks = [folder / "one", changed(folder / "one", folder / "another")]
    sites = []
    for number, logbook in enumerate(logbooks):
        assert done(build(logbook, folder / str(number), folder / "cache", 1)) == 0
        sites.append(content(folder / str(number)))
    assert sites[0] != sites[1]
    return logbooks, sites, folder / "cache"


def content(site: Path) -> dict[str, bytes]:
    """Every file that is served, by path."""
    return {
        path.relative_to(site).as_posix(): path.read_bytes() for path in site.rglob("*") if path.is_file()
    }


def test_helpers_make_the_same_site(
    books: tuple[list[Path], list[dict[str, bytes]], Path], tmp_path: Path
) -> None:
    logbooks, sites, cache = books
    assert done(build(logbooks[0], tmp_path / "kept", cache, 2)) == 1
    assert done(build(logbooks[0], tmp_path / "anew", tmp_path / "cache", 3)) == 2
    assert content(tmp_path / "kept") == sites[0] == content(tmp_path / "anew")
    assert done(build(logbooks[1], tmp_path / "anew", tmp_path / "cache", 3)) == 2
    assert content(tmp_path / "anew") == sites[1]


def test_a_build_killed_with_its_helpers_at_work_leaves_one_site(
    books: tuple[list[Path], list[dict[str, bytes]], Path],
    tmp_path: Path,
    counted: Counted,
) -> None:
    logbooks, sites, cache = books
    out = tmp_path / "place" / "site"
    done(build(logbooks[0], out, cache, 3))
    stood, incomplete, helped = 0, 0, 0
    for turn in range(KILLS):
        process = build(logbooks[1 - stood], out, cache, 3)
        wanted = time.monotonic() + PATIENCE_S
        while len(helpers := children(process.pid)) < 2 and process.poll() is None:
            assert time.monotonic() < wanted
            time.sleep(0.005)
        time.sleep(0.08 * (turn % 8))
        known = (process.pid, *helpers)
        try:
            os.kill(known[turn % len(known)], signal.SIGKILL)
            helped += bool(helpers)
        except ProcessLookupError:
            pass
        process.communicate(timeout=300)
        assert all(map(ended, helpers))
        now = content(out)
        if now == sites[1 - stood]:
            stood = 1 - stood
        incomplete += now != sites[stood]
    assert helped >= KILLS // 2
    assert incomplete == 0
    done(build(logbooks[0], out, cache, 3))
    assert content(out) == sites[0]
    assert [path.name for path in out.parent.iterdir()] == ["site"]
    counted("builds with helpers killed", KILLS)
