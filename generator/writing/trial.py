"""A text tried in its logbook before it is written: what `check` would say, and whether it adds an error."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date

from generator.problems import Problem, ordered
from generator.read.document import Reading, parse
from generator.read.folder import FOLDERS, Folder
from generator.read.text import decoded
from generator.validate.logbook import Checked, check


@dataclass(frozen=True, slots=True)
class Trial:
    """The errors a text would bring into the logbook, the warnings about its file, and the day all pages would count from."""

    errors: list[Problem]
    told: list[Problem]
    now: date | None = None


def tried(folder: Folder, before: Checked, file: str, text: str, as_of: date | None = None) -> Trial:
    """Check the logbook as it would be with this text in the file; `before` is the check of how it is."""
    reading = _read(file, text)
    if reading.document is None:
        return Trial(reading.problems, [])
    after = _with(folder, {file: text}, as_of)
    new = _new(before, after)
    return Trial(
        [problem for problem in new if problem.is_error],
        [problem for problem in new if not problem.is_error and problem.place.file == file],
        after.log.now() if after.log is not None else None,
    )


def _read(file: str, text: str) -> Reading:
    """Read a text as a file of it would be read: characters that are not what they seem are refused before all else."""
    problems = decoded(file, text.encode())[1]
    return Reading(None, problems) if problems else parse(file, text)


def brought(
    folder: Folder, before: Checked, texts: Mapping[str, str], as_of: date | None = None
) -> list[Problem]:
    """The problems that texts in these files would bring to the logbook as it is, by place."""
    return _new(before, _with(folder, texts, as_of))


def _with(folder: Folder, texts: Mapping[str, str], as_of: date | None) -> Checked:
    with_it = replace(
        folder,
        documents={name: list(folder.documents[name]) for name in FOLDERS},
        problems=[item for item in folder.problems if item.place.file not in texts],
    )
    for file, text in texts.items():
        reading = _read(file, text)
        with_it.problems += reading.problems
        kind = file.split("/", 1)[0]
        rest = [document for document in with_it.documents[kind] if document.file != file]
        own = [reading.document] if reading.document is not None else []
        with_it.documents[kind] = [*rest, *own]
    for documents in with_it.documents.values():
        documents.sort(key=lambda document: document.file)
    return check(with_it, as_of)


def _new(before: Checked, after: Checked) -> list[Problem]:
    had = Counter(_mark(problem) for problem in before.problems)
    new = []
    for problem in ordered(after.problems):
        had[_mark(problem)] -= 1
        if had[_mark(problem)] < 0:
            new.append(problem)
    return new


def _mark(problem: Problem) -> tuple[str, str, str]:
    """What stays of a problem when lines above it are added."""
    return problem.place.file, problem.code, problem.message
