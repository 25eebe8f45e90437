"""What git remembers of a logbook: when each file came to the main line, and each later version of it.

One pass over the log. Nothing of the repository's configuration is run: no hook, pager, monitor, filter, external or text
diff, signature or fetch. What a merge brought counts on the day it landed. Where there is no whole history the reason is told.
"""

from __future__ import annotations

import os
import subprocess
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path

MOST_RENAMED = 200  # files of one commit that are held against each other, so that no commit takes long
NOT_STARTED = "git could not be started"
NOT_READ = "git could not read the repository"
# what the system says of a program that is not there, or that may not be run
ABSENT = (FileNotFoundError, NotADirectoryError, PermissionError)
PASSING = (NOT_STARTED, NOT_READ)  # reasons that may be gone at the next build with nothing of it changed
_FORMAT = "%x01%ct%x02"


def _set(*settings: str) -> tuple[str, ...]:
    return tuple(word for setting in settings for word in ("-c", setting))


_ALWAYS = _set(
    "core.fsmonitor=false",
    "core.quotePath=false",
    "core.pager=cat",
    "log.showSignature=false",
    "protocol.allow=never",
)
# For a log that comes out the same whatever anybody has set.
_PLAIN = (
    "--no-replace-objects", "--literal-pathspecs",
    *_set(
        "core.hooksPath=/dev/null", "core.attributesFile=/dev/null", "core.alternateRefsCommand=", "log.showRoot=true", "log.mailmap=false",
        "diff.external=", "diff.orderFile=/dev/null", "diff.relative=false", "diff.ignoreSubmodules=all",
    ),
)  # fmt: skip
# No protocol is allowed: git would fetch an object that lacks by a command of the repository's own configuration.
_QUIET = {
    "LC_ALL": "C",
    "GIT_TERMINAL_PROMPT": "0",
    "GIT_OPTIONAL_LOCKS": "0",
    "GIT_NO_LAZY_FETCH": "1",
    "GIT_ALLOW_PROTOCOL": "none",  # above what a repository allows itself
}


@dataclass(frozen=True, slots=True)
class Version:
    """One content of a file: when it landed, seconds of the epoch, and its blob; an empty blob where it was removed.

    `number` is that of the commit, the oldest first; `path` is where it stood below the logbook. `elsewhere` where that is
    another path than today's, so that git only takes it for the same file, as it is alike.
    """

    at: int
    blob: str
    elsewhere: bool = False
    number: int = 0
    path: str = ""


@dataclass(frozen=True, slots=True)
class Past:
    """The versions of every file below the logbook, the oldest first, or why there are none."""

    root: Path
    missing: str = ""
    versions: Mapping[str, list[Version]] = field(default_factory=dict)


class _NoGitError(Exception):
    pass


def past(root: Path) -> Past:
    """Read the log of the repository a logbook lies in; never raises."""
    try:
        told = _git(root, "rev-parse", "--is-shallow-repository", "--show-prefix").decode("utf-8", "replace")
        shallow, _, prefix = told.removesuffix("\n").partition("\n")
        if shallow == "true":
            return Past(root, "this clone holds only the last part of the history")
        return Past(root, "", _versions(root, prefix))
    except _NoGitError as error:
        return Past(root, str(error))


def contents(found: Past, blobs: Iterable[str], most: int) -> Iterator[tuple[str, bytes]]:
    """The bytes of blobs in one run of git, those of `most` bytes and fewer; none where git fails."""
    wanted = list(dict.fromkeys(blob for blob in blobs if blob))
    if not wanted:
        return
    try:
        out = _git(found.root, "cat-file", "--batch", feed="".join(f"{blob}\n" for blob in wanted).encode())
    except _NoGitError:
        return
    place = 0
    while place < len(out):
        end = out.index(b"\n", place)
        head = out[place:end].decode("ascii", "replace").split()
        place = end + 1
        if len(head) != 3:
            continue
        size = int(head[2])
        if head[1] == "blob" and size <= most:
            yield head[0], out[place : place + size]
        place += size + 1


