"""Texts that are dear to make and come out the same each time, kept in a folder from one build to the next.

Nothing hangs on the folder: what lacks, is cut short or is another program's is made anew, with the same bytes, and where
nothing can be written nothing is kept. A text is found by everything it is made from, never by its age.
"""

from __future__ import annotations

import hashlib
import json
import os
import tempfile
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path
from typing import Any

from generator.plain import OURS, plain_bytes

MOST = 5000  # texts that stay, the last used ones


def digest(*parts: str | bytes) -> str:
    """One short name for several texts: no two lists of texts share it."""
    found = hashlib.blake2b(digest_size=20)
    for part in parts:
        data = part.encode("utf-8", "surrogateescape") if isinstance(part, str) else part
        found.update(len(data).to_bytes(8, "big") + data)
    return found.hexdigest()


class Kept:
    """The texts of one folder; without a folder each is made when it is asked for."""

    def __init__(self, folder: Path | None = None, most: int = MOST) -> None:
        """Nothing is read or written before the first text."""
        self.folder, self.most = folder, most

    def text(self, key: str, make: Callable[[], str]) -> str:
        """The text of a key, which is a `digest` of all it is made from."""
        found = self.found(key)
        if found is None:
            found = make()
            self.keep(key, found)
        return found

    def found(self, key: str) -> str | None:
        """The text that is kept under a key; None where there is none that is whole."""
        return _read(self.folder / key[:2] / key, key) if self.folder is not None else None

    def keep(self, key: str, text: str) -> None:
        """Keep a text under a key, whatever stood there."""
        if self.folder is not None:
            _write(self.folder / key[:2] / key, key, text)

    def prune(self) -> None:
        """Drop what was not used for the longest time, so that the folder does not grow without end."""
        if self.folder is None:
            return
        with suppress(OSError):
            paths = [path for path in self.folder.glob("??/*") if path.is_file()]
            paths.sort(key=lambda path: (path.stat().st_mtime_ns, path.name))
            for path in paths[: max(len(paths) - self.most, 0)]:
                path.unlink(missing_ok=True)


NOTHING = Kept()  # keeps nothing


class Gathered:
    """Many small values, each found by what it is made from, kept together as one text: a file for each would be slower.

    A value is one that JSON can hold. What was not asked for is not kept again, unless the `rest` is to stay.
    """

    def __init__(self, kept: Kept, *what: str, processes: int = 1) -> None:
        """Look up what was gathered for `what` the last time; nothing where `kept` has no folder.

        Several `processes` may share what has to be made.
        """
        self._kept, self._key, self.processes = kept, digest(*what), processes
        self._before = self._looked_up() if kept.folder is not None else {}
        self._now: dict[str, Any] = {}

    @property
    def is_kept(self) -> bool:
        """Whether anything will be found again."""
        return self._kept.folder is not None

    def found(self, name: str) -> Any:
        """The value of a name, which is a `digest` of all it is made from; None where there is none."""
        if name not in self._now and name in self._before:
            self._now[name] = self._before[name]
        return self._now.get(name)

    def gather(self, name: str, value: Any) -> None:
        """Keep a value under a name."""
        if self.is_kept:
            self._now[name] = value

    def value(self, make: Callable[[], Any], *of: str) -> Any:
        """What is made of some texts: as it was gathered for them, else made now and gathered."""
        name = digest(*of)
        value = self.found(name)
        if value is None:
            value = make()
            self.gather(name, value)
        return value

    def keep(self, few: int = 0, *, rest: bool = False) -> None:
        """Keep what was gathered or asked for, where more than a few values of it are not what was kept before.

        The `rest` is what was kept before and not asked for since, as it stands where one page is made and not the others.
        """
        kept = {**self._before, **self._now} if rest else dict(self._now)
        if len(kept.keys() ^ self._before.keys()) > few:
            self._before = kept
            self._kept.keep(self._key, json.dumps(kept, separators=(",", ":")))

    def _looked_up(self) -> dict[str, Any]:
        try:
            found = json.loads(self._kept.found(self._key) or "{}")
        except (ValueError, RecursionError):
            return {}
        return found if isinstance(found, dict) else {}


def _read(path: Path, key: str) -> str | None:
    """A text that is whole; the first line of its file says what the rest must come to."""
    try:
        head, _, body = plain_bytes(path, OURS).partition(b"\n")
        if head.decode("ascii", "replace") != digest(key, body):
            return None
        os.utime(path)
        return body.decode()
    except (OSError, ValueError):
        return None


def _write(path: Path, key: str, text: str) -> None:
    body = text.encode()
    with suppress(OSError):
        path.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
        handle, name = tempfile.mkstemp(dir=path.parent)
        try:
            with os.fdopen(handle, "wb") as out:
                out.write(digest(key, body).encode() + b"\n" + body)
            Path(name).replace(path)
        except OSError:
            Path(name).unlink(missing_ok=True)
            raise


APART = Gathered(NOTHING)  # gathers nothing
