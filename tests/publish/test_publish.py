"""What a publish leaves: the tree, the list of it, what others put there, and the modes; nothing beside."""

from __future__ import annotations

import json
import os
import stat
from hashlib import sha256
from pathlib import Path

import pytest

from generator.publish import CannotPublish, publish

from .trees import FOREIGN, A, B, add_foreign, contents, snapshot

MANIFEST = ".esterday-files.json"


@pytest.fixture
def out(tmp_path: Path) -> Path:
    return tmp_path / "place" / "site"


def beside(out: Path) -> list[str]:
    return sorted(path.name for path in out.parent.iterdir())


def test_first_publish_writes_the_tree_and_nothing_beside(out: Path) -> None:
    done = publish(A.items(), out, protected=[])
    assert contents(out) == dict(A)
    assert done.written == tuple(sorted(A))
    assert (done.unchanged, done.foreign) == ((), ())
    assert beside(out) == ["site"]


def test_the_list_names_each_file_with_its_digest_in_order(out: Path) -> None:
    publish(A.items(), out, protected=[])
    listed = json.loads((out / MANIFEST).read_bytes())["files"]
    assert list(listed) == sorted(A)
    assert listed == {name: sha256(content).hexdigest() for name, content in A.items()}


def test_publish_into_an_empty_folder(out: Path) -> None:
    out.mkdir(parents=True)
    publish(A.items(), out, protected=[])
    assert contents(out) == dict(A)
    assert beside(out) == ["site"]


def test_the_same_again_changes_no_byte_and_no_file(out: Path) -> None:
    publish(A.items(), out, protected=[])
    before, inodes = snapshot(out), {name: (out / name).stat().st_ino for name in A}
    done = publish(A.items(), out, protected=[])
    assert snapshot(out) == before
    assert {name: (out / name).stat().st_ino for name in A} == inodes
    assert (done.written, done.unchanged) == ((), tuple(sorted(A)))


def test_another_tree_writes_only_what_changed_and_removes_what_went(out: Path, tmp_path: Path) -> None:
    publish(A.items(), out, protected=[])
    kept = (out / "same/03.html").stat().st_ino
    done = publish(B.items(), out, protected=[])
    assert done.written == ("batches/001.html", "batches/2.html", "index.html", "only-b.css")
    assert (out / "same/03.html").stat().st_ino == kept
    assert not (out / "only-a").exists()
    publish(B.items(), tmp_path / "clean", protected=[])
    assert snapshot(out) == snapshot(tmp_path / "clean")


def test_order_of_the_tree_does_not_matter(out: Path, tmp_path: Path) -> None:
    publish(A.items(), out, protected=[])
    publish(dict(reversed(list(A.items()))).items(), tmp_path / "other", protected=[])
    assert snapshot(out) == snapshot(tmp_path / "other")


def test_foreign_files_survive_untouched(out: Path) -> None:
    publish(A.items(), out, protected=[])
    add_foreign(out)
    (out / "own/link").symlink_to("/nowhere/at/all")
    (out / "empty").mkdir()
    (out / "own").chmod(0o700)
    (out / "CNAME").chmod(0o600)
    inode = (out / "CNAME").stat().st_ino
    done = publish(B.items(), out, protected=[])
    assert contents(out) == {**B, **FOREIGN}
    assert done.foreign == tuple(sorted([*FOREIGN, "own/link"]))
    assert (out / "own/link").readlink() == Path("/nowhere/at/all")
    assert (out / "empty").is_dir()
    assert stat.S_IMODE((out / "own").stat().st_mode) == 0o700
    assert (stat.S_IMODE((out / "CNAME").stat().st_mode), (out / "CNAME").stat().st_ino) == (0o600, inode)


def test_a_foreign_pipe_survives_and_is_not_opened(out: Path) -> None:
    publish(A.items(), out, protected=[])
    os.mkfifo(out / "pipe")
    publish(B.items(), out, protected=[])
    assert stat.S_ISFIFO((out / "pipe").stat().st_mode)


