"""The order of publishing: check, lock, clear, build aside, change places, clear the old one."""

from __future__ import annotations

import contextlib
import stat
from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from generator.publish.errors import CannotPublish, reason, told_of
from generator.publish.inventory import Site, digest, name_of, site_in
from generator.publish.lock import locked
from generator.publish.staging import carry_over, refuse_collisions, write_files, write_manifest
from generator.publish.swap import clear_old, recover, remove, take_place
from generator.publish.target import Target, target


@dataclass(frozen=True, slots=True)
class Published:
    """What a publish did: our files written and left alone, foreign files carried over, paths in order; and what it left by name."""

    written: tuple[str, ...]
    unchanged: tuple[str, ...]
    foreign: tuple[str, ...]
    stands: str = ""

    @property
    def pages(self) -> int:
        """How many of our files are pages."""
        return sum(path.endswith(".html") for path in (*self.written, *self.unchanged))


def publish(
    files: Iterable[tuple[str, bytes]], out: Path, *, protected: Sequence[Path], wait_s: float = 30.0
) -> Published:
    """Make the folder `out` hold exactly `files` (relative path with `/`, content) and what is not ours.

    Each is asked for once, while `out` is locked, and written aside before the next. Until the last step the old site is
    served whole, from it on the new one. Raises CannotPublish for what the user or the machine has in the way (`protected`
    and all folders above are never an output; for another build we wait `wait_s` seconds), ValueError for a path that is none.
    """
    place = target(out, protected)
    with told_of(out):
        place.folder.parent.mkdir(parents=True, exist_ok=True)
        with locked(place.lock, out, wait_s):
            recover(place)
            return replace(_replace(files, place), stands=_named(place))


def _named(place: Target) -> str:
    """The name of the site that stands now, before another build may write; none where it cannot be looked at again."""
    with contextlib.suppress(OSError, CannotPublish):  # it is published all the same
        return name_of(site_in(place.folder, place.shown))
    return ""


def _replace(files: Iterable[tuple[str, bytes]], place: Target) -> Published:
    there = site_in(place.folder, place.shown)
    try:
        digests, written = write_files(files, there, place.staged)
        old = _own(there, digests)
        refuse_collisions(digests, old)
        foreign = carry_over(old, place.staged)
        write_manifest(digests, place.staged)
    except BaseException:  # also Ctrl-C; what the disk will not let go of, the next run clears
        with contextlib.suppress(OSError):
            remove(place.staged)
        raise
    try:
        left = take_place(place, old)
    except OSError:  # not for Ctrl-C: it may be the old site that is aside now
        with contextlib.suppress(OSError):
            remove(place.staged)
        raise
    if left is not None:
        _clear(left, place)
    return Published(tuple(written), tuple(sorted(digests.keys() - set(written))), tuple(foreign))


def _own(old: Site, ours: Collection[str]) -> Site:
    """Take off the list what the new site has not and what is no longer as it was written: that may be somebody's."""
    kept = {
        path: known
        for path, known in old.digests.items()
        if path in ours or path not in old.files or _as_written(old, path, known)
    }
    return replace(old, digests=kept)


def _as_written(old: Site, path: str, known: str) -> bool:
    return stat.S_ISREG(old.files[path].st_mode) and digest((old.folder / path).read_bytes()) == known


def _clear(left: Path, place: Target) -> None:
    try:
        clear_old(left, place.folder)
    except OSError as error:
        message = f"{place.shown} is written, but the site it replaced could not be cleared: {reason(error)}"
        raise CannotPublish(message, f"the next build tries again; it lies in {left}") from error
