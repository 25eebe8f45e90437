"""A logbook in a repository of its own, with nothing for the doctor to find, and what is put into it."""

from __future__ import annotations

import subprocess
from pathlib import Path

import pytest

from tests.logbook_files import logbook

IGNORED = "/site/\n/public/\n.draft-*.json\n"


def git(top: Path, *arguments: str) -> str:
    """Run git in a folder; its output."""
    who = ["-c", "user.name=A", "-c", "user.email=a@example.org", "-c", "protocol.file.allow=always"]
    done = subprocess.run(["git", *who, *arguments], cwd=top, capture_output=True, text=True, check=True)
    return done.stdout


def book(tmp_path: Path) -> Path:
    """A repository with a logbook in it, all committed; its top."""
    top = tmp_path / "repository"
    top.mkdir()
    logbook(top)
    write(top, ".gitignore", IGNORED)
    git(top, "init", "-q", "-b", "main", ".")
    commit(top)
    return top


def commit(top: Path) -> None:
    """Commit all there is."""
    git(top, "add", "--force", ".")
    git(top, "commit", "-q", "--allow-empty", "-m", "all")


def write(top: Path, name: str, text: str) -> None:
    """Write a file of the repository."""
    path = top / name
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(text, encoding="utf-8")


@pytest.fixture
def top(tmp_path: Path) -> Path:
    """A repository with nothing to find."""
    return book(tmp_path)
