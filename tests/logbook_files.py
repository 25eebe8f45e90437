"""A small good logbook as files, and what a test changes in it.

The files lie in `gallery/_base`: two batches of 100 L of oil through an absorbent lead and a resin lag, everything
at the reference temperature so that figures can be worked out by hand.
"""

from __future__ import annotations

import shutil
from collections.abc import Mapping
from pathlib import Path

from generator.log import Log
from generator.problems import Problem
from generator.read.document import parse
from generator.read.folder import Folder
from generator.validate.logbook import Checked, check, checked_folder

BASE = Path(__file__).parent / "gallery" / "_base"

Changes = Mapping[str, tuple[str, str] | str | None]


def logbook(parent: Path, changes: Changes | None = None) -> Path:
    """Copy the good logbook to `parent/logbook` and change files in it.

    For each file: a pair replaces the first text by the second, a text is the whole file, None removes it.
    """
    root = parent / "logbook"
    shutil.copytree(BASE, root)
    for name, change in (changes or {}).items():
        lay(root, name, change)
    return root


def lay(root: Path, name: str, change: tuple[str, str] | str | None) -> None:
    """Change one file of a logbook."""
    path = root / name
    if change is None:
        path.unlink()
        return
    path.parent.mkdir(parents=True, exist_ok=True)
    if isinstance(change, str):
        path.write_text(change, encoding="utf-8")
        return
    old, new = change
    text = path.read_text(encoding="utf-8")
    assert old in text, f"{name} does not hold {old!r}"
    path.write_text(text.replace(old, new), encoding="utf-8")


def checked(parent: Path, changes: Changes | None = None) -> Checked:
    """Lay the changed logbook and check it."""
    return checked_folder(logbook(parent, changes))[1]


def told(parent: Path, changes: Changes | None = None) -> list[Problem]:
    """All problems of the changed logbook, by place."""
    return checked(parent, changes).problems


def codes(problems: list[Problem]) -> list[str]:
    """The codes of problems, in their order."""
    return [problem.code for problem in problems]


def log_of(parent: Path, changes: Changes | None = None) -> Log:
    """The log of the changed logbook; it must be without errors."""
    found = checked(parent, changes)
    assert found.log is not None
    assert found.fit, [f"{problem.place}: {problem.message}" for problem in found.problems]
    return found.log


def in_memory(files: Mapping[str, str]) -> Checked:
    """Check a logbook that lies in no folder: texts by name, in the order in which they are given."""
    folder = Folder(Path("nowhere"))
    for name, text in files.items():
        reading = parse(name, text)
        assert reading.document is not None, reading.problems
        if name == "logbook.yaml":
            folder.workshop = reading.document
        else:
            folder.documents[name.split("/", 1)[0]].append(reading.document)
    return check(folder)


def base_files(*without: str) -> dict[str, str]:
    """The texts of the good logbook by name, pages apart, without those whose names begin so."""
    paths = sorted(path for path in BASE.rglob("*.yaml"))
    names = [path.relative_to(BASE).as_posix() for path in paths]
    return {
        name: path.read_text(encoding="utf-8")
        for name, path in zip(names, paths, strict=True)
        if not name.startswith(without or ("pages/",))
    }
