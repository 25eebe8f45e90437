"""Only plain files below the known folders are opened; what else lies there is named and never read."""

from __future__ import annotations

import os
import stat
import subprocess
import sys
from pathlib import Path

import pytest

from generator.problems import Place
from generator.read.document import MAX_BYTES
from generator.read.folder import FOLDERS, read_folder
from tests.logbook_files import codes, logbook

CANARY = "canary-7291"


@pytest.fixture
def root(tmp_path: Path) -> Path:
    return logbook(tmp_path)


def test_a_good_folder_is_read_whole(root: Path) -> None:
    found = read_folder(root)
    assert found.problems == []
    assert found.workshop is not None
    counts = {name: len(found.documents[name]) for name in FOLDERS}
    assert counts == {
        "materials": 1,
        "lots": 6,
        "batches": 2,
        "columns": 1,
        "tanks": 1,
        "offers": 1,
        "prices": 1,
    }
    assert [note.text for note in found.pages] == ["A shed in a garden.\n"]


def test_files_come_sorted_whatever_folder_they_lie_in(root: Path) -> None:
    for name in ("b/z", "a/b/c", "B"):
        folder = root / "batches" / name
        folder.mkdir(parents=True, exist_ok=True)
        (folder / "x.yaml").write_text("batch: x\n", encoding="utf-8")
    files = [document.file for document in read_folder(root).documents["batches"]]
    assert len(files) == 5
    assert files == sorted(files)


@pytest.mark.parametrize("target", ["file", "folder", "nothing", "itself"])
def test_a_link_is_refused_and_nothing_of_its_target_is_shown(root: Path, target: str) -> None:
    outside = root.parent / "outside"
    if target == "file":
        outside.write_text(f"lot: {CANARY}\n", encoding="utf-8")
    elif target == "folder":
        outside.mkdir()
        (outside / "secret.yaml").write_text(f"lot: {CANARY}\n", encoding="utf-8")
    link = root / "lots" / "link.yaml"
    link.symlink_to(link if target == "itself" else outside)
    found = read_folder(root)
    assert [(problem.code, problem.place) for problem in found.problems] == [
        ("not-a-plain-file", Place("lots/link.yaml"))
    ]
    assert CANARY not in repr(found)
    assert found.lines("lots/link.yaml") is None


def test_a_linked_folder_or_settings_are_refused(root: Path) -> None:
    for name in ("lots", "logbook.yaml"):
        (root / name).rename(root.parent / f"moved-{name}")
        (root / name).symlink_to(root.parent / f"moved-{name}")
    found = read_folder(root)
    assert {str(problem.place): problem.code for problem in found.problems} == {
        "lots": "not-a-plain-file",
        "logbook.yaml": "not-a-plain-file",
    }
    assert found.workshop is None
    assert found.documents["lots"] == []


@pytest.mark.parametrize("place", ["lots/pipe.yaml", "logbook.yaml", "pages/pipe.md", "lots"])
def test_a_pipe_does_not_hang(root: Path, place: str) -> None:
    path = root / place
    if path.is_dir():
        path.rename(root.parent / "moved")
    path.unlink(missing_ok=True)
    os.mkfifo(path)
    done = subprocess.run(
        [sys.executable, "-m", "generator", "check", str(root)],
        cwd=Path(__file__).parents[2],
        capture_output=True,
        text=True,
        timeout=30,
        check=False,
    )
    assert done.returncode == 1
    assert f"{place}: error: this is a link or a special file and was not opened" in done.stderr


def test_hidden_files_and_folders_are_passed_over(root: Path) -> None:
    for name in (".git/config", "lots/.draft.yaml", "lots/.old/a.yaml", ".hidden.yaml", "pages/.a.md"):
        path = root / name
        path.parent.mkdir(exist_ok=True)
        path.write_text(f"lot: &x {CANARY}\n", encoding="utf-8")
    found = read_folder(root)
    assert found.problems == []
    assert CANARY not in repr(found)


def test_what_does_not_belong_is_named_and_not_read(root: Path) -> None:
    for name in (
        "notes.txt",
        "lots/photo.jpg",
        "lots/oil.yml",
        "pages/map.yaml",
        "lost/a.yaml",
        "README.md",
        "LICENSE",
    ):
        path = root / name
        path.parent.mkdir(exist_ok=True)
        path.write_text(CANARY, encoding="utf-8")
    found = read_folder(root)
    assert sorted(str(problem.place) for problem in found.problems) == [
        "lost", "lots/oil.yml", "lots/photo.jpg", "notes.txt", "pages/map.yaml",
    ]  # fmt: skip
    assert set(codes(found.problems)) == {"stray-file"}
    assert (
        next(problem.hint for problem in found.problems if problem.place.file == "lost")
        == "did you mean 'lots'?"
    )
    assert CANARY not in repr(found)


