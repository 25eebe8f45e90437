"""The reports of laboratories as they lay there at each commit, and whether two of them show the same."""

from __future__ import annotations

import hashlib
from collections.abc import Iterator
from contextlib import suppress

from generator.attaching import MAX_BYTES, Refused, cleaned
from generator.kept import digest
from generator.log import Log
from generator.read.attachments import ATTACHMENTS
from generator.read.git import Past, Version, contents

NOW = 1 << 62  # what is not committed comes after every commit


class OldReports:
    """What lay under the name of a report, and what it showed; nothing is read before it is asked for."""

    def __init__(self, log: Log, found: Past) -> None:
        """The names alone."""
        self._log, self._found = log, found
        self._versions: dict[str, list[Version]] = {}
        self._here: dict[str, str] = {}
        self._shown: dict[str, str] = {}
        for versions in found.versions.values():
            for version in versions:
                folder, _, name = version.path.partition("/")
                if folder == ATTACHMENTS and version.blob:
                    self._versions.setdefault(name, []).append(version)

    def at(self, name: str, number: int) -> str:
        """The blob of a report at a commit, or as it lies there now; "" where there is none."""
        if number == NOW:
            return self._now(name)
        known = [version for version in self._versions.get(name, ()) if version.number <= number]
        return max(known, key=lambda version: version.number).blob if known else ""

    def changed(self, name: str) -> list[Version]:
        """The versions of a report."""
        return self._versions.get(name, [])

    def alike(self, one: str, other: str) -> bool:
        """Whether readers see the same: what a program wrote into a report beside its pages is not told."""
        return one == other or self._look(one) == self._look(other)

    def _now(self, name: str) -> str:
        """The name that git has for the bytes that lie there."""
        if name not in self._here:
            try:
                raw = self._log.attachments.raw(name)
            except OSError:
                return ""
            known = self.changed(name)
            new = hashlib.sha256 if known and len(known[-1].blob) == 64 else hashlib.sha1
            self._here[name] = new(b"blob %d\0" % len(raw) + raw, usedforsecurity=False).hexdigest()
        return self._here[name]

    def _look(self, blob: str) -> str:
        """A name for what a report shows; of one that cannot be looked through its own."""
        if blob not in self._shown:
            self._shown[blob] = blob
            with suppress(OSError, Refused):
                for name, raw in self._bytes(blob):
                    self._shown[blob] = digest(cleaned(name, raw))
        return self._shown[blob]

    def _bytes(self, blob: str) -> Iterator[tuple[str, bytes]]:
        """A name that a blob has or had, and its bytes."""
        for name in [name for name, each in self._here.items() if each == blob][:1]:
            yield name, self._log.attachments.raw(name)
            return
        named = [name for name, each in self._versions.items() if any(one.blob == blob for one in each)]
        for _, raw in contents(self._found, [blob], MAX_BYTES):
            yield named[0], raw
