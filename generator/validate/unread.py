"""What only follows from a file that could not be read: nobody is told that its record is missing."""

from __future__ import annotations

import re
from dataclasses import dataclass, field

from generator.problems import Problem
from generator.read.folder import Folder

# folder -> the key that begins its record, and what its records are called in messages
_NAMED = {
    "lots": ("lot", ("lot",)),
    "materials": ("", ("material", "medium")),
    "columns": ("purifier", ("purifier",)),
    "tanks": ("tank", ("tank",)),
}


@dataclass(slots=True)
class Unread:
    """Ids of records that are there and could not be read, kinds of which some id is not even known, whether a batch is one."""

    ids: set[str] = field(default_factory=set)
    kinds: set[str] = field(default_factory=set)
    batches: bool = False

    def __bool__(self) -> bool:
        """Whether anything could not be read."""
        return bool(self.ids or self.kinds)

    def explains(self, problem: Problem) -> bool:
        """Whether a problem only says that a record is missing which could not be read, or that none names a report."""
        if problem.code == "stray-file":
            return self.batches
        if problem.code != "unknown-id":
            return False
        return any(f"'{name}'" in problem.message for name in self.ids) or any(
            problem.message.startswith(f"there is no {kind} ") for kind in self.kinds
        )


def called(name: str) -> tuple[str, ...]:
    """What the records of a folder are called in messages; nothing for those that no record names."""
    return _NAMED[name][1] if name in _NAMED else ()


def unread(folder: Folder) -> Unread:
    """Find the ids in files that are no YAML by the line that names them; without one, by kind."""
    found = Unread()
    found.batches = any(
        problem.is_error and problem.place.file.startswith("batches/") for problem in folder.problems
    )
    read = {document.file for documents in folder.documents.values() for document in documents}
    for problem in folder.problems:
        name = problem.place.file.split("/", 1)[0]
        if not problem.is_error or name not in _NAMED or problem.place.file in read:
            continue
        key, kinds = _NAMED[name]
        pattern = re.compile(rf"{key}:\s*['\"]?([A-Za-z0-9-]+)" if key else r"\s+([A-Za-z0-9-]+):")
        lines = folder.lines(problem.place.file) or ()
        ids = {match[1] for line in lines if (match := pattern.match(line)) is not None}
        found.ids |= ids
        if not ids:
            found.kinds.update(kinds)
    return found
