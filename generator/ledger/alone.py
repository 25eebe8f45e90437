"""A log cut down to one batch and what its own figures are made from, so that nothing else can move them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import Any

from generator.log import Entry, Log
from generator.records import Batch, Record

NAMES_A_LOT = ("lot", "into")  # the keys of a batch that do


class Alone:
    """Cuts batches out of one log."""

    def __init__(self, log: Log) -> None:
        """Take what all batches share: settings, materials, and the vessels of the columns without their history."""
        self._log = log
        self._purifiers = {
            name: replace(entry, record=entry.record.model_copy(update={"history": ()}))
            for name, entry in log.purifiers.items()
        }

    def of(self, entry: Entry[Batch]) -> Log:
        """A log with one batch and the lots that it names; no other batch, tank, offer or price."""
        log = self._log
        named = {name: log.lots[name] for name in sorted(set(_lots_in(entry.record))) if name in log.lots}
        return Log(
            workshop=log.workshop,
            materials=log.materials,
            lots=named,
            batches={entry.id: entry},
            purifiers=self._purifiers,
            as_of=log.as_of,
        )


def _lots_in(value: Any) -> Iterator[str]:
    """The ids of the lots that stand anywhere in a record."""
    if isinstance(value, Record):
        for name, inside in vars(value).items():
            if isinstance(inside, str):
                if name in NAMES_A_LOT:
                    yield inside
            elif isinstance(inside, Record | tuple):
                yield from _lots_in(inside)
    elif isinstance(value, tuple):
        for each in value:
            yield from _lots_in(each)
