"""The folder of a logbook -> its documents, each with the kind of record its place says.

Only plain files below the known folders are opened. Links, devices and pipes are refused without being opened; hidden
files and folders are passed over; anything else that lies around is named, never read.
"""

from __future__ import annotations

import os
import stat
from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path

from generator.kept import NOTHING, Kept
from generator.plain import NotPlainError, TooLargeError, plain_bytes
from generator.problems import Place, Problem, nearest
from generator.read.attachments import ATTACHMENTS, Attachments, attachments_of
from generator.read.document import MAX_BYTES, Document
from generator.read.remembered import Remembered
from generator.read.root import WORKSHOP, may_hold_records, not_a_logbook
from generator.read.text import decoded, is_utf16

FOLDERS = ("materials", "lots", "batches", "columns", "tanks", "offers", "prices")
PAGES = "pages"
SITE_MARK = ".esterday-files.json"  # stands in every built site; one may lie beside the records
MAX_FILES = 50_000
ALONE = "a name that begins with a dot is left alone"


@dataclass(frozen=True, slots=True)
class Note:
    """A Markdown file of `pages/`: its head as a document, and the text below it."""

    head: Document
    text: str


@dataclass(slots=True)
class Folder:
    """All that was read: the workshop's document, documents by folder, pages, lines of files with problems."""

    root: Path
    workshop: Document | None = None
    documents: dict[str, list[Document]] = field(default_factory=lambda: {name: [] for name in FOLDERS})
    pages: list[Note] = field(default_factory=list)
    problems: list[Problem] = field(default_factory=list)
    drafts: Mapping[str, bytes] = field(default_factory=dict)
    attachments: Attachments = field(default_factory=lambda: Attachments(Path()))

    def lines(self, file: str) -> list[str] | None:
        """Read the lines of a file again, for an excerpt; None where it cannot be shown."""
        try:
            raw = plain_bytes(self.root / file, MAX_BYTES)
        except OSError:
            return None
        if is_utf16(raw):  # read as anything else it is noise
            return None
        text = raw.decode("utf-8-sig", errors="replace")
        return text.replace("\r\n", "\n").replace("\r", "\n").split("\n")


def read_folder(root: Path, drafts: Mapping[str, bytes] | None = None, kept: Kept = NOTHING) -> Folder:
    """Read every file of the logbook at `root`; drafts are read instead of the files of their names.

    Of what `kept` still holds nothing is parsed; it makes no difference to what is found.
    """
    found, remembered = Folder(root, drafts=drafts or {}), Remembered(kept, root)
    _read(found, remembered)
    remembered.keep()
    return found


def _read(found: Folder, remembered: Remembered) -> None:
    root = found.root
    refusal = not_a_logbook(root)
    if refusal is not None:
        found.problems.append(refusal)
        return
    found.workshop = _document(found, remembered, WORKSHOP)
    found.attachments = attachments_of(root, remembered.kept)
    names = sorted(entry.name for entry in os.scandir(root) if not entry.name.startswith("."))
    for name in names:
        if name in FOLDERS or name == PAGES:
            for file in _files(found, name):
                _take(found, remembered, name, file)
        elif name == ATTACHMENTS and (root / name).is_dir() and not (root / name).is_symlink():
            continue
        elif name != WORKSHOP and not _is_readme(name) and not (root / name / SITE_MARK).exists():
            _stray(found, name)


def _stray(found: Folder, name: str) -> None:
    """Tell of what is no part of a logbook. In a repository's root much else lies; there only what may be a record is told."""
    hint = nearest(name, (*FOLDERS, PAGES, WORKSHOP))
    if not hint and (found.root / ".git").exists() and not may_hold_records(found.root / name):
        return
    remedy = f"did you mean '{hint}'?" if hint else f"folders read: {', '.join((*FOLDERS, PAGES))}; {ALONE}"
    told = f"'{name}' is not part of a logbook and was not read"
    found.problems.append(Problem("stray-file", Place(name), told, remedy))


def _is_readme(name: str) -> bool:
    return name.casefold().startswith(("readme", "licence", "license"))


def _is_plain(path: Path) -> bool:
    try:
        mode = path.lstat()
    except OSError:
        return False
    return stat.S_ISREG(mode.st_mode)


