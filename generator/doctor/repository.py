"""What git knows of the repository that a logbook lies in. Nothing of the repository's own configuration is run."""

from __future__ import annotations

import re
import subprocess
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from generator.read.git import ABSENT, run_git
from generator.read.root import repository_above

_HOST = re.compile(r"(?:[a-z][a-z0-9+.-]*://)?(?:[^@/\s]*@)?(\[[0-9a-fA-F:]+\]|[A-Za-z0-9.-]+)[:/]")


@dataclass(frozen=True, slots=True)
class Repository:
    """A repository by its top folder; `refused` where git would not work in it, `without_git` where there is none to ask."""

    top: Path
    refused: bool = False
    without_git: bool = False

    def tracked(self) -> list[str]:
        """The paths git keeps, relative to the top, in order."""
        return _split(self._git("ls-files", "-z"))

    def is_ignored(self, path: str) -> bool:
        """Whether git would pass this path by."""
        return self._run("check-ignore", "-q", "--no-index", "--", path).returncode == 0

    def untracked(self, name: str) -> list[str]:
        """The paths of files of this name that git neither keeps nor passes by: the next 'git add .' takes them."""
        return _split(
            self._git("ls-files", "-z", "--others", "--exclude-standard", "--", f":(glob)**/{name}")
        )

    def is_shallow(self) -> bool:
        """Whether a part of the history is missing."""
        return self._git("rev-parse", "--is-shallow-repository").strip() == "true"

    def branches(self) -> Iterator[tuple[str, str]]:
        """Every branch, here and on remotes as last fetched: its full name and its own."""
        for line in self._git("for-each-ref", "--format=%(refname)", "refs/heads", "refs/remotes").split():
            parts = line.split("/")
            yield line, "/".join(parts[2:] if parts[1] == "heads" else parts[3:])

    def files_of(self, branch: str) -> list[str]:
        """The paths of a branch."""
        return _split(self._git("ls-tree", "-r", "-z", "--name-only", branch, "--"))

    def file_of(self, branch: str, path: str) -> str:
        """The text of a file of a branch; empty where there is none."""
        return self._git("show", f"{branch}:{path}")

    def hooks_elsewhere(self) -> str:
        """The folder that git takes its hooks from, where somebody has set one; empty otherwise."""
        return self._git("config", "--get", "core.hooksPath").strip()

    def hook(self, name: str) -> Path:
        """Where git looks for a hook."""
        return self.top / self._git("rev-parse", "--git-path", f"hooks/{name}").strip()

    def hosts(self) -> list[tuple[str, str]]:
        """The remotes by name with the host each is at; a remote that is a folder has none. Never an address: it may hold a password."""
        found = []
        for line in self._git(
            "config", "--local", "--get-regexp", r"^remote\..*\.(url|pushurl)$"
        ).splitlines():
            key, _, address = line.partition(" ")
            match = None if address.startswith(("/", ".", "file:")) else _HOST.match(address)
            if match is not None:
                found.append((key.removeprefix("remote.").rpartition(".")[0], match[1].lower()))
        return sorted(set(found))

    def _git(self, *arguments: str) -> str:
        done = self._run(*arguments)
        return done.stdout.decode("utf-8", "replace") if done.returncode == 0 else ""

    def _run(self, *arguments: str) -> subprocess.CompletedProcess[bytes]:
        return run_git(self.top, *arguments, own_settings=True)


def repository_of(logbook: Path) -> Repository | None:
    """The repository around a logbook; None where there is none. OSError where the machine can start nothing more."""
    top = repository_above(logbook)
    if top is None:
        return None
    try:
        done = run_git(top, "rev-parse", "--show-toplevel", own_settings=True)
    except ABSENT:
        return Repository(top, refused=True, without_git=True)
    return Repository(top, done.returncode != 0)


def _split(text: str) -> list[str]:
    return sorted(name for name in text.split("\0") if name)
