"""A logbook of an older format -> its files in the format of the grammar, in memory, step by step.

Only what a step names is written anew, span by span, so that comments, order, quotes and line ends stay. The format itself
is written last: until then the logbook is still an old one, and a migration that was cut short is finished by another.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path

from generator.fixing import mended
from generator.formats import Change, Step, steps_from, written_format
from generator.problems import Problem, ordered, visible
from generator.read.document import Document
from generator.read.folder import Folder, read_folder
from generator.read.root import WORKSHOP
from generator.validate.logbook import checked_folder


@dataclass(frozen=True, slots=True)
class Migrated:
    """What came of it: the formats it leads from and to, files before and after, changed places, what `check` says then.

    Nothing is changed where `begins` is None or equal to `ends`; `problems` then say what stands in the way, if anything.
    """

    folder: Folder
    begins: int | None
    ends: int | None
    before: Mapping[str, bytes] = field(default_factory=dict)
    after: Mapping[str, bytes] = field(default_factory=dict)
    places: int = 0
    problems: list[Problem] = field(default_factory=list)


def migrated(logbook: Path) -> Migrated:
    """Read a logbook and carry it to the newest format in memory; nothing is written."""
    folder = read_folder(logbook)
    found = written_format(folder.workshop) if folder.workshop is not None else None
    steps = steps_from(found) if found is not None else []
    unreadable = [problem for problem in folder.problems if problem.is_error]
    if not steps or unreadable:
        problems = ordered(unreadable) if steps else checked_folder(logbook)[1].problems
        return Migrated(folder, found, found, problems=problems)
    after: dict[str, bytes] = {}
    places = 0
    for step in steps:
        now = read_folder(logbook, after)
        changes = [(document, list(_changes(step, name, document))) for name, document in _documents(now)]
        stuck = [
            _stuck(document, change)
            for document, each in changes
            for change in each
            if not change.mend(document)
        ]
        if stuck:
            return Migrated(folder, found, found, problems=ordered(stuck))
        for document, each in changes:
            places += _take(logbook, document, each, after)
    names = sorted(after, key=lambda file: (file == WORKSHOP, file))
    before = {file: (logbook / file).read_bytes() for file in names}
    left = checked_folder(logbook, drafts=after)[1].problems
    return Migrated(folder, found, steps[-1].begins + 1, before, after, places, left)


def _changes(step: Step, name: str, document: Document) -> Iterator[Change]:
    yield from step.changes(name, document.data)
    if not name:
        yield Change(("format",), str(step.begins + 1))


def _stuck(document: Document, change: Change) -> Problem:
    found = visible(change.found(document))[:64]
    message = f"'{found}' would be written '{change.text[:64]}' in the newer format, and is not written plainly here"
    return Problem(
        "other-format", change.place(document), message, "write it in one line and without escapes"
    )


def _take(logbook: Path, document: Document, changes: list[Change], after: dict[str, bytes]) -> int:
    """Write a file anew, in `after`; how many places were changed."""
    mends = [mend for change in changes if (mend := change.mend(document)) is not None]
    if mends:
        raw = after.get(document.file) or (logbook / document.file).read_bytes()
        after[document.file], _ = mended(raw, mends)
    return len(mends)


def _documents(folder: Folder) -> Iterator[tuple[str, Document]]:
    """Every document with the name of its folder; that of `logbook.yaml` has none."""
    assert folder.workshop is not None
    yield "", folder.workshop
    for name, documents in folder.documents.items():
        yield from ((name, document) for document in documents)
    yield from (("pages", note.head) for note in folder.pages)
