"""A folder's documents -> a checked log: the grammar first, then the rules that look across files."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date
from pathlib import Path
from typing import Any

from generator.fields import ID, RESERVED
from generator.formats import other_format
from generator.kept import NOTHING, Kept
from generator.ledger.ledgers import Ledgers
from generator.log import Entry, Log
from generator.problems import Place, Problem, ordered, visible
from generator.read.document import Document
from generator.read.folder import Folder, Note, read_folder
from generator.read.root import WORKSHOP
from generator.records import KINDS, Batch, Materials, Page, PageHead, Workshop
from generator.validate.checks import BALANCE_CHECKS, RECORD_CHECKS, Check
from generator.validate.currencies import converted
from generator.validate.grammar import record_of
from generator.validate.unread import Unread, called, unread


@dataclass(slots=True)
class Checked:
    """A log where the settings could be read, and every problem found.

    `balanced` says whether stock, columns and tanks were checked too: not before every record is right by itself.
    """

    ledgers: Ledgers | None
    problems: list[Problem] = field(default_factory=list)
    balanced: bool = False

    @property
    def log(self) -> Log | None:
        """The records, where the settings could be read."""
        return self.ledgers.log if self.ledgers is not None else None

    @property
    def fit(self) -> bool:
        """Whether nothing keeps the site from being written."""
        return self.ledgers is not None and not any(problem.is_error for problem in self.problems)


def checked_folder(
    logbook: Path,
    as_of: date | None = None,
    drafts: Mapping[str, bytes] | None = None,
    kept: Kept = NOTHING,
) -> tuple[Folder, Checked]:
    """Read and check a logbook; the problems come back sorted by place. Drafts stand for the files of their names."""
    folder = read_folder(logbook, drafts, kept)
    checked = check(folder, as_of)
    checked.problems = ordered(checked.problems)
    return folder, checked


def check(folder: Folder, as_of: date | None = None) -> Checked:
    """Check a whole logbook; all problems are returned, none is raised."""
    checked = Checked(None, list(folder.problems))
    if folder.workshop is None:
        if not checked.problems:
            checked.problems.append(
                Problem("no-logbook", Place(WORKSHOP), "logbook.yaml could not be read", "mend it first")
            )
        return checked
    other = other_format(folder.workshop)
    if other is not None:
        checked.problems = [other]
        return checked
    settings, problems = record_of(Workshop, folder.workshop, {})
    checked.problems += problems
    context = context_of(folder.workshop)
    log = Log(
        Entry("logbook", settings or _bare_settings(), folder.workshop),
        as_of=as_of,
        attachments=folder.attachments,
    )
    broken = unread(folder)
    _read_records(log, settings, folder, context, checked.problems, broken)
    checked.ledgers = Ledgers(log)
    if settings is not None:
        refused = any(problem.place.file.startswith("batches/") for problem in folder.problems)
        if not folder.documents["batches"] and not refused:
            hint = (
                "write the first one with 'esterday new batch'"
                if log.lots
                else "write what was delivered with 'esterday new lot --ask', oil, catalyst and methanol; then 'esterday new batch'"
            )
            checked.problems.append(
                Problem("no-batches", Place("batches"), "this logbook holds no batch yet", hint)
            )
        _run(RECORD_CHECKS, checked, broken)
        checked.balanced = not any(problem.is_error for problem in checked.problems)
        if checked.balanced:
            _run(BALANCE_CHECKS, checked, broken)
    return checked


def _run(rules: Sequence[Check], checked: Checked, broken: Unread) -> None:
    assert checked.ledgers is not None
    for rule in rules:
        checked.problems += [problem for problem in rule(checked.ledgers) if not broken.explains(problem)]


def _bare_settings() -> Workshop:
    return Workshop.model_validate({"format": "1", "title": "-", "currency": "EUR", "timezone": "UTC"})


def context_of(workshop: Document) -> dict[str, str]:
    """What the reading of other files depends on, even where another setting is wrong."""
    data = workshop.data if isinstance(workshop.data, dict) else {}
    gallon = data.get("gallon")
    currency = data.get("currency")
    rates = data.get("rates")
    others = (
        [each.get("currency") for each in rates if isinstance(each, dict)] if isinstance(rates, list) else []
    )
    return {
        "rates": " ".join(other for other in others if isinstance(other, str)),
        "gallon": gallon if gallon in ("US", "imperial") else "none",
        "currency": currency if isinstance(currency, str) and re.fullmatch("[A-Z]{3}", currency) else "",
    }


def _read_records(
    log: Log,
    settings: Workshop | None,
    folder: Folder,
    context: dict[str, str],
    problems: list[Problem],
    broken: Unread,
) -> None:
    """Fill the log; keep the ids of records that could not be read, so that nobody is told they are missing."""
    for document in folder.documents["materials"]:
        _read_materials(log, document, context, problems, broken)
    for name, (model, key) in KINDS.items():
        table = log.tables[name]
        seen: dict[str, Entry[Any]] = {}
        for document in folder.documents[name]:
            record, found = record_of(model, document, context)
            problems += found
            if record is None:
                _not_read(document, name, key, broken)
                continue
            entry = Entry(str(getattr(record, key)), record, document)
            if settings is not None:  # else neither the currency nor its rates are known
                entry, found = converted(entry, settings)
                problems += found
            planned = isinstance(record, Batch) and record.is_planned
            _add(log.planned if planned else table, seen, entry, key, problems, broken)
        _sort(table)
    _sort(log.planned)
    for note in folder.pages:
        _page(log, note, context, problems)


def _page(log: Log, note: Note, context: dict[str, str], problems: list[Problem]) -> None:
    """A free text; its id is its file's name, which becomes an address and so follows the rule of ids."""
    head, found = record_of(PageHead, note.head, context)
    problems += found
    name = note.head.file.rsplit("/", 1)[-1].removesuffix(".md")
    place = Place(note.head.file)
    if ID.fullmatch(name) is None or name.casefold() in RESERVED:
        hint = "name it with letters A-Z, a-z, digits and hyphens, such as opening-the-shed.md"
        problems.append(
            Problem("bad-id", place, f"'{visible(name)[:64]}' cannot be the name of a page", hint)
        )
    elif name.casefold() in {other.casefold() for other in log.pages}:
        problems.append(
            Problem("id-twice", place, f"there are two pages named '{name}'", "rename one of the two")
        )
    elif head is not None:
        log.pages[name] = Page(id=name, title=head.title, public=head.public, text=note.text)


