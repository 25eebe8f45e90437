"""A build that would only repeat the last one: the same files, the same program, and a site that nobody has touched since.

What is remembered is a line of counts under the name of everything that the build was made from and of the site it left.
Where the name is not found, or the line is not whole, the build runs.
"""

from __future__ import annotations

import json
import os
import shutil
import stat
from collections.abc import Iterator
from dataclasses import astuple, dataclass
from pathlib import Path

from generator.kept import Kept, digest
from generator.program import program
from generator.read.attachments import ATTACHMENTS
from generator.read.folder import FOLDERS, PAGES, SITE_MARK
from generator.read.root import repository_above

LARGEST_BYTES = 64 * 1024 * 1024  # of a file that is worth reading only to see whether it changed


class _NotSure(Exception):
    """A file cannot be read, or is no plain file: the build says what that means."""


@dataclass(frozen=True, slots=True)
class Counts:
    """What a build that was published counted, the columns that its settings made public, and what it shows that is not committed."""

    batches: int
    pages: int
    warnings: int
    widened: tuple[str, ...]
    without_history: str
    locale: str
    uncommitted: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Asked:
    """What a build is asked for, and where it remembers; without a folder `kept` remembers nothing."""

    kept: Kept
    logbook: Path
    out: Path
    audience: str
    as_of: str

    def files(self) -> str:
        """One name for all files of the logbook as they are now; "" where one of them cannot be told."""
        if self.kept.folder is None:
            return ""
        try:
            return digest(*_files(self.logbook))
        except (_NotSure, OSError, ValueError):
            return ""

    def counts(self, files: str, site: str) -> Counts | None:
        """What the last build counted, had it the same files and left the site that stands; else None."""
        text = self.kept.found(self._key(files, site))
        if text is None:
            return None
        batches, pages, warnings, widened, without_history, locale, uncommitted = json.loads(text)
        return Counts(batches, pages, warnings, tuple(widened), without_history, locale, tuple(uncommitted))

    def remember(self, files: str, site: str, counts: Counts) -> None:
        """Keep the counts for a build that would repeat this one, unless the files were changed under it; none without a `site`."""
        if files and site and files == self.files():
            self.kept.keep(self._key(files, site), json.dumps(astuple(counts)))

    def _key(self, files: str, site: str) -> str:
        return digest("build", program(), str(self.out.absolute()), self.audience, self.as_of, files, site)


def _files(folder: Path) -> Iterator[str | bytes]:
    """Names and bytes of all that a build may read, in order; of a site that lies among them only the name.

    What stands beside the folders and begins with a dot is no part of a logbook, but for what tells which commit the repository stands at.
    """
    yield from _commit(folder)
    with os.scandir(folder) as found:
        entries = sorted(found, key=lambda entry: entry.name)
    for entry in entries:
        if entry.name.startswith("."):
            continue
        if entry.name in (*FOLDERS, PAGES, ATTACHMENTS) or not os.path.lexists(f"{entry.path}/{SITE_MARK}"):
            yield from _content(entry)
        else:
            yield f"site {entry.name}"


def _content(entry: os.DirEntry[str]) -> Iterator[str | bytes]:
    status = entry.stat(follow_symlinks=False)
    if stat.S_ISDIR(status.st_mode):
        yield f"folder {entry.name}"
        with os.scandir(entry.path) as found:
            entries = sorted(found, key=lambda entry: entry.name)
        for inside in entries:
            yield from _content(inside)
        yield "end"
    elif stat.S_ISREG(status.st_mode) and status.st_size <= LARGEST_BYTES:
        yield f"file {entry.name}"
        yield Path(entry.path).read_bytes()
    else:
        raise _NotSure(entry.path)


def _commit(folder: Path) -> Iterator[bytes]:
    """What a history may be read by: where the repository stands, its index, its names for people."""
    above = repository_above(folder)
    if above is None:
        return
    git = above / ".git"
    if not git.is_dir():
        raise _NotSure(git)  # a second working folder: what it stands at lies elsewhere
    yield str((git.stat().st_uid, os.geteuid(), shutil.which("git") is None)).encode()
    branch = (git / "HEAD").read_bytes()
    yield branch
    refs = branch.removeprefix(b"ref: ").strip().decode("utf-8", "surrogateescape")
    for name in (refs, "packed-refs", "shallow", "index", "config", "../.mailmap"):
        path = git / name
        there = path.is_file()
        yield str(there).encode()  # an empty one can say something too
        yield path.read_bytes() if there else b""
