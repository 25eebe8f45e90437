"""One thing that was found: what, where, why it matters and what to do. The reasons stand in `generator/data/findings.yaml`."""

from __future__ import annotations

import functools
from collections.abc import Mapping
from dataclasses import dataclass

from generator.data import rows
from generator.problems import visible


@dataclass(frozen=True, slots=True, order=True)
class Finding:
    """A finding by its code; `where` is a path, a branch or a remote, `what` one sentence without any value of a record."""

    code: str
    where: str
    what: str

    @property
    def level(self) -> str:
        """`stop` for what is about to become public, `look` for what cannot be told from here."""
        return _rows()[self.code]["level"]

    @property
    def stops(self) -> bool:
        """Whether nothing should be published before this is settled."""
        return self.level == "stop"

    @property
    def why(self) -> str:
        """Why it matters."""
        return _rows()[self.code]["why"]

    @property
    def remedy(self) -> str:
        """What to do."""
        return _rows()[self.code]["remedy"]

    def as_json(self) -> dict[str, str]:
        """The finding for a program."""
        return {
            "code": self.code,
            "level": self.level,
            "where": visible(self.where),
            "what": visible(self.what),
            "why": self.why,
            "remedy": self.remedy,
        }


def codes() -> tuple[str, ...]:
    """All codes there are."""
    return tuple(_rows())


@functools.cache
def _rows() -> Mapping[str, Mapping[str, str]]:
    table: Mapping[str, Mapping[str, str]] = rows("findings")
    return table
