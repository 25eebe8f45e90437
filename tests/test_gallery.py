"""Every broken logbook gets the text that a person was meant to read, to the letter.

A case is a folder `gallery/CODE` or `gallery/CODE-VARIANT`: files laid over the good logbook `gallery/_base`, a list
`removed` of those taken out of it, and `expected.txt` with what the command prints. What cannot be kept as a plain
text file is made here.
"""

from __future__ import annotations

import contextlib
import os
import shutil
import subprocess
import sys
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from click.testing import CliRunner

from generator.attaching import MAX_BYTES as MAX_REPORT
from generator.cli import main
from generator.fields import MAX_TEXT
from generator.problems import rules
from generator.read.document import MAX_BYTES
from tests.logbook_files import BASE, lay

GALLERY = BASE.parent
CASES = sorted(path.name for path in GALLERY.iterdir() if path.is_dir() and path != BASE)


def _link(root: Path) -> None:
    (root.parent / "elsewhere.yaml").write_text("lot: canary\n", encoding="utf-8")
    (root / "lots" / "linked.yaml").symlink_to(root.parent / "elsewhere.yaml")


def _linked_folder(root: Path) -> None:
    shutil.move(root / "prices", root.parent / "elsewhere")
    (root / "prices").symlink_to(root.parent / "elsewhere")


def _many(root: Path) -> None:
    for number in range(4):
        (root / "lots" / f"more-{number}.yaml").write_text("", encoding="utf-8")


def _large_report(root: Path) -> None:
    (root / "attachments").mkdir()
    (root / "attachments" / "water-b2.pdf").write_bytes(b"%PDF-1.4\n".ljust(MAX_REPORT + 1, b"\n"))


MADE: dict[str, Callable[[Path], object]] = {
    "attachment-too-large": _large_report,
    "file-too-large": lambda root: (root / "lots" / "large.yaml").write_bytes(b"#" * (MAX_BYTES + 1)),
    "not-a-plain-file": _link,
    "not-a-plain-file-folder": _linked_folder,
    "not-a-plain-file-pipe": lambda root: os.mkfifo(root / "lots" / "pipe.yaml"),
    "not-utf8": lambda root: (root / "lots" / "old.yaml").write_bytes(
        "lot: old\nsource: Caf\xe9\n".encode("latin-1")
    ),
    "odd-character": lambda root: (root / "lots" / "odd.yaml").write_text(
        "lot: od\u200bd\nmaterial: chips\nreceived: 2026-01-02\nquantity: 1 kg\npaid: 1.00 EUR/kg\n",
        encoding="utf-8",
    ),
    "odd-character-control": lambda root: (root / "lots" / "odd.yaml").write_bytes(b"lot: odd\nnote: a\0b\n"),
    "odd-file-name": lambda root: (root / "lots" / "odd\nname.yaml").write_text("lot: odd\n"),
    "unreadable": lambda root: (root / "lots" / "oil-1.yaml").chmod(0),
    "text-too-long": lambda root: lay(
        root, "batches/b2.yaml", ("batch: b2\n", f"batch: b2\nnote: {'n' * (MAX_TEXT + 1)}\n")
    ),
    "too-many-files": _many,
    "yaml-syntax-tab": lambda root: (root / "lots" / "tab.yaml").write_text("lot: tab\n\tmaterial: chips\n"),
    "yaml-syntax-tabs": lambda root: (root / "lots" / "tab.yaml").write_text(
        "lot: tab\nmaterial: chips\nreceived: 2026-01-02\nquantity: 9 kg\npaid: 1.00 EUR/kg\n"
        "losses:\n\t- {date: 2026-01-03, mass: 1 kg}\n"
    ),
}
FEWER = {"too-many-files": 9}


@contextlib.contextmanager
def _nobody() -> Iterator[None]:
    """Read as a user whom modes stop; root is stopped by none."""
    if os.geteuid() != 0:
        yield
        return
    CliRunner().invoke(main, ["check"])  # imports what nobody may not
    Path.cwd().chmod(0o755)
    os.seteuid(65534)
    try:
        yield
    finally:
        os.seteuid(0)


def lay_case(name: str, parent: Path) -> Path:
    """Lay the good logbook and the case over it; return its folder."""
    root = parent / "logbook"
    shutil.copytree(BASE, root)
    case = GALLERY / name
    gone = case / "removed"
    for removed in gone.read_text(encoding="utf-8").split() if gone.exists() else ():
        (root / removed).unlink()
    shutil.copytree(case, root, dirs_exist_ok=True, ignore=shutil.ignore_patterns("removed", "expected.txt"))
    if name in MADE:
        MADE[name](root)
    return root


def expected(name: str) -> str:
    """What the command prints."""
    return (GALLERY / name / "expected.txt").read_text(encoding="utf-8")


@pytest.mark.parametrize("name", CASES)
def test_the_text_to_the_letter(name: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    lay_case(name, tmp_path)
    monkeypatch.chdir(tmp_path)
    if name in FEWER:
        monkeypatch.setattr("generator.read.folder.MAX_FILES", FEWER[name])
    with _nobody() if name == "unreadable" else contextlib.nullcontext():
        done = CliRunner().invoke(main, ["check"])
    assert done.stderr == expected(name)
    assert done.stdout == ""
    assert done.exit_code == (1 if ": error: " in expected(name) else 0)


@pytest.mark.parametrize("name", ["unknown-key", "stock-overdrawn", "not-a-plain-file-pipe", "no-price"])
def test_the_same_from_a_shell(name: str, tmp_path: Path) -> None:
    lay_case(name, tmp_path)
    done = subprocess.run(
        [sys.executable, "-m", "generator", "check"],
        cwd=tmp_path,
        env={**os.environ, "PYTHONPATH": str(GALLERY.parents[1])},
        capture_output=True,
        text=True,
        encoding="utf-8",
        timeout=60,
        check=False,
    )
    assert (done.stderr, done.stdout) == (expected(name), "")
    assert done.returncode == (1 if ": error: " in expected(name) else 0)


@pytest.mark.parametrize("code", rules())
def test_every_code_has_a_case(code: str) -> None:
    cases = [name for name in CASES if name == code or name.startswith(f"{code}-")]
    assert any(f"({code})" in expected(name) for name in cases)


@pytest.mark.parametrize("name", CASES)
def test_one_mistake_one_message(name: str) -> None:
    """Each case holds one mistake, and a mistake is told once, not again by all that follows from it."""
    told = [line for line in expected(name).splitlines() if ": error: " in line or ": warning: " in line]
    assert len(told) == 1
    code = told[0].rsplit("(", 1)[1].rstrip(")")
    assert name == code or name.startswith(f"{code}-")


@pytest.mark.parametrize("name", CASES)
def test_each_message_says_what_to_do(name: str) -> None:
    assert "    hint: " in expected(name)


def test_what_is_made_has_a_case() -> None:
    assert set(MADE) <= set(CASES)


def test_the_good_logbook_is_good(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    shutil.copytree(BASE, tmp_path / "logbook")
    monkeypatch.chdir(tmp_path)
    done = CliRunner().invoke(main, ["check"])
    assert (done.exit_code, done.stderr) == (0, "2 batches read: 0 errors, 0 warnings.\n")
