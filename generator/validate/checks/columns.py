"""Columns hold what they are said to hold: no run through an empty vessel, no bed larger than its vessel."""

from __future__ import annotations

from collections.abc import Iterator

from generator.ledger.ledgers import Ledgers
from generator.problems import Problem
from generator.records import Pack


def check(ledgers: Ledgers) -> Iterator[Problem]:
    """Fold the columns and tell what could not have happened."""
    log = ledgers.log
    yield from ledgers.columns.problems
    for entry in log.purifiers.values():
        vessels = {vessel.vessel: vessel for vessel in entry.record.vessels}
        for number, event in enumerate(entry.record.history):
            vessel = vessels.get(event.vessel) if isinstance(event, Pack) else None
            if isinstance(event, Pack) and vessel is not None and event.bed.value > vessel.volume.value:
                yield Problem(
                    "bed-too-large",
                    entry.at("history", number, "bed"),
                    f"a bed of {event.bed.text} does not fit vessel {event.vessel} of {vessel.volume.text}",
                    "check both volumes",
                    (entry.at("vessels"),),
                )
