"""Answers kept beside a logbook that lies where nothing can be written: told as such, and no command stumbles."""

from __future__ import annotations

import fcntl
import os
import subprocess
import sys
import time
from pathlib import Path

import pytest

from tests.logbook_files import logbook
from tests.writing.test_commands import DAY, ROOT, run

LOT = ["lot", "o9", "--set=material=frying-oil", "--set=quantity=60 L at 15 °C", "--set=source=Inn"]
DRAFT = "logbook/.draft-batch-b9.json"


@pytest.fixture
def locked(small_disk: Path) -> Path:
    """A logbook with a draft on a disk that is read-only from here on."""
    logbook(small_disk)
    (small_disk / DRAFT).write_text('{"note": "Clear."}', encoding="utf-8")
    subprocess.run(["mount", "-o", "remount,ro", str(small_disk)], check=True)
    return small_disk


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (["batch"], "/batches/b3.yaml cannot be written: Read-only file system"),
        ([*LOT, "--set=paid=30 EUR"], "/lots/o9.yaml cannot be written: Read-only file system"),
        ([*LOT, "--set=paid=30 EUR", "--fresh"], "/lots/o9.yaml cannot be written: Read-only file system"),
        (["batch", "b9", "--fresh"], f"{DRAFT} cannot be taken away: Read-only file system"),
        (["batch", "b9", "--set=note=3"], f"{DRAFT} cannot be written: Read-only file system"),
    ],
)
def test_on_a_disk_that_is_read_only_the_machine_is_to_blame(
    locked: Path, words: list[str], told: str
) -> None:
    done = run(locked, "new", *words, DAY)
    assert (done.returncode, told in done.stderr) == (3, True), done.stderr
    assert "Traceback" not in done.stderr


def test_what_is_refused_there_is_the_machines_fault_where_nothing_can_be_kept(locked: Path) -> None:
    nothing = run(locked, "new", "lot", "o9", "--set", "price=30 EUR", DAY)
    assert (nothing.returncode, "Traceback" in nothing.stderr) == (2, False), nothing.stderr
    some = run(locked, "new", "lot", "o9", "--set", "paid=30 EUR", DAY)
    assert (some.returncode, ".json cannot be written" in some.stderr) == (3, True), some.stderr


@pytest.mark.parametrize(
    ("kind", "refused", "right"),
    [
        (["lot", "o9"], ["received=60 L"], ["quantity=60 L at 15 °C", "paid=30 EUR"]),
        (["lot", "o9"], ["quantity=60 L at 15 °C", "paid=30 €"], ["paid=30 EUR"]),
        (["batch"], ["oil=15 L"], ["oil.0.volume=15 L at 15 °C"]),
        (["batch"], ["oil.0.volume=15 L at 15 °C", "oil.0.lot=oil-77"], ["oil=[{lot: oil-1, volume: 15 L}]"]),
        (["event", "shed"], ["event=rinse", "vessel=B", "mass=4"], ["event=rinse", "vessel=B"]),
        (["draw", "tank-1"], ["draw=20"], ["draw=20 L at 15 °C"]),
    ],
)
def test_what_was_refused_does_not_come_back_with_the_next_try(
    shed: Path, kind: list[str], refused: list[str], right: list[str]
) -> None:
    material = ["--set=material=frying-oil"] if kind[0] == "lot" else []
    first = run(shed, "new", *kind, *material, *(f"--set={each}" for each in refused), DAY)
    assert first.returncode in (1, 2), first.stdout
    second = run(shed, "new", *kind, *(f"--set={each}" for each in right), *material, DAY)
    assert second.returncode == 0, second.stderr
    assert refused[-1] not in second.stderr
    assert not list((shed / "logbook").glob(".draft*"))


def test_what_a_killed_command_left_is_swept_and_what_another_holds_stays(shed: Path) -> None:
    left, held, foreign = (
        shed / "logbook/batches" / name for name in (".esterday-abcd1234", ".esterday-held1234", ".mine")
    )
    for path in (left, held, foreign):
        path.write_text("half", encoding="utf-8")
    with held.open() as mine:
        fcntl.flock(mine, fcntl.LOCK_EX)
        done = run(shed, "new", "batch", DAY)
    assert done.returncode == 0, done.stderr
    assert [path.exists() for path in (left, held, foreign)] == [False, True, True]
    assert sorted(path.name for path in left.parent.glob(".esterday*")) == [held.name]


def test_an_import_that_was_killed_leaves_nothing_once_it_is_run_again(shed: Path) -> None:
    rows = [["Batch", "Date", "Oil"], *([f"k{number}", "2026-01-20", "0.1"] for number in range(200))]
    (shed / "t.csv").write_text("\n".join(",".join(row) for row in rows), encoding="utf-8")
    (shed / "map.yaml").write_text(
        "import: batches\nid: '{Batch}'\ncolumns:\n  - {column: Batch, key: batch}\n  - {column: Date, key: date}\n"
        "  - {column: Oil, key: oil.0.volume, unit: L}\nalways: {oil.0.lot: oil-1}\n",
        encoding="utf-8",
    )
    words = [sys.executable, "-m", "generator", "import", "t.csv", "--map", "map.yaml", "--write", "--quiet"]
    folder = shed / "logbook/batches/2026"
    going = subprocess.Popen(words, cwd=shed, env={**os.environ, "PYTHONPATH": str(ROOT)})
    while going.poll() is None and not list(folder.glob("k1*.yaml")):
        time.sleep(0.001)
    going.kill()
    assert going.wait(30) != 0, "it was done before it could be killed"
    (folder / ".esterday-left1234").write_text(
        "half", encoding="utf-8"
    )  # where it was killed between two files
    assert run(shed, *words[3:]).returncode == 0
    assert len(list(folder.glob("k*.yaml"))) == 200
    assert not list(folder.glob(".*"))
