"""Lots that an older version of a batch names and that there are no more, such as those that have another id since."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace

from generator.compute.bare import lots_named
from generator.compute.old_settings import document_of
from generator.compute.versions import Histories
from generator.log import Entry, Log
from generator.read.document import MAX_BYTES
from generator.read.git import Past, contents
from generator.records import Lot
from generator.validate.grammar import record_of
from generator.validate.logbook import context_of


def with_old_lots(log: Log, found: Past, past: Histories) -> Log:
    """The log with them, as they were written last: else another id of a lot would take its batches their history."""
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
    return replace(log, lots={**log.lots, **old})


def _lots(log: Log, found: Past) -> Iterator[tuple[str, Entry[Lot]]]:
    """Every lot that was ever committed, the oldest version first; those of a material that is no more are left out."""
    context: Mapping[str, str] = context_of(log.workshop.document)
    versions = {
        name: listed
        for name, listed in found.versions.items()
        if name.startswith("lots/") and name.endswith(".yaml")
    }
    old = dict(contents(found, (each.blob for listed in versions.values() for each in listed), MAX_BYTES))
    for name, listed in versions.items():
        for version in listed:
            document = document_of(name, old.get(version.blob))
            lot = record_of(Lot, document, context)[0] if document is not None else None
            if lot is not None and document is not None and lot.material in log.materials:
                yield lot.lot, Entry(lot.lot, lot, document)
