"""Files that change between the look at them and their reading, and names that a disk may take for one another."""

from __future__ import annotations

import os
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from generator.plain import NotPlainError, TooLargeError, plain_bytes
from generator.read.document import MAX_BYTES
from generator.read.folder import read_folder
from tests.logbook_files import logbook

CANARY = b"lot: canary\n"
watching: list[Callable[[str], object]] = []


def _hook(event: str, given: tuple[object, ...]) -> None:
    if event == "open" and watching and str(given[0]).endswith("swapped.yaml"):
        watching.pop()(str(given[0]))


sys.addaudithook(_hook)  # Python asks it just before the system call, so after every look


def to_link(path: str) -> None:
    Path(path).unlink()
    Path(path).symlink_to(Path(path).with_name("target"))


def to_pipe(path: str) -> None:
    Path(path).unlink()
    os.mkfifo(path)


def to_large(path: str) -> None:
    os.truncate(path, MAX_BYTES + 1)


def to_folder(path: str) -> None:
    Path(path).unlink()
    Path(path).mkdir()


@pytest.mark.parametrize(
    ("swap", "code"),
    [
        (to_link, "not-a-plain-file"),
        (to_pipe, "not-a-plain-file"),
        (to_folder, "not-a-plain-file"),
        (to_large, "file-too-large"),
        (os.unlink, "unreadable"),
    ],
)
def test_a_file_that_is_swapped_after_the_look(
    tmp_path: Path, swap: Callable[[str], object], code: str
) -> None:
    root = logbook(tmp_path)
    (root / "lots" / "target").write_bytes(CANARY)
    (root / "lots" / "swapped.yaml").write_bytes(b"lot: swapped\n")
    watching.append(swap)
    found = read_folder(root)
    assert not watching, "the file was never opened"
    assert code in {problem.code for problem in found.problems if problem.place.file == "lots/swapped.yaml"}
    assert "canary" not in repr([found.documents, found.problems])


def test_a_sparse_file_of_two_gigabytes_is_not_read(tmp_path: Path) -> None:
    path = tmp_path / "sparse.yaml"
    path.touch()
    os.truncate(path, 2 * 1024**3)
    with pytest.raises(TooLargeError) as told:
        plain_bytes(path, MAX_BYTES)
    assert told.value.size == 2 * 1024**3


def test_a_file_without_a_size_is_read_to_the_limit_and_no_further() -> None:
    """The kernel gives 0 as the size of what it makes while it is read."""
    path = Path("/proc/self/maps")
    assert path.stat().st_size == 0
    with pytest.raises(TooLargeError):
        plain_bytes(path, 64)


def test_a_device_is_not_opened() -> None:
    with pytest.raises(NotPlainError):
        plain_bytes(Path("/dev/zero"), MAX_BYTES)