@pytest.mark.parametrize(("size", "expected"), [(MAX_BYTES, []), (MAX_BYTES + 1, ["file-too-large"])])
def test_a_mebibyte_is_read_and_a_byte_more_is_not(root: Path, size: int, expected: list[str]) -> None:
    head = b"lot: large\n#"
    (root / "lots" / "large.yaml").write_bytes(head + b"x" * (size - len(head)))
    found = read_folder(root)
    assert codes(found.problems) == expected
    assert ("lots/large.yaml" in [document.file for document in found.documents["lots"]]) is (not expected)


def test_a_file_too_large_is_not_opened(root: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = root / "lots" / "large.yaml"
    with path.open("wb") as file:
        file.truncate(MAX_BYTES * 1000)
    opened: list[Path] = []
    really = os.open

    def noted(path: str, *options: int) -> int:
        opened.append(Path(path))
        return really(path, *options)

    monkeypatch.setattr("generator.plain.os.open", noted)
    assert codes(read_folder(root).problems) == ["file-too-large"]
    assert path not in opened
    assert root / "lots" / "oil-1.yaml" in opened


@pytest.mark.parametrize(("most", "expected"), [(6, []), (5, ["too-many-files"])])
def test_the_number_of_files_is_limited(
    root: Path, monkeypatch: pytest.MonkeyPatch, most: int, expected: list[str]
) -> None:
    monkeypatch.setattr("generator.read.folder.MAX_FILES", most)
    found = read_folder(root)
    assert codes(found.problems) == expected
    assert len(found.documents["lots"]) == (0 if expected else 6)


def test_reading_changes_nothing(root: Path) -> None:
    def state() -> dict[str, tuple[bytes, int, int]]:
        files = [path for path in root.rglob("*") if path.is_file()]
        return {
            str(path): (path.read_bytes(), path.stat().st_mtime_ns, path.stat().st_mode) for path in files
        }

    before = state()
    for path in root.rglob("*"):
        if path.is_file():
            path.chmod(stat.S_IRUSR)
    before = state()
    read_folder(root)
    assert state() == before


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("---\ntitle: A\n---\n", []),
        ("---\ntitle: A\n---", []),
        ("---\r\ntitle: A\r\n---\r\ntext\r\n", []),
        ("title: A\n", ["page-head"]),
        ("---\ntitle: A\n", ["page-head"]),
        ("", ["page-head"]),
        ("\n---\ntitle: A\n---\n", ["page-head"]),
        ("---\ntitle: *a\n---\n", ["yaml-feature"]),
    ],
)
def test_the_head_of_a_page(root: Path, text: str, expected: list[str]) -> None:
    (root / "pages" / "about.md").write_bytes(text.encode())
    found = read_folder(root)
    assert codes(found.problems) == expected
    assert len(found.pages) == (0 if expected else 1)


def test_an_unreadable_name_is_told_and_raises_nothing(root: Path) -> None:
    raw = os.fsencode(root / "lots") + b"/\xff\n.txt"
    try:
        with open(raw, "wb"):  # noqa: PTH123 - pathlib takes no bytes
            pass
    except OSError:
        pytest.skip("this file system takes no such name")
    assert codes(read_folder(root).problems) == ["odd-file-name"]


def test_where_a_repository_is_a_logbook_other_folders_are_left_alone(tmp_path: Path) -> None:
    """Tools, texts and settings of a forge lie there too; what is named like a folder of ours or holds YAML may be a record."""
    root = logbook(tmp_path)
    for name in (
        "tools/a.whl",
        "docs/a.md",
        "Makefile",
        "lost/a.txt",
        "old/2024/b9.yaml",
        "b9.yml",
        "deep/a/b/c.yaml",
    ):
        path = root / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text("x: 1\n", encoding="utf-8")
    assert len(read_folder(root).problems) == 7
    (root / ".git").mkdir()
    told = {problem.place.file: problem.hint for problem in read_folder(root).problems}
    assert list(told) == ["b9.yml", "lost", "old"]
    assert "a name that begins with a dot is left alone" in told["old"]
