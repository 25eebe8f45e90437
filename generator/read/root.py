"""Where a logbook lies, and why a folder is none."""

from __future__ import annotations

import os
import shlex
from pathlib import Path

from generator.problems import Place, Problem

WORKSHOP = "logbook.yaml"


def logbook_above(path: Path) -> Path | None:
    """The nearest folder above a path that holds a logbook; None where none does."""
    return next((up for up in path.absolute().parents if (up / WORKSHOP).is_file()), None)


def not_a_logbook(root: Path) -> Problem | None:
    """Why a folder holds no logbook, and which may be meant; None where it does."""
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
