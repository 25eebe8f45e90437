"""Files that are being written: each is held by its command until it has its name; what nobody holds was left by a killed one."""

from __future__ import annotations

import contextlib
import fcntl
import functools
import os
import tempfile
from pathlib import Path

HALF = ".esterday-"


def half_in(folder: Path) -> tuple[int, str]:
    """A new file of this command alone: its handle, locked until that is closed, and its name."""
    while True:
        handle, name = tempfile.mkstemp(prefix=HALF, dir=folder)
        with contextlib.suppress(OSError):  # a file system without locks
            fcntl.flock(handle, fcntl.LOCK_EX)
        if os.fstat(handle).st_nlink:
            return handle, name
        os.close(handle)  # another command swept before it was held


@functools.cache
def sweep(folder: Path) -> None:
    """Take away what killed commands left in a folder, once a command; what one holds at this moment, or cannot be told of, stays."""
    for left in folder.glob(f"{HALF}????????"):
        with contextlib.suppress(OSError):
            handle = os.open(left, os.O_RDONLY | os.O_NOFOLLOW | os.O_NONBLOCK)
            try:
                fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
                left.unlink()
            finally:
                os.close(handle)


def umask() -> int:
    """What this user's new files do not allow; it can only be read by setting it."""
    mask = os.umask(0o077)
    os.umask(mask)
    return mask
