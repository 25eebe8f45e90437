"""What is in a site's folder: the list of our own files that we keep in it, and all that is really there."""

from __future__ import annotations

import json
import os
import stat
from collections.abc import Container, Iterable, Iterator, Mapping
from dataclasses import dataclass
from hashlib import sha256
from pathlib import Path

from generator.publish.errors import CannotPublish, few

MANIFEST = ".esterday-files.json"
BEGUN = f"{MANIFEST}.part"
"""Stands in a folder from its first moment until the list is whole and takes its place: this folder is ours."""
FORMAT = 1


@dataclass(frozen=True, slots=True)
class Site:
    """A site on disk: our files with their digests, and all that is there with its status, by path."""

    folder: Path
    digests: Mapping[str, str]
    files: Mapping[str, os.stat_result]
    folders: Mapping[str, os.stat_result]

    @property
    def foreign_files(self) -> list[str]:
        """Files (and links, pipes, devices) that are not ours, in order."""
        return sorted(
            path for path in self.files if path not in self.digests and path not in (MANIFEST, BEGUN)
        )

    @property
    def foreign_folders(self) -> list[str]:
        """Folders that no file of ours lies in, in order, so that each comes after the one it is in."""
        ours = {folder for path in self.digests for folder in folders_above(path)}
        return sorted(path for path in self.folders if path not in ours)


def digest(content: bytes) -> str:
    """SHA-256 of a file, in hexadecimal."""
    return sha256(content).hexdigest()


def folders_above(path: str) -> list[str]:
    """Name the folders a file lies in, relative to the site, the nearest first."""
    parts = path.split("/")
    return ["/".join(parts[:end]) for end in range(len(parts) - 1, 0, -1)]


def check_paths(paths: Iterable[str]) -> None:
    """ValueError for a path that could leave the folder, the list's own name, a file used as a folder."""
    files: set[str] = set()
    folders: set[str] = set()
    for path in paths:
        folders.update(check_path(path, files, folders))
        files.add(path)


def check_path(path: str, files: Container[str], folders: Container[str]) -> list[str]:
    """The folders that a path lies in, the nearest first; ValueError as above, beside the files and folders there are."""
    parts = path.split("/")
    if not set(parts).isdisjoint({"", ".", ".."}) or "\0" in path or "\\" in path or path == MANIFEST:
        raise ValueError(f"not a path inside a site: {path!r}")
    above = folders_above(path)
    if path in folders or any(folder in files for folder in above):
        raise ValueError(f"a file and a folder have the same name: {path!r}")
    return above


def manifest(digests: Mapping[str, str]) -> bytes:
    """The list of our files as it is written: sorted, one file a line."""
    return (json.dumps({"files": dict(sorted(digests.items())), "format": FORMAT}, indent=1) + "\n").encode()


def site_in(folder: Path, shown: Path) -> Site:
    """Read a site's folder, which may not be there; CannotPublish if it holds things and no site."""
    if not os.path.lexists(folder):
        return Site(folder, {}, {}, {})
    files: dict[str, os.stat_result] = {}
    folders: dict[str, os.stat_result] = {}
    for path, status in _walk(folder, shown):
        (folders if stat.S_ISDIR(status.st_mode) else files)[path] = status
    if MANIFEST not in files and (files or folders):
        there = few({path.split("/")[0] for path in (*files, *folders)})
        message = f"{shown} is not empty and was not written by an earlier build; there is: {there}"
        raise CannotPublish(message, "give a new folder, or move these away")
    return Site(folder, _listed(folder / MANIFEST, shown) if MANIFEST in files else {}, files, folders)


def name_of(site: Site) -> str:
    """One short name made of the place, mode, size and times of all that is there.

    A file's time of change is the system's own, and no writing leaves it as it was.
    """
    there = {**site.files, **site.folders}
    seen = sha256()
    for path in sorted(there):
        status = there[path]
        known = (path, status.st_mode, status.st_size, status.st_ino, status.st_mtime_ns, status.st_ctime_ns)
        seen.update(f"{known!r}\n".encode(errors="surrogateescape"))
    return seen.hexdigest()


def is_ours(folder: Path) -> bool:
    """Whether a folder beside the site was made by a build: a real folder, empty or with one of our marks in it."""
    if not stat.S_ISDIR(folder.lstat().st_mode):
        return False
    names = {entry.name for entry in os.scandir(folder)}
    return not names or not names.isdisjoint({MANIFEST, BEGUN})


def has_manifest(folder: Path) -> bool:
    """Whether a folder was complete: the list is the last file to be written."""
    return os.path.lexists(folder / MANIFEST)


def _walk(folder: Path, shown: Path) -> Iterator[tuple[str, os.stat_result]]:
    """All below a folder, links not followed; a disk mounted inside is refused: clearing would empty it."""
    device = folder.lstat().st_dev
    waiting = [""]
    while waiting:
        inside = waiting.pop()
        with os.scandir(folder / inside) as entries:
            for entry in entries:
                path = f"{inside}/{entry.name}" if inside else entry.name
                status = entry.stat(follow_symlinks=False)
                if status.st_dev != device:
                    message = f"{shown / path} is where another disk is mounted"
                    raise CannotPublish(message, "unmount it, or give another folder")
                yield path, status
                if stat.S_ISDIR(status.st_mode):
                    waiting.append(path)


def _listed(path: Path, shown: Path) -> dict[str, str]:
    """Read the list of our files; it lay where anyone may have changed it: checked like any input."""
    try:
        if not stat.S_ISREG(path.lstat().st_mode):
            raise ValueError
        whole = json.loads(path.read_bytes())
        if not isinstance(whole, dict) or whole.get("format") != FORMAT:
            raise ValueError
        if not isinstance(whole.get("files"), dict):
            raise ValueError
        listed = {str(name): str(value) for name, value in whole["files"].items()}
        check_paths(listed)
    except (ValueError, RecursionError) as error:
        raise CannotPublish(
            f"{shown / MANIFEST} is not readable as the list of the site's own files",
            "it tells the site's files from yours: give a new folder, or empty this one yourself",
        ) from error
    return listed
