"""The versions of each batch in their turn: from what git remembers, and last what lies in the folder now and is not committed.

A version counts to the batch that is written in it, whatever its file was called: files change their names, are taken away and
come back. What became of a batch that is no more is told too.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from pathlib import PurePosixPath

from generator.compute.old_documents import documents_of
from generator.compute.old_reports import NOW, OldReports
from generator.log import Entry, Log
from generator.read.document import Document
from generator.read.git import Past, Version
from generator.records import Batch
from generator.validate.grammar import record_of
from generator.validate.logbook import context_of


@dataclass(frozen=True, slots=True)
class Step:
    """One version of a batch: the number of its commit, when it landed, what was read; None for both where it is gone or cannot be read.

    `at` is None for what is not committed; `of_report` where only a report of a result was exchanged.
    """

    number: int
    at: int | None
    blob: str
    batch: Entry[Batch] | None = None
    gone: bool = False
    elsewhere: bool = False
    of_report: bool = False


@dataclass(frozen=True, slots=True)
class Removed:
    """A batch that is no more: its id, when its file was taken away (None where that is not committed), whether it was private."""

    batch: str
    at: int | None
    hidden: bool


@dataclass(slots=True)
class Histories:
    """The steps of every batch that is written, and those that are no more."""

    steps: dict[str, list[Step]] = field(default_factory=dict)
    removed: list[Removed] = field(default_factory=list)


def histories(log: Log, found: Past, reports: OldReports) -> Histories:
    """Every batch that is written, recorded or planned, and every one that was and is no more."""
    here = {entry.document.file: entry for entry in log.written_batches()}
    known = {entry.id for entry in here.values()}
    files = {name: versions for name, versions in found.versions.items() if _is_batch(name)}
    read = _reader(log, found, files)
    out = Histories({entry.id: [] for entry in here.values()})
    for file in sorted({*here, *files}):
        now = here.get(file)
        for owner, part in _parts(
            _chain(files.get(file, []), read.get(file, {}), now), now.id if now is not None else None
        ):
            _lay(out, known, owner, part)
    for name, steps in out.steps.items():
        out.steps[name] = _with_reports(_in_turn(steps), reports)
    last = {gone.batch: gone for gone in sorted(out.removed, key=lambda each: each.at or NOW)}
    out.removed = [last[name] for name in sorted(last)]
    return out


def _is_batch(name: str) -> bool:
    path = PurePosixPath(name)
    return (
        path.parts[0] == "batches"
        and path.suffix == ".yaml"
        and not any(part.startswith(".") for part in path.parts)
    )


Read = Mapping[str, Entry[Batch] | None]


def _reader(log: Log, found: Past, files: Mapping[str, Sequence[Version]]) -> Mapping[str, Read]:
    """Every version of these files as a record, by file and blob; None where it cannot be read."""
    old, context = documents_of(found, files), context_of(log.workshop.document)
    return {
        file: {
            blob: _record(old.get((file, blob)), context) for blob in {version.blob for version in versions}
        }
        for file, versions in files.items()
    }


def _record(document: Document | None, context: Mapping[str, object]) -> Entry[Batch] | None:
    batch = record_of(Batch, document, context)[0] if document is not None else None
    return Entry(batch.batch, batch, document) if batch is not None and document is not None else None


def _chain(versions: Sequence[Version], read: Read, now: Entry[Batch] | None) -> list[Step]:
    """The steps of one file; the last is what lies there now, where that says anything else than the last commit."""
    steps = [
        Step(each.number, each.at, each.blob, read[each.blob], not each.blob, each.elsewhere)
        for each in versions
    ]
    if now is None:
        return steps if not steps or steps[-1].gone else [*steps, Step(NOW, None, "", gone=True)]
    here = Step(NOW, None, "now", now)
    return steps if steps and _alike(steps[-1], here) else [*steps, here]


def _parts(steps: list[Step], owner: str | None) -> Iterator[tuple[str | None, list[Step]]]:
    """The steps of one file by the batch they are of: what stood under another path and is another batch was only alike."""
    if owner is None:
        owner = next((step.batch.id for step in reversed(steps) if step.batch is not None), None)
    others = [
        place
        for place, step in enumerate(steps)
        if step.elsewhere and (step.batch is None or step.batch.id != owner)
    ]
    if not others:
        yield owner, steps
        return
    cut = others[-1] + 1
    after = steps[cut:]
    yield owner, after
    before = [replace(step, elsewhere=False) for step in steps[:cut]]
    if after:
        before.append(Step(after[0].number, after[0].at, "", gone=True))
    yield from _parts(before, None)


def _lay(out: Histories, known: set[str], owner: str | None, part: Sequence[Step]) -> None:
    """Give each step to the batch that is written in it, and to its file's where that is no more."""
    for step in part:
        told = step.batch.id if step.batch is not None and step.batch.id in known else owner
        if told in out.steps:
            out.steps[told].append(step)
    named = [(place, step.batch) for place, step in enumerate(part) if step.batch is not None]
    for (place, batch), (_, behind) in zip(named, [*named[1:], (0, None)], strict=True):
        gone = next((step for step in part[place + 1 :] if step.gone), None)
        if batch.id in known or (behind is not None and behind.id == batch.id):
            continue
        end = part[place + 1] if behind is not None else gone
        if end is not None and owner not in known:
            out.removed.append(Removed(batch.id, end.at, hidden(batch)))


def hidden(version: Entry[Batch]) -> bool:
    """Whether a version was private or only planned, so that no reader of the shared site saw it."""
    return version.record.private or version.record.is_planned


def _in_turn(steps: Sequence[Step]) -> list[Step]:
    """By commit, what was taken away before what came; without what says the same as the one before."""
    ordered = sorted(steps, key=lambda step: (step.number, not step.gone))
    committed = [step for step in ordered if step.number < NOW]
    if committed and ordered[-1] is not committed[-1] and _alike(committed[-1], ordered[-1]):
        ordered = committed  # only the name of the file is another
    blobs = [None, *(step.blob for step in ordered)]
    return [step for step, before in zip(ordered, blobs, strict=False) if step.blob != before]


def _alike(one: Step, other: Step) -> bool:
    """Whether two versions were written alike."""
    if one.batch is None or other.batch is None:
        return False
    return bool(one.batch.document.data == other.batch.document.data)


def _with_reports(steps: Sequence[Step], reports: OldReports) -> list[Step]:
    """Where a report was exchanged and its result was not written anew, a step more."""
    out: list[Step] = []
    for step, behind in zip(steps, [*(each.number for each in steps[1:]), NOW + 1], strict=True):
        out.append(step)
        if step.batch is None:
            continue
        for name in sorted({test.report.file for test in step.batch.record.tests if test.report is not None}):
            between = {
                version.number: version.at
                for version in reports.changed(name)
                if step.number < version.number < behind
            }
            out += [replace(step, number=number, at=at, of_report=True) for number, at in between.items()]
            if behind > NOW > step.number and reports.at(name, NOW) != reports.at(name, NOW - 1):
                out.append(replace(step, number=NOW, at=None, of_report=True))
    return sorted(out, key=lambda step: step.number)
