"""The same logbook gives the same bytes, whatever the machine's clock, zone, locale, umask, hash seed, path, order of files and clone."""

from __future__ import annotations

import os
import random
import shutil
import stat
import subprocess
import sys
import tempfile
from collections.abc import Callable
from pathlib import Path

import pytest

from tests.conftest import Counted
from tests.publish.injecting import missing
from tests.site.building import ROOT, build

LOGBOOK = ROOT / "tests" / "logbooks" / "gallons"
ELSEWHERE = (
    {"TZ": "Pacific/Auckland", "PYTHONHASHSEED": "77", "LC_ALL": "C", "LANG": "C"},
    {"TZ": "America/St_Johns", "PYTHONHASHSEED": "4000000000", "LC_ALL": "C.UTF-8", "HOME": "/nowhere"},
)


def _bytes(site: Path) -> dict[str, bytes]:
    return {
        path.relative_to(site).as_posix(): path.read_bytes()
        for path in sorted(site.rglob("*"))
        if path.is_file()
    }


def laid_out(folder: Path, order: Callable[[list[Path]], list[Path]]) -> Path:
    """The logbook copied file by file in an order, which is the order in which a tmpfs lists them."""
    paths = [path for path in sorted(LOGBOOK.rglob("*")) if path.is_file()]
    for path in order(paths):
        to = folder / path.relative_to(LOGBOOK)
        to.parent.mkdir(parents=True, exist_ok=True)
        shutil.copyfile(path, to)
    return folder


@pytest.fixture(scope="module")
def apart(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The site of a copy that lies in no repository, so that it has no history."""
    folder = tmp_path_factory.mktemp("apart")
    shutil.copytree(LOGBOOK, folder / "copy")
    return build(folder / "copy", folder / "site")


@pytest.mark.parametrize("number", range(len(ELSEWHERE)))
def test_same_bytes_elsewhere(number: int, tmp_path: Path, apart: Path, counted: Counted) -> None:
    """Another path, zone, locale, hash seed and umask; every chart is drawn anew."""
    copy = tmp_path / ("somewhere else", "é 油")[number] / "copy"
    shutil.copytree(LOGBOOK, copy)
    umask = os.umask((0o077, 0o000)[number])
    try:
        other = build(copy, tmp_path / "out", "--no-cache", env={**os.environ, **ELSEWHERE[number]})
    finally:
        os.umask(umask)
    assert _bytes(apart) == _bytes(other)
    assert {stat.S_IMODE(path.stat().st_mode) for path in other.rglob("*")} == {0o644, 0o755}
    counted("builds elsewhere with the same bytes", 1)


@pytest.mark.parametrize("clock", ["@1999-12-31 23:59:58", "@2041-02-28 12:00:00"])
def test_same_bytes_by_another_clock(clock: str, tmp_path: Path, gallons: Path, counted: Counted) -> None:
    if why := missing("faketime"):
        pytest.skip(why)
    command = [sys.executable, "-m", "generator", "build", str(LOGBOOK), "--out", str(tmp_path / "site")]
    asked = [sys.executable, "-c", "import datetime; print(datetime.date.today().year)"]
    said = [
        subprocess.run(
            ["faketime", "-f", clock, *each], cwd=ROOT, capture_output=True, text=True, check=True
        ).stdout
        for each in (asked, command)
    ]
    assert said[0].strip() == clock[1:5], "the clock was not another one"
    assert _bytes(gallons) == _bytes(tmp_path / "site")
    counted("builds elsewhere with the same bytes", 1)


def test_same_bytes_whatever_the_order_of_files(tmp_path: Path, apart: Path, counted: Counted) -> None:
    shuffled = random.Random(20_260_101)
    orders: list[Callable[[list[Path]], list[Path]]] = [
        list,
        lambda paths: paths[::-1],
        lambda paths: shuffled.sample(paths, len(paths)),
    ]
    seen = set()
    for number, order in enumerate(orders):
        with tempfile.TemporaryDirectory(dir="/dev/shm") as folder:  # a tmpfs on every Linux
            logbook = laid_out(Path(folder), order)
            with os.scandir(logbook / "batches" / "2025") as entries:
                seen.add(tuple(entry.name for entry in entries))
            other = build(logbook, tmp_path / str(number))
        assert _bytes(apart) == _bytes(other)
        counted("builds elsewhere with the same bytes", 1)
    assert len(seen) > 1, "the files were listed in one order"


def test_same_bytes_from_a_fresh_clone(tmp_path: Path, counted: Counted) -> None:
    """Of a repository in which other branches were checked out, so that its files are of other times."""

    def git(*arguments: str) -> None:
        me = ("-c", "user.name=A", "-c", "user.email=a@example.org", "-c", "commit.gpgsign=false")
        subprocess.run(["git", *me, *arguments], cwd=tmp_path, check=True, capture_output=True)

    worked = tmp_path / "worked"
    shutil.copytree(LOGBOOK, worked / "logbook")
    git("init", "-q", "-b", "main", "worked")
    git("-C", "worked", "add", ".")
    git("-C", "worked", "commit", "-q", "-m", "Begin")
    git("-C", "worked", "checkout", "-q", "-b", "other")
    git("-C", "worked", "rm", "-q", "-r", "logbook/batches")
    git("-C", "worked", "commit", "-q", "-m", "Other")
    git("-C", "worked", "checkout", "-q", "main")
    git("clone", "-q", "--branch", "main", "worked", "clone")
    sites = [build(tmp_path / name / "logbook", tmp_path / f"site-{name}") for name in ("worked", "clone")]
    assert _bytes(sites[0]) == _bytes(sites[1])
    counted("builds elsewhere with the same bytes", 1)


def test_an_error_leaves_the_last_site(tmp_path: Path) -> None:
    copy = tmp_path / "log"
    shutil.copytree(ROOT / "tests" / "logbooks" / "gallons", copy)
    site = build(copy, tmp_path / "site")
    before = _bytes(site)
    (copy / "lots" / "broken.yaml").write_text(
        "lot: broken\nmaterial: nothing\nreceived: 2025-01-01\nquantity: 5\n", encoding="utf-8"
    )
    done = subprocess.run(
        [sys.executable, "-m", "generator", "build", str(copy), "--out", str(site)],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 1
    assert "quantity-unit" in done.stderr and "Nothing was written" in done.stderr
    assert _bytes(site) == before
