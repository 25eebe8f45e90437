"""The folder of reports: which plain files lie in it. None is opened before a result names it."""

from __future__ import annotations

import os
import stat
from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cache
from importlib.util import find_spec
from pathlib import Path

from generator import attaching
from generator.attaching import MAX_BYTES
from generator.kept import NOTHING, Kept, digest
from generator.plain import plain_bytes

ATTACHMENTS = "attachments"
CLEAN = "clean"  # kept of a report that was looked through


@dataclass(frozen=True, slots=True)
class Attachments:
    """The files of `attachments/` by name with their size in bytes; None for what is no plain file."""

    root: Path
    sizes: Mapping[str, int | None] = field(default_factory=dict)
    kept: Kept = NOTHING

    def raw(self, name: str) -> bytes:
        """The bytes of one of them; OSError where it cannot be read. Never through a link."""
        return plain_bytes(self.root / ATTACHMENTS / name, MAX_BYTES)

    def look_through(self, name: str) -> None:
        """Clean one of them, and drop what comes of it: Refused where it cannot be, OSError where it cannot be read.

        One that could be is not looked through again for as long as its bytes and the program are the same.
        """
        raw = self.raw(name)
        key = digest(_looked_through_by(), name, raw) if self.kept.folder is not None else ""
        if not key or self.kept.found(key) != CLEAN:
            attaching.cleaned(name, raw)
            self.kept.keep(key, CLEAN)


def attachments_of(root: Path, kept: Kept = NOTHING) -> Attachments:
    """Look at the folder; a link in its place, or a folder that cannot be listed, is as good as none."""
    folder = root / ATTACHMENTS
    sizes: dict[str, int | None] = {}
    try:
        if stat.S_ISDIR(folder.lstat().st_mode):
            for entry in os.scandir(folder):
                status = entry.stat(follow_symlinks=False)
                sizes[entry.name] = status.st_size if stat.S_ISREG(status.st_mode) else None
    except OSError:
        return Attachments(root)
    return Attachments(root, dict(sorted(sizes.items())), kept)


@cache
def _looked_through_by() -> str:
    """The modules that look through reports, and the releases of their libraries as the names of folders tell them."""
    modules = sorted(Path(attaching.__file__).parent.glob("*.py"))
    found = find_spec("pikepdf")
    places = [Path(found.origin).parents[1]] if found is not None and found.origin else []
    releases = sorted(path.name for place in places for path in place.glob("p*.dist-info"))
    return digest(*releases, *(module.read_bytes() for module in modules))
