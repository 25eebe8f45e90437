"""The one exception of this package: why a site was not written, in words for the user."""

from __future__ import annotations

import errno
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from pathlib import Path

from generator.problems import visible

KEPT = "what stood there is untouched"
HINTS = {
    errno.ENOSPC: f"free some space on that disk; {KEPT}",
    errno.EDQUOT: f"free some space within your quota; {KEPT}",
    errno.EACCES: f"give a folder that you may write to; {KEPT}",
    errno.EPERM: f"give a folder that you may write to; {KEPT}",
    errno.EROFS: f"that disk is read-only: give a folder on another one; {KEPT}",
    errno.EBUSY: f"a disk or a container volume is mounted there: give a folder inside it; {KEPT}",
    errno.EXDEV: f"the folder and what is beside it must be on one disk; {KEPT}",
}


class CannotPublish(Exception):
    """Nothing was written, or not all that should be: what stands in the way, and what to do about it."""

    def __init__(self, message: str, hint: str = "") -> None:
        """Take one line for the user and the next step; characters that steer a terminal are made visible."""
        super().__init__(visible(message))
        self.message = visible(message)
        self.hint = visible(hint)


@contextmanager
def told_of(out: Path) -> Iterator[None]:
    """Turn what the machine refuses (full, read-only, not allowed) into one line with the path."""
    try:
        yield
    except OSError as error:
        hint = HINTS.get(error.errno or 0, KEPT)
        raise CannotPublish(f"{out} could not be written: {reason(error)}", hint) from error


def reason(error: OSError) -> str:
    """Return the machine's own words, with the file they are about where it is known."""
    words = (error.strerror or str(error)).lower()
    return f"{words} ({error.filename})" if error.filename else words


def few(names: Iterable[str], most: int = 5) -> str:
    """Return the first names in order, and how many more there are."""
    all_names = sorted(names)
    more = len(all_names) - most
    return ", ".join(all_names[:most]) + (f" and {more} more" if more > 0 else "")
