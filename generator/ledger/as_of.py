"""A log as it stood on the morning of a day: what an offer of that day could be judged by.

What is dated on the day or later is gone, a record as well as an entry of one. Settings and materials have no day and stay
as they are; prices in force and rates are asked for by day anyway.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from datetime import date
from typing import Any

from generator.log import Entry, Log, over_on
from generator.records import Batch, Record


def as_of(log: Log, day: date) -> Log:
    """The log without what came on the day or after it, offers and plans left out.

    A batch whose fuel had not come through the columns keeps what went into it, for that was drawn; its fuel is unknown.
    """
    return Log(
        workshop=log.workshop,
        materials=log.materials,
        lots=_before(log.lots, day),
        batches={
            name: _unfinished(entry, log.batches[name]) for name, entry in _before(log.batches, day).items()
        },
        purifiers=_before(log.purifiers, day),
        tanks=_before(log.tanks, day),
        prices=log.prices,
        as_of=day,
    )


def _before(entries: Mapping[str, Entry[Any]], day: date) -> dict[str, Entry[Any]]:
    return {
        name: entry if entry.last_day < day else replace(entry, record=_was(entry.record, day))
        for name, entry in entries.items()
        if _is_before(entry.record, day)
    }


def _was(record: Any, day: date) -> Any:
    """A record without the entries of its lists that came later."""
    kept = {
        name: tuple(item for item in items if not isinstance(item, Record) or _is_before(item, day))
        for name, items in record
        if isinstance(items, tuple)
    }
    return record.model_copy(update=kept)


def _is_before(item: Record, day: date) -> bool:
    """Whether something was over before a day; what bears no day belongs to what it stands in."""
    when = over_on(item)
    return when is None or when < day


def _unfinished(entry: Entry[Batch], whole: Entry[Batch]) -> Entry[Batch]:
    """A batch that has lost a run has not given its fuel yet."""
    if len(entry.record.polish) == len(whole.record.polish):
        return entry
    return replace(entry, record=entry.record.model_copy(update={"fuel": None}))
