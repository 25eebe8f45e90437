"""The order of publishing: check, lock, clear, build aside, change places, clear the old one."""

from __future__ import annotations

import contextlib
import stat
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from generator.publish.errors import CannotPublish, reason, told_of
from generator.publish.inventory import Site, check_paths, digest, site_in
from generator.publish.lock import locked
from generator.publish.staging import carry_over, refuse_collisions, write_manifest, write_tree
from generator.publish.swap import clear_old, recover, remove, take_place
from generator.publish.target import Target, target


@dataclass(frozen=True, slots=True)
class Published:
    """What a publish did: our files written and left alone, foreign files carried over; paths in order."""

    written: tuple[str, ...]
    unchanged: tuple[str, ...]
    foreign: tuple[str, ...]


def publish(
    tree: Mapping[str, bytes], out: Path, *, protected: Sequence[Path], wait_s: float = 30.0
) -> Published:
    """Make the folder `out` hold exactly `tree` (relative path with `/` -> content) and what is not ours.

    Until the last step the old site is served whole, from it on the new one. Raises CannotPublish for what
    the user or the machine has in the way (`protected` and all folders above are never an output; for another
    build we wait `wait_s` seconds), ValueError for a path that is none.
    """
    check_paths(tree)
    place = target(out, protected)
    with told_of(out):
        place.folder.parent.mkdir(parents=True, exist_ok=True)
        with locked(place.lock, out, wait_s):
            recover(place)
            return _replace(tree, place)


def _replace(tree: Mapping[str, bytes], place: Target) -> Published:
    old = _own(site_in(place.folder, place.shown), tree)
    refuse_collisions(tree, old)
    try:
        published = _build(tree, old, place.staged)
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
    return published


def _own(old: Site, tree: Mapping[str, bytes]) -> Site:
    """Take off the list what the new site has not and what is no longer as it was written: that may be somebody's."""
    kept = {
        path: known
        for path, known in old.digests.items()
        if path in tree or path not in old.files or _as_written(old, path, known)
    }
    return replace(old, digests=kept)


def _as_written(old: Site, path: str, known: str) -> bool:
    return stat.S_ISREG(old.files[path].st_mode) and digest((old.folder / path).read_bytes()) == known


def _build(tree: Mapping[str, bytes], old: Site, staged: Path) -> Published:
    digests = {path: digest(content) for path, content in tree.items()}
    written = write_tree(tree, digests, old, staged)
    foreign = carry_over(old, staged)
    write_manifest(digests, staged)
    return Published(tuple(written), tuple(sorted(tree.keys() - set(written))), tuple(foreign))


def _clear(left: Path, place: Target) -> None:
    try:
        clear_old(left, place.folder)
    except OSError as error:
        message = f"{place.shown} is written, but the site it replaced could not be cleared: {reason(error)}"
        raise CannotPublish(message, f"the next build tries again; it lies in {left}") from error
