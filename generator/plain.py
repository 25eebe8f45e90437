"""The bytes of a plain file, whatever somebody puts in its place while it is looked at: never through a link, never waiting."""

from __future__ import annotations

import errno
import os
import stat
from pathlib import Path

OURS = 1 << 30  # most bytes of a file that this program may have written itself


class NotPlainError(OSError):
    """A link or a special file; it was not read."""


class TooLargeError(OSError):
    """More bytes than are read; `size` is how many there were at least."""

    def __init__(self, size: int) -> None:
        """Size in bytes."""
        super().__init__(errno.EFBIG, os.strerror(errno.EFBIG))
        self.size = size


def plain_bytes(path: Path | str, most: int) -> bytes:
    """All bytes of a file of at most `most`; OSError where it cannot be read.

    A special file or one too large is not even opened, unless it came after the first look; what was opened is judged again.
    """
    _may(os.lstat(path), most)
    try:
        handle = os.open(path, os.O_RDONLY | os.O_NOFOLLOW | os.O_NONBLOCK)
    except OSError as error:
        if error.errno == errno.ELOOP:
            raise NotPlainError from error
        raise
    try:
        status = os.fstat(handle)
        _may(status, most)
        content = b""
        while len(content) <= most and (more := os.read(handle, status.st_size + 1)):
            content += more
    finally:
        os.close(handle)
    if len(content) > most:
        raise TooLargeError(len(content))
    return content


def _may(status: os.stat_result, most: int) -> None:
    if not stat.S_ISREG(status.st_mode):
        raise NotPlainError
    if status.st_size > most:
        raise TooLargeError(status.st_size)
