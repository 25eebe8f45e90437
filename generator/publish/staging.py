"""The new site, built aside: our files written or linked from the old site, foreign files carried over."""

from __future__ import annotations

import contextlib
import errno
import os
import shutil
import stat
from collections.abc import Collection, Iterable, Mapping
from pathlib import Path

from generator.publish.errors import CannotPublish, few
from generator.publish.inventory import (
    BEGUN,
    MANIFEST,
    Site,
    check_path,
    digest,
    folders_above,
    manifest,
)

FILE_MODE = 0o644
FOLDER_MODE = 0o755


def refuse_collisions(paths: Collection[str], old: Site) -> None:
    """CannotPublish where a file of ours would take the place of a foreign one, or of a folder of such."""
    our_folders = {folder for path in paths for folder in folders_above(path)}
    taken = [path for path in old.foreign_files if path in our_folders]
    there = [*old.foreign_files, *old.foreign_folders]
    taken += [path for path in there if any(each in paths for each in (path, *folders_above(path)))]
    if taken:
        raise CannotPublish(
            f"in {old.folder}, not the site's own, and where the site has its own: {few(set(taken))}",
            "move it away, or give it another name",
        )


def write_files(
    files: Iterable[tuple[str, bytes]], old: Site, into: Path
) -> tuple[dict[str, str], list[str]]:
    """Fill the folder `into` with our files as they come; return their digests, and those written: the others are links to those of `old`.

    ValueError for a path that is none, or that comes twice.
    """
    _make_folder(into)
    _write(into / BEGUN, b"")
    digests: dict[str, str] = {}
    folders: set[str] = set()
    written = []
    for path, content in files:
        for folder in reversed(check_path(path, digests, folders)):
            if folder not in folders:
                _make_folder(into / folder)
                folders.add(folder)
        if path in digests:
            raise ValueError(f"a file that comes twice: {path!r}")
        digests[path] = digest(content)
        if not _linked(path, content, digests[path], old, into):
            _write(into / path, content)
            written.append(path)
    return digests, sorted(written)


def carry_over(old: Site, into: Path) -> list[str]:
    """Bring foreign files and folders along, by hard link where the disk has them; return the files."""
    for path in old.foreign_folders:
        (into / path).mkdir()
    for path in old.foreign_files:
        _carried(old.folder / path, into / path)
    for path in reversed(old.foreign_folders):  # last, as filling a folder changes its date
        _like(old.folder / path, into / path)
    return old.foreign_files


def write_manifest(digests: Mapping[str, str], into: Path) -> None:
    """Write the list of our files, last and whole in one step: a folder that has it is complete."""
    (into / BEGUN).write_bytes(manifest(digests))
    (into / BEGUN).rename(into / MANIFEST)


def _make_folder(path: Path) -> None:
    path.mkdir()
    path.chmod(FOLDER_MODE)  # mkdir's own mode is subject to the umask


def _write(path: Path, content: bytes) -> None:
    """Write a new file; never through a link, never over anything."""
    with path.open("xb") as file:
        os.fchmod(file.fileno(), FILE_MODE)  # whatever the umask
        file.write(content)


def _linked(path: str, content: bytes, known: str, old: Site, into: Path) -> bool:
    """Link a file of the old site if it is the same, bytes and mode, on disk and not only on the list."""
    status = old.files.get(path)
    if status is None or old.digests.get(path) != known or status.st_size != len(content):
        return False
    if not stat.S_ISREG(status.st_mode) or stat.S_IMODE(status.st_mode) != FILE_MODE:
        return False
    try:
        if (old.folder / path).read_bytes() != content:
            return False
        os.link(old.folder / path, into / path, follow_symlinks=False)
    except OSError:
        return False  # not readable, or a disk without hard links: written like a new one
    return True


def _carried(source: Path, to: Path) -> None:
    """Link a foreign file, whatever kind it is; where that cannot be, copy it."""
    try:
        os.link(source, to, follow_symlinks=False)
    except FileNotFoundError:
        return  # deleted by its owner since we looked
    except OSError as error:
        # EXDEV: it lies on something mounted inside the site, which clearing the old one would empty.
        if error.errno == errno.EXDEV or not (source.is_symlink() or source.is_file()):
            raise
        shutil.copy2(source, to, follow_symlinks=False)


def _like(source: Path, to: Path) -> None:
    """Give a carried folder the mode, dates and, where allowed, the owner of the original."""
    status = source.lstat()
    with contextlib.suppress(PermissionError):
        os.chown(to, status.st_uid, status.st_gid, follow_symlinks=False)
    shutil.copystat(source, to)