def _versions(root: Path, prefix: str) -> dict[str, list[Version]]:
    log = _git(
        root, "log", "-z", "--first-parent", "--find-renames", f"-l{MOST_RENAMED}", "--diff-merges=first-parent", "--raw",
        "--no-abbrev", "--no-ext-diff", "--no-textconv", "--no-color", "--no-notes", "--no-decorate", f"--format={_FORMAT}", "HEAD", "--",
    )  # fmt: skip
    found: dict[str, list[Version]] = {}
    # by a path of then, the one the file has since; None where another file has it since
    now: dict[str, str | None] = {}
    records = log.split(b"\x01")[1:]
    for number, record in zip(range(len(records), 0, -1), records, strict=True):
        when, _, told = record.partition(b"\x02")
        changes = [(now.get(path, path), path, before, blob) for path, before, blob in _changes(told)]
        for name, path, _before, blob in changes:
            if name is not None and name.startswith(prefix):
                version = Version(int(when), blob, path != name, number, path.removeprefix(prefix))
                found.setdefault(name[len(prefix) :], []).append(version)
        moved = [(name, path, before) for name, path, before, _blob in changes if before]
        now |= {path: None for _name, path, _before in moved}
        now |= {before: name for name, _path, before in moved}
    return {name: list(_contents_that_differ(versions[::-1])) for name, versions in sorted(found.items())}


def _changes(told: bytes) -> Iterator[tuple[str, str, str]]:
    """The files of a commit: path, the path before where it was moved, blob, empty where it was removed."""
    parts = iter(told.strip(b"\n\0").split(b"\0"))
    for part in parts:
        words = part.split()
        if len(words) != 5 or not part.lstrip(b"\n").startswith(b":"):
            return
        paths = [
            next(parts, b"").decode("utf-8", "surrogateescape") for _ in range(1 + words[4].startswith(b"R"))
        ]
        blob = words[3].decode("ascii")
        yield paths[-1], paths[0] if len(paths) > 1 else "", blob if blob.strip("0") else ""


def _contents_that_differ(versions: Iterable[Version]) -> Iterator[Version]:
    """Without those that changed only the mode of a file."""
    before: tuple[str, str] | None = None
    for version in versions:
        if (version.blob, version.path) != before:
            yield version
        before = (version.blob, version.path)


def run_git(
    folder: Path, *words: str, feed: bytes = b"", own_settings: bool = False
) -> subprocess.CompletedProcess[bytes]:
    """Ask git something about a folder; raises OSError where there is no git.

    `own_settings` lets it know what the user has set for all repositories, such as names that are ignored everywhere.
    """
    command = ["git", "--no-pager", "-C", str(folder.absolute()), *_ALWAYS, *words]
    return subprocess.run(
        command, input=feed, capture_output=True, check=False, env=_environment(own_settings)
    )


def _git(root: Path, *words: str, feed: bytes = b"") -> bytes:
    try:
        done = run_git(root, *_PLAIN, *words, feed=feed)
    except ABSENT:
        raise _NoGitError("git is not installed here") from None
    except OSError:
        raise _NoGitError(NOT_STARTED) from None
    if done.returncode:
        raise _NoGitError(_reason(done.stderr.decode("utf-8", "replace")))
    return done.stdout


def _environment(own_settings: bool) -> dict[str, str]:
    """Nothing of git's own variables, of the user's or of the machine's settings, unless they are wanted."""
    ours = os.environ
    nothing = {
        "PATH": ours.get("PATH", os.defpath),
        "GIT_CONFIG_NOSYSTEM": "1",
        "GIT_CONFIG_GLOBAL": os.devnull,
    }
    return {**(ours if own_settings else nothing), **_QUIET}


def _reason(told: str) -> str:
    if "dubious ownership" in told:
        return "the repository belongs to somebody else, and git does not read it"
    if "not a git repository" in told:
        return "the logbook lies in no git repository"
    if "unknown revision" in told or "bad revision" in told:
        return "nothing was committed yet"
    return NOT_READ
