"""Where a logbook lies, and why a folder is none."""

from __future__ import annotations

import os
import shlex
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from generator.problems import Problem

_RECORDS = (".yaml", ".yml")
WORKSHOP = "logbook.yaml"
USUAL = Path("logbook")


def usual_logbook() -> Path:
    """The folder a command takes where none is given: `logbook`, or the logbook one stands in; `logbook` where neither is one."""
    around = None if _is_there(USUAL / WORKSHOP) else logbook_above(Path(WORKSHOP))
    return Path(os.path.relpath(around)) if around is not None else USUAL


def front_of(root: Path) -> str:
    """What stands before the name of a file of a logbook when it is told; nothing where one stands in the logbook."""
    return f"{root}/" if root != Path() else ""


def logbook_above(path: Path) -> Path | None:
    """The nearest folder above a path that holds a logbook; None where none does."""
    return next((up for up in path.absolute().parents if _is_there(up / WORKSHOP)), None)


def repository_above(path: Path) -> Path | None:
    """The nearest folder that holds a repository of git, or is a working folder of one, the path itself among them; None without."""
    return next((up for up in (path.absolute(), *path.absolute().parents) if _is_there(up / ".git")), None)


def _is_there(path: Path) -> bool:
    """Whether something is there; what lies in a folder that one may not enter is not."""
    try:
        return path.exists()
    except OSError:
        return False


def not_a_logbook(root: Path) -> Problem | None:
    """Why a folder holds no logbook, and which may be meant; None where it does."""
    # slow to import, and not needed to tell where a logbook lies
    from generator.problems import Place, Problem  # noqa: PLC0415

    try:
        there = root.exists()
    except OSError:
        there = False
    if not there:
        here = (root.parent / WORKSHOP).is_file()
        hint = (
            f"logbook.yaml lies in {root.parent}: give {root.parent} as the folder"
            if here
            else f"give the folder that holds logbook.yaml, or begin one: esterday begin {shlex.quote(str(root))}"
        )
        return Problem("no-logbook", Place(str(root)), "there is no such folder", hint)
    if root.is_file():
        folder = logbook_above(root)
        hint = (
            f"it belongs to the logbook at {os.path.relpath(folder)}: give that folder"
            if folder is not None
            else "give the folder that holds logbook.yaml"
        )
        return Problem("no-logbook", Place(str(root)), "this is one file, not a logbook", hint)
    if not root.is_dir():
        return Problem(
            "no-logbook", Place(str(root)), "this is not a folder", "give the folder that holds logbook.yaml"
        )
    if not (root / WORKSHOP).exists():
        inner = next((child for child in sorted(root.iterdir()) if (child / WORKSHOP).is_file()), None)
        hint = f"did you mean {inner}?" if inner else "begin a logbook in a folder of its own: esterday begin"
        return Problem("no-logbook", Place(WORKSHOP), "this folder holds no logbook.yaml", hint)
    return None


def may_hold_records(path: Path) -> bool:
    """Whether a name beside the records is a YAML file, or a folder with one in it or in a folder in it; nothing is opened."""
    if path.is_symlink() or not path.is_dir():
        return path.name.endswith(_RECORDS)
    below = [entry for entry in _entries(path) if entry.is_dir(follow_symlinks=False)]
    looked = [path, *(Path(entry.path) for entry in below)]
    return any(entry.name.endswith(_RECORDS) for folder in looked for entry in _entries(folder))


def _entries(folder: Path) -> list[os.DirEntry[str]]:
    try:
        with os.scandir(folder) as found:
            return [entry for entry in found if not entry.name.startswith(".")]
    except OSError:
        return []
