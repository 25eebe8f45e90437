"""Where a site may go: refuses what would put somebody's own files in danger, before anything is touched."""

from __future__ import annotations

import os
import pwd
import stat
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from generator.publish.errors import CannotPublish, told_of


@dataclass(frozen=True, slots=True)
class Target:
    """The output folder and its hidden neighbours; `shown` is the path as the user gave it."""

    shown: Path
    folder: Path

    @property
    def staged(self) -> Path:
        """Where the new site is built, and where the old one is after the two changed places."""
        return self.folder.with_name(f".{self.folder.name}.esterday-new")

    @property
    def aside(self) -> Path:
        """Where the old site is for a moment, where the machine cannot let two folders change places."""
        return self.folder.with_name(f".{self.folder.name}.esterday-old")

    @property
    def lock(self) -> Path:
        """The file that is locked while a build writes."""
        return self.folder.with_name(f".{self.folder.name}.esterday-lock")


def target(out: Path, protected: Sequence[Path]) -> Target:
    """Return the place of the site, its folder above resolved; CannotPublish where a site must not go."""
    with told_of(out):
        if out.is_symlink():
            raise CannotPublish(f"{out} is a link to {out.readlink()}", "give the folder itself")
        folder = _resolved(out) if out.name in ("", "..") else _resolved(out.parent) / out.name
        guard = folder if folder == folder.parent else _guards(protected).get(_identity(folder))
        if guard is not None:
            message = f"{out} is or holds {guard}, which no build replaces"
            raise CannotPublish(message, "give a folder of its own, such as site")
        if ".git" in folder.parts:
            raise CannotPublish(
                f"{out} lies in a folder that git keeps for itself", "give a folder beside it"
            )
        if os.path.lexists(folder) and not stat.S_ISDIR(folder.lstat().st_mode):
            raise CannotPublish(f"{out} is not a folder", "give a folder, new or of an earlier build")
        if os.path.ismount(folder):
            raise CannotPublish(f"{out} is where a disk is mounted", "give a folder inside it")
    return Target(out, folder)


def _guards(protected: Sequence[Path]) -> dict[tuple[int, int] | Path, Path]:
    """What is never an output, and for whose sake: the home folder, `protected`, all folders above."""
    resolved = [_resolved(path) for path in (*protected, *_homes())]
    return {_identity(each): path for path in reversed(resolved) for each in (path, *path.parents)}


def _resolved(path: Path) -> Path:
    """Follow all links; unlike Path.resolve, without an exception of its own for links in a circle."""
    return Path(os.path.realpath(path))


def _homes() -> Iterator[Path]:
    """The home folder as the shell sees it and as the list of users has it: either may be wrong."""
    try:
        yield Path.home()
        yield Path(pwd.getpwuid(os.getuid()).pw_dir)
    except (KeyError, RuntimeError):
        return


def _identity(path: Path) -> tuple[int, int] | Path:
    """Device and inode, which no other spelling escapes; the path itself where nothing is there."""
    try:
        found = path.stat()
    except OSError:
        return path
    return (found.st_dev, found.st_ino)
