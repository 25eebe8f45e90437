"""Targets that are refused, each leaving everything as it was and saying what stands in the way."""

from __future__ import annotations

import json
import os
import subprocess
from pathlib import Path

import pytest

from generator.publish import CannotPublish, publish

from .trees import A, B, contents, snapshot

LISTS = {
    "not JSON": b"{",
    "not a group": b"[]",
    "another format": b'{"format": 2, "files": {}}',
    "no files": b'{"format": 1}',
    "files as a list": b'{"format": 1, "files": []}',
    "a path out of the site": json.dumps({"format": 1, "files": {"../precious": "0"}}).encode(),
    "an absolute path": json.dumps({"format": 1, "files": {"/etc/passwd": "0"}}).encode(),
    "very deep": b"[" * 100_000,
    "not UTF-8": b"\xff\xfe\xff",
}


def refused(out: Path, *protected: Path) -> CannotPublish:
    with pytest.raises(CannotPublish) as caught:
        publish(A.items(), out, protected=list(protected))
    assert caught.value.hint
    return caught.value


def test_the_root_folder() -> None:
    assert "/" in refused(Path("/")).message


def test_the_home_folder_and_what_holds_it(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    home = tmp_path / "homes" / "me"
    home.mkdir(parents=True)
    monkeypatch.setenv("HOME", str(home))
    assert str(home) in refused(home).message
    assert str(home) in refused(home.parent).message
    publish(A.items(), home / "site", protected=[])


def test_the_home_folder_of_the_list_of_users(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    home = Path("~").expanduser()
    monkeypatch.setenv("HOME", str(tmp_path))
    assert str(home) in refused(home).message


def test_protected_folders_and_what_holds_them(tmp_path: Path) -> None:
    logbook = tmp_path / "repository" / "logbook"
    logbook.mkdir(parents=True)
    for out in (logbook, logbook.parent, logbook / "batches" / "..", tmp_path):
        assert str(logbook) in refused(out, logbook).message
    publish(A.items(), logbook.parent / "site", protected=[logbook, logbook.parent])


def test_a_protected_folder_by_another_name(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    logbook = tmp_path / "logbook"
    logbook.mkdir()
    (tmp_path / "alias").symlink_to(tmp_path)
    refused(tmp_path / "alias" / "logbook", logbook)
    refused(logbook, tmp_path / "alias" / "logbook")
    monkeypatch.chdir(logbook)
    refused(Path(), logbook)
    refused(Path(".."), logbook)
    assert list(logbook.iterdir()) == []


def test_a_link(tmp_path: Path) -> None:
    (tmp_path / "real").mkdir()
    (tmp_path / "site").symlink_to(tmp_path / "real")
    assert "link" in refused(tmp_path / "site").message
    (tmp_path / "dangling").symlink_to(tmp_path / "none")
    assert "link" in refused(tmp_path / "dangling").message
    assert list((tmp_path / "real").iterdir()) == []


@pytest.mark.parametrize("make", [lambda path: path.write_bytes(b"mine"), os.mkfifo], ids=["file", "pipe"])
def test_a_file(tmp_path: Path, make: object) -> None:
    assert callable(make)
    make(tmp_path / "site")
    assert "not a folder" in refused(tmp_path / "site").message
    assert [path.name for path in tmp_path.iterdir()] == ["site"]


def test_a_folder_below_a_file(tmp_path: Path) -> None:
    (tmp_path / "file").write_bytes(b"mine")
    assert str(tmp_path / "file") in refused(tmp_path / "file" / "site").message


def test_a_folder_that_is_not_a_site_names_what_is_there(tmp_path: Path) -> None:
    out = tmp_path / "documents"
    for name in ("tax", "letters", "photos/old"):
        (out / name).mkdir(parents=True)
    (out / "will.txt").write_text("mine")
    before = snapshot(tmp_path)
    message = refused(out).message
    assert all(name in message for name in ("tax", "letters", "photos", "will.txt"))
    assert snapshot(tmp_path) == before


def test_names_that_steer_a_terminal_are_shown_not_sent(tmp_path: Path) -> None:
    (tmp_path / "site").mkdir()
    (tmp_path / "site" / "\x1b[31mred").write_bytes(b"")
    (tmp_path / "site" / os.fsdecode(b"\xff")).write_bytes(b"")
    message = refused(tmp_path / "site").message
    assert message.isprintable()
    assert "<U+001B>" in message


@pytest.mark.parametrize("content", LISTS.values(), ids=LISTS.keys())
def test_a_list_that_is_none_of_ours(tmp_path: Path, content: bytes) -> None:
    out = tmp_path / "site"
    publish(A.items(), out, protected=[])
    (tmp_path / "precious").write_bytes(b"mine")
    (out / ".esterday-files.json").write_bytes(content)
    assert ".esterday-files.json" in refused(out).message
    assert contents(out) == dict(A)
    assert (tmp_path / "precious").read_bytes() == b"mine"


def test_a_list_that_is_a_link(tmp_path: Path) -> None:
    out = tmp_path / "site"
    publish(A.items(), out, protected=[])
    (out / ".esterday-files.json").rename(tmp_path / "list")
    (out / ".esterday-files.json").symlink_to(tmp_path / "list")
    refused(out)


def test_a_full_disk_leaves_the_old_site_and_nothing_beside(small_disk: Path) -> None:
    out = small_disk / "site"
    publish(A.items(), out, protected=[])
    before = snapshot(out)
    with pytest.raises(CannotPublish) as caught:
        publish({**B, "large.bin": bytes(1 << 20)}.items(), out, protected=[])
    assert str(out) in caught.value.message
    assert "\n" not in caught.value.message
    assert "free some space" in caught.value.hint
    assert snapshot(out) == before
    assert [path.name for path in small_disk.iterdir()] == ["site"]
    publish(B.items(), out, protected=[])
    assert contents(out) == dict(B)


def test_a_read_only_disk_leaves_the_old_site(small_disk: Path) -> None:
    out = small_disk / "site"
    publish(A.items(), out, protected=[])
    before = snapshot(small_disk)
    subprocess.run(["mount", "-o", "remount,ro", str(small_disk)], check=True)
    for place in (out, small_disk / "new", small_disk / "folder" / "new"):
        assert str(place) in (error := refused(place)).message
        assert "read-only" in error.hint
    assert snapshot(small_disk) == before


def test_the_place_of_a_mount(small_disk: Path) -> None:
    assert "mounted" in refused(small_disk).message
    assert list(small_disk.iterdir()) == []


def test_a_disk_mounted_inside_the_site(small_disk: Path, tmp_path: Path) -> None:
    """Clearing the old site would empty it."""
    (small_disk / "mine").write_bytes(b"mine")
    publish(A.items(), tmp_path / "site", protected=[])
    inside = tmp_path / "site" / "disk"
    inside.mkdir()
    subprocess.run(["mount", "--bind", str(small_disk), str(inside)], check=True)
    assert f"{inside} is where another disk is mounted" in refused(tmp_path / "site").message
    assert (small_disk / "mine").read_bytes() == b"mine"


@pytest.mark.usefixtures("small_disk")
def test_a_folder_of_the_same_disk_mounted_inside_the_site(tmp_path: Path) -> None:
    """The device number is the same, only linking into it fails."""
    mine = tmp_path / "mine"
    mine.mkdir()
    (mine / "file").write_bytes(b"mine")
    publish(A.items(), tmp_path / "site", protected=[])
    inside = tmp_path / "site" / "bound"
    inside.mkdir()
    subprocess.run(["mount", "--bind", str(mine), str(inside)], check=True)
    refused(tmp_path / "site")
    assert (mine / "file").read_bytes() == b"mine"
    subprocess.run(["umount", str(inside)], check=True)
    assert contents(tmp_path / "site") == dict(A)
