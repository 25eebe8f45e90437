"""The folder of reports: which plain files lie in it. None is opened before a result names it."""

from __future__ import annotations

import os
import stat
from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path

from generator.attaching import MAX_BYTES
from generator.read.plain import plain_bytes

ATTACHMENTS = "attachments"


@dataclass(frozen=True, slots=True)
class Attachments:
    """The files of `attachments/` by name with their size in bytes; None for what is no plain file."""

    root: Path
    sizes: Mapping[str, int | None] = field(default_factory=dict)

    def raw(self, name: str) -> bytes:
        """The bytes of one of them; OSError where it cannot be read. Never through a link."""
        return plain_bytes(self.root / ATTACHMENTS / name, MAX_BYTES)


def attachments_of(root: Path) -> Attachments:
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
    return Attachments(root, dict(sorted(sizes.items())))
