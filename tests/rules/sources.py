"""The files the rules look at: what git has or would take, and without git what lies there."""

from __future__ import annotations

import subprocess
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
MODULES = sorted((ROOT / "generator").rglob("*.py"))
SKIPPED = {
    ".git",
    ".venv",
    "site",
    "dist",
    "__pycache__",
    ".mypy_cache",
    ".ruff_cache",
    ".pytest_cache",
    ".hypothesis",
}


def ours() -> list[Path]:
    """Every text file of the project that we wrote: not vendored, not ignored by git."""
    paths = [path for path in _listed() if "vendor" not in path.relative_to(ROOT).parts]
    return [
        path for path in paths if path.is_file() and not path.is_symlink() and b"\0" not in path.read_bytes()
    ]


def shown(path: Path) -> str:
    """The path within the project, as the name of a test."""
    return path.relative_to(ROOT).as_posix()


def _listed() -> list[Path]:
    command = ["git", "ls-files", "-z", "--cached", "--others", "--exclude-standard"]
    try:
        done = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=True)
    except (OSError, subprocess.CalledProcessError):
        return sorted(path for path in ROOT.rglob("*") if SKIPPED.isdisjoint(path.relative_to(ROOT).parts))
    return sorted(ROOT / name for name in done.stdout.split("\0") if name)
