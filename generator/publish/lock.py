"""One build at a time: a file beside the site is locked by the kernel, which lets go when a process dies."""

from __future__ import annotations

import contextlib
import fcntl
import os
import time
from collections.abc import Iterator
from pathlib import Path

from generator.publish.errors import CannotPublish

PAUSE_S = 0.05


@contextlib.contextmanager
def locked(path: Path, shown: Path, wait_s: float) -> Iterator[None]:
    """Hold the lock; wait for another build up to `wait_s` seconds, then CannotPublish. Leaves no file."""
    held = _taken(path)
    pauses = 0
    while held is None:
        if pauses * PAUSE_S >= wait_s:  # counted, not read from a clock
            raise CannotPublish(f"another build is writing {shown}", "run this one again when it is done")
        time.sleep(PAUSE_S)
        pauses += 1
        held = _taken(path)
    try:
        yield
    finally:
        with contextlib.suppress(OSError):  # while it is still ours: whoever waits sees that it is another
            path.unlink()
        os.close(held)


def _taken(path: Path) -> int | None:
    """Try to lock; return the open file, None while another has it."""
    opened = os.open(path, os.O_RDONLY | os.O_CREAT | os.O_NOFOLLOW | os.O_NONBLOCK, 0o644)
    try:
        fcntl.flock(opened, fcntl.LOCK_EX | fcntl.LOCK_NB)
        if os.path.samestat(os.fstat(opened), path.lstat()):
            return opened
    except (BlockingIOError, FileNotFoundError):
        pass
    except BaseException:
        os.close(opened)
        raise
    os.close(opened)
    return None
