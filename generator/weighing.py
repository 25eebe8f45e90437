"""The weigh sheet of one batch from the files it needs: a mistake in another file does not keep it back."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path

from generator.kept import NOTHING, Kept
from generator.language import numbering
from generator.log import Entry, Log
from generator.problems import Problem, did_you_mean, visible
from generator.read.folder import Folder
from generator.read.root import WORKSHOP
from generator.records import Batch
from generator.validate.logbook import checked_folder


@dataclass(frozen=True, slots=True)
class Weighing:
    """The text of a sheet; or the problems that keep it back; or, for an id that no batch bears, what may have been meant."""

    folder: Folder
    text: str | None = None
    problems: list[Problem] = field(default_factory=list)
    unknown: str = ""
    hint: str = ""


def weigh_sheet(logbook: Path, batch: str, kept: Kept = NOTHING) -> Weighing:
    """Read and check a logbook, and write the weigh sheet of one batch, planned or recorded; `kept` as for a check."""
    folder, checked = checked_folder(logbook, kept=kept)
    log = checked.log
    if log is None:
        return Weighing(folder, problems=checked.problems)
    entry = log.planned.get(batch) or log.batches.get(batch)
    if entry is None:
        broken = [
            problem for problem in checked.problems if problem.is_error and _names(folder, problem, batch)
        ]
        known = [*log.planned, *log.batches]
        hint = did_you_mean(batch, known) or (f"the last one is {max(known)}" if known else "")
        message = "" if broken else f"there is no batch '{visible(batch)[:64]}' in {logbook}"
        return Weighing(folder, problems=broken, unknown=message, hint=hint)
    needed = set(_needed(log, entry))
    errors = [
        problem for problem in checked.problems if problem.is_error and _concerns(problem.place.file, needed)
    ]
    if errors:
        return Weighing(folder, problems=errors)
    # what follows is slow to import, and not needed to tell a mistake
    from generator.ledger.sheet import to_weigh  # noqa: PLC0415
    from generator.pages.weigh import settings_view, sheet  # noqa: PLC0415
    from generator.pages.weigh_text import sheet_text  # noqa: PLC0415

    told = [problem for problem in checked.problems if problem.place.file == entry.document.file]
    with numbering(log.settings.locale):
        found = sheet(to_weigh(log, entry), settings_view(log.settings))
        return Weighing(folder, sheet_text(found, log.settings.title), told)


def _names(folder: Folder, problem: Problem, batch: str) -> bool:
    """Whether a problem is about a file that names the batch as its own."""
    lines = folder.lines(problem.place.file) if problem.place.file.startswith("batches/") else None
    return any(line.split("#")[0].split() == ["batch:", batch] for line in lines or ())


def _concerns(file: str, needed: set[str]) -> bool:
    return any(file == name or (name.endswith("/") and file.startswith(name)) for name in needed)


def _needed(log: Log, entry: Entry[Batch]) -> Iterator[str]:
    """The files a sheet is made from; a whole folder where the file of a named lot was not found in it."""
    yield WORKSHOP
    yield entry.document.file
    for lot in _lots(entry.record):
        if lot not in log.lots:
            yield "lots/"
            continue
        yield log.lots[lot].document.file
        material = log.material_of(lot)
        yield material.document.file if material is not None else "materials/"


def _lots(batch: Batch) -> Iterator[str]:
    yield from (use.lot for use in batch.oil)
    for titration in (batch.titration, batch.pretreatment.titration if batch.pretreatment else None):
        if titration is not None and titration.titrant.lot is not None:
            yield titration.titrant.lot
    if batch.plan is not None:
        yield batch.plan.catalyst
        yield from (item.lot for item in batch.plan.methanol)
        if batch.plan.pretreatment is not None and batch.plan.pretreatment.acid is not None:
            yield batch.plan.pretreatment.acid
    if batch.pretreatment is not None:
        yield from (use.lot for use in (*batch.pretreatment.acid, *batch.pretreatment.methanol))
    yield from (use.lot for stage in batch.reaction for use in (*stage.catalyst, *stage.methanol))