def _files(found: Folder, name: str) -> list[str]:
    """Name the plain files below one folder, sorted, and refuse what is none."""
    out: list[str] = []
    todo = [name]
    while todo:
        here = todo.pop()
        path = found.root / here
        if path.is_symlink() or not path.is_dir():
            found.problems.append(
                Problem(
                    "not-a-plain-file",
                    Place(here),
                    "this is a link or a special file and was not opened",
                    "put a plain folder here",
                )
            )
            continue
        try:
            entries = sorted(os.scandir(path), key=lambda entry: entry.name)
        except OSError as error:
            found.problems.append(_unreadable(here, error))
            continue
        for entry in entries:
            if entry.name.startswith("."):
                continue
            below = f"{here}/{entry.name}"
            if not entry.name.isprintable():
                told = "".join(char if char.isprintable() else "?" for char in below)
                found.problems.append(
                    Problem(
                        "odd-file-name",
                        Place(told),
                        "this name holds characters that cannot be shown",
                        "rename the file",
                    )
                )
            elif entry.is_dir(follow_symlinks=False):
                todo.append(below)
            elif entry.is_file(follow_symlinks=False):
                out.append(below)
            else:
                found.problems.append(
                    Problem(
                        "not-a-plain-file",
                        Place(below),
                        "this is a link or a special file and was not opened",
                        "put a plain file here",
                    )
                )
    if len(out) > MAX_FILES:
        found.problems.append(
            Problem(
                "too-many-files",
                Place(name),
                f"{len(out)} files, and at most {MAX_FILES} are read",
                "split the logbook",
            )
        )
        return []
    return sorted(out)


def _take(found: Folder, remembered: Remembered, name: str, file: str) -> None:
    if name == PAGES:
        if file.endswith(".md"):
            _page(found, remembered, file)
        else:
            found.problems.append(
                Problem("stray-file", Place(file), "not a Markdown file, and not read", "name it .md")
            )
        return
    if not file.endswith(".yaml"):
        found.problems.append(
            Problem(
                "stray-file",
                Place(file),
                "not named .yaml, and not read",
                "name it .yaml if it is a record; move it away if not",
            )
        )
        return
    document = _document(found, remembered, file)
    if document is not None:
        found.documents[name].append(document)


def _text(found: Folder, file: str) -> str | None:
    drafted = file in found.drafts and _is_plain(found.root / file)
    try:
        raw = found.drafts[file] if drafted else plain_bytes(f"{found.root}/{file}", MAX_BYTES)
    except NotPlainError:
        problem = Problem(
            "not-a-plain-file",
            Place(file),
            "this is a link or a special file and was not opened",
            "put a plain file here",
        )
    except TooLargeError as error:
        problem = Problem(
            "file-too-large",
            Place(file),
            f"{error.size} bytes, and at most {MAX_BYTES} are read",
            "split the file",
        )
    except OSError as error:
        problem = _unreadable(file, error)
    else:
        text, problems = decoded(file, raw)
        found.problems += problems
        return None if problems else text
    found.problems.append(problem)
    return None


def _unreadable(file: str, error: OSError) -> Problem:
    reason = error.strerror or type(error).__name__
    return Problem(
        "unreadable", Place(file), f"this cannot be read: {reason}", "let the user who builds read it"
    )


def _document(found: Folder, remembered: Remembered, file: str) -> Document | None:
    text = _text(found, file)
    if text is None:
        return None
    reading = remembered.parse(file, text)
    found.problems += reading.problems
    if reading.document is not None and reading.document.data is None:
        found.problems.append(
            Problem("empty-file", Place(file), "this file is empty", "write the record, or delete the file")
        )
        return None
    return reading.document


def _page(found: Folder, remembered: Remembered, file: str) -> None:
    text = _text(found, file)
    if text is None:
        return
    lines = text.split("\n")
    end = next((number for number, line in enumerate(lines[1:], 1) if line.rstrip() == "---"), None)
    if lines[0].rstrip() != "---" or end is None:
        found.problems.append(
            Problem(
                "page-head",
                Place(file, 1, 1),
                "this page has no head",
                "begin it with three lines: '---', 'title: ...', '---'",
            )
        )
        return
    reading = remembered.parse(file, "\n".join(lines[1:end]) + "\n", offset=1)
    found.problems += reading.problems
    if reading.document is not None:
        found.pages.append(Note(reading.document, "\n".join(lines[end + 1 :])))