def _not_read(document: Document, name: str, key: str, broken: Unread) -> None:
    broken.batches = broken.batches or name == "batches"
    if isinstance(document.data, dict) and isinstance(document.data.get(key), str):
        broken.ids.add(document.data[key])
    else:
        broken.kinds.update(called(name))


def _read_materials(
    log: Log, document: Document, context: dict[str, str], problems: list[Problem], broken: Unread
) -> None:
    record, found = record_of(Materials, document, context)
    problems += found
    if record is None:
        inner = document.data.get("materials") if isinstance(document.data, dict) else None
        if isinstance(inner, dict):
            broken.ids.update(inner)
        else:
            broken.kinds.update(called("materials"))
        return
    seen = {entry.id.casefold(): entry for entry in log.materials.values()}
    for name, material in record.materials.items():
        entry = Entry(name, material, document, ("materials", name))
        _add(log.materials, seen, entry, "", problems, broken)
    _sort(log.materials)


def _add(
    table: dict[str, Entry[Any]],
    seen: dict[str, Entry[Any]],
    entry: Entry[Any],
    key: str,
    problems: list[Problem],
    broken: Unread,
) -> None:
    folded = entry.id.casefold()
    if folded in seen:
        broken.ids.add(entry.id)
        first = seen[folded]
        place = entry.at(key) if key else entry.at(key=True)
        related = (first.at(key) if key else first.at(key=True),)
        problems.append(
            Problem(
                "id-twice", place, f"'{entry.id}' is used twice", "give one of the two another id", related
            )
        )
        return
    seen[folded] = entry
    table[entry.id] = entry


def _sort(table: dict[str, Entry[Any]]) -> None:
    ordered = sorted(table.items())
    table.clear()
    table.update(ordered)
