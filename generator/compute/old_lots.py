"""Lots that an older version of a batch names and that there are no more, such as those that have another id since."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from generator.compute.bare import lots_named
from generator.compute.old_documents import documents_of
from generator.compute.versions import Histories
from generator.log import Entry, Log
from generator.read.document import Document
from generator.read.git import Past
from generator.records import Lot, Material, Materials
from generator.validate.grammar import record_of
from generator.validate.logbook import context_of


def with_old_lots(log: Log, found: Past, past: Histories) -> Log:
    """The log with them and what they are of, as they were written last: else another id of a lot would take its batches their history."""
    wanted = {
        name
        for steps in past.steps.values()
        for step in steps
        if step.batch is not None
        for name in lots_named(step.batch.record)
    }
    wanted -= set(log.lots)
    if not wanted:
        return log
    old = {name: entry for name, entry in _lots(log, found) if name in wanted}
    missing = {entry.record.material for entry in old.values()} - set(log.materials)
    stuffs = {name: entry for name, entry in _materials(log, found) if name in missing} if missing else {}
    materials = {**log.materials, **stuffs}
    lots = {name: entry for name, entry in old.items() if entry.record.material in materials}
    return replace(log, materials=materials, lots={**log.lots, **lots})


def _lots(log: Log, found: Past) -> Iterator[tuple[str, Entry[Lot]]]:
    """Every lot that was ever committed, the oldest version first."""
    context = context_of(log.workshop.document)
    for document in _documents(found, "lots/"):
        lot = record_of(Lot, document, context)[0]
        if lot is not None:
            yield lot.lot, Entry(lot.lot, lot, document)


def _materials(log: Log, found: Past) -> Iterator[tuple[str, Entry[Material]]]:
    """Every material that was ever committed, the oldest version first."""
    context = context_of(log.workshop.document)
    for document in _documents(found, "materials/"):
        record = record_of(Materials, document, context)[0]
        for name, material in (record.materials if record is not None else {}).items():
            yield name, Entry(name, material, document, ("materials", name))


def _documents(found: Past, folder: str) -> Iterator[Document]:
    """Every version that can be read of the files of a folder, file by file, the oldest first."""
    versions = {
        name: listed
        for name, listed in found.versions.items()
        if name.startswith(folder) and name.endswith(".yaml")
    }
    old = documents_of(found, versions)
    for name, listed in versions.items():
        yield from (old[name, version.blob] for version in listed if (name, version.blob) in old)