def test_foreign_file_in_the_way_is_named_and_nothing_changes(out: Path) -> None:
    publish(A.items(), out, protected=[])
    (out / "only-b.css").write_bytes(b"mine")
    before = snapshot(out)
    with pytest.raises(CannotPublish, match=r"only-b\.css"):
        publish(B.items(), out, protected=[])
    assert snapshot(out) == before
    assert beside(out) == ["site"]


@pytest.mark.parametrize("tree", [{"own": b""}, {"own/photo.jpg/x.html": b""}, {"own/photo.jpg": b""}])
def test_foreign_folder_and_file_in_the_way(out: Path, tree: dict[str, bytes]) -> None:
    publish(A.items(), out, protected=[])
    add_foreign(out)
    with pytest.raises(CannotPublish, match="own"):
        publish(tree.items(), out, protected=[])
    assert contents(out) == {**A, **FOREIGN}


def test_a_file_of_ours_replaced_by_a_link_is_written_anew(out: Path, tmp_path: Path) -> None:
    publish(A.items(), out, protected=[])
    (tmp_path / "precious").write_bytes(A["index.html"])
    (out / "index.html").unlink()
    (out / "index.html").symlink_to(tmp_path / "precious")
    publish(A.items(), out, protected=[])
    assert not (out / "index.html").is_symlink()
    assert (tmp_path / "precious").read_bytes() == A["index.html"]


@pytest.mark.parametrize("damage", [b"Z\n", b"longer than it was\n", b""])
def test_a_file_changed_on_disk_is_not_trusted(out: Path, damage: bytes) -> None:
    """`Z` has the size of the original, so neither size nor the digest on the list can tell."""
    publish(A.items(), out, protected=[])
    (out / "index.html").write_bytes(damage)
    done = publish(A.items(), out, protected=[])
    assert done.written == ("index.html",)
    assert (out / "index.html").read_bytes() == A["index.html"]


def test_a_file_whose_mode_was_changed_is_written_anew(out: Path) -> None:
    publish(A.items(), out, protected=[])
    (out / "index.html").chmod(0o666)
    assert publish(A.items(), out, protected=[]).written == ("index.html",)
    assert stat.S_IMODE((out / "index.html").stat().st_mode) == 0o644


@pytest.mark.parametrize("umask", [0o077, 0o000, 0o777 & ~0o700])
def test_modes_do_not_depend_on_the_umask(out: Path, umask: int) -> None:
    previous = os.umask(umask)
    try:
        publish(A.items(), out, protected=[])
    finally:
        os.umask(previous)
    modes = {(path.is_dir(), stat.S_IMODE(path.stat().st_mode)) for path in (out, *out.rglob("*"))}
    assert modes == {(True, 0o755), (False, 0o644)}


@pytest.mark.parametrize(
    "path",
    [MANIFEST, "", "/etc/x", "../x", "a/../../x", "a//b", "./a", "a/.", "a/", "a\\b", "a\0b", "a", "b/c"],
)
def test_paths_that_are_none_are_a_mistake_of_the_programmer(out: Path, path: str) -> None:
    tree = {path: b"", "a/b": b"", "b/c/d": b""}
    with pytest.raises(ValueError, match=r"not a path|same name"):
        publish(tree.items(), out, protected=[])
    assert beside(out) == []


def test_other_names_that_look_odd_are_fine(out: Path) -> None:
    tree = {"..a/b..c": b"1", ".well-known/x": b"2", "ä ö/ü.html": b"3", "a/.esterday-files.json": b"4"}
    publish(tree.items(), out, protected=[])
    found = {path.relative_to(out).as_posix() for path in out.rglob("*") if path.is_file()}
    assert found == {*tree, MANIFEST}


def test_an_empty_tree_empties_the_site_but_not_of_foreign_files(out: Path) -> None:
    publish(A.items(), out, protected=[])
    add_foreign(out)
    publish({}.items(), out, protected=[])
    assert contents(out) == FOREIGN
