"""The step from the old site to the new one, and the clearing after it, also after a run that was killed."""

from __future__ import annotations

import ctypes
import errno
import os
import shutil
from pathlib import Path

from generator.publish.errors import CannotPublish
from generator.publish.inventory import BEGUN, MANIFEST, Site, has_manifest, is_ours, site_in
from generator.publish.target import Target

AT_FDCWD = -100
RENAME_EXCHANGE = 2
UNSUPPORTED = (errno.ENOSYS, errno.EINVAL, errno.ENOTSUP)


def take_place(target: Target, old: Site) -> Path | None:
    """Put the staged site where it is served; return where the old one is now, None if there was none."""
    if not old.files and not old.folders:  # nothing there, or an empty folder, which a rename replaces
        target.staged.rename(target.folder)
        return None
    if exchange(target.staged, target.folder):
        return target.staged
    rename_twice(target)
    return target.aside


def exchange(one: Path, other: Path) -> bool:
    """Let two folders change places in one step; False where the system or the disk cannot."""
    renameat2 = getattr(ctypes.CDLL(None, use_errno=True), "renameat2", None)
    if renameat2 is None:
        return False
    if renameat2(AT_FDCWD, os.fsencode(one), AT_FDCWD, os.fsencode(other), RENAME_EXCHANGE) == 0:
        return True
    code = ctypes.get_errno()
    if code in UNSUPPORTED:
        return False
    raise OSError(code, os.strerror(code), str(other))


def rename_twice(target: Target) -> None:
    """The other way: between the two calls no folder is served; `recover` puts it back if we die there."""
    target.folder.rename(target.aside)
    try:
        target.staged.rename(target.folder)
    except OSError:
        target.aside.rename(target.folder)
        raise


def recover(target: Target) -> None:
    """Clear what a dead run left beside; the old site goes back if it died between two renames."""
    for left in (target.staged, target.aside):
        if os.path.lexists(left) and not is_ours(left):
            message = f"{left} has the name that a build uses for a moment, and was not made by one"
            raise CannotPublish(message, "move it away, or give another output folder")
    if os.path.lexists(target.aside) and not os.path.lexists(target.folder):
        target.aside.rename(target.folder)
    for left in (target.staged, target.aside):
        if not os.path.lexists(left):
            continue
        if has_manifest(left) and os.path.lexists(target.folder):
            # It may be the old site, and somebody may have put a file there at that very moment.
            foreign = site_in(left, left).foreign_files
            new = target.folder
            _move([path for path in foreign if not os.path.lexists(new / path)], left, new)
        remove(left)


def clear_old(left: Path, new: Path) -> None:
    """Delete a replaced site; what others added or changed in it since we looked moves to the new one."""
    foreign = site_in(left, left).foreign_files
    _move([path for path in foreign if not _same(left / path, new / path)], left, new)
    remove(left)


def remove(left: Path) -> None:
    """Delete a folder of ours, its marks last: a run that dies in between leaves what the next one knows as ours."""
    with os.scandir(left) as entries:
        inside = sorted(entries, key=lambda entry: entry.name in (MANIFEST, BEGUN))
    for entry in inside:
        if entry.is_dir(follow_symlinks=False):
            shutil.rmtree(entry.path)
        else:
            Path(entry.path).unlink()
    left.rmdir()


def _move(paths: list[str], left: Path, new: Path) -> None:
    for path in paths:
        (new / path).parent.mkdir(parents=True, exist_ok=True)
        (left / path).replace(new / path)


def _same(one: Path, other: Path) -> bool:
    """Whether two names are one file, links not followed."""
    if not os.path.lexists(other):
        return False
    return os.path.samestat(one.lstat(), other.lstat())
