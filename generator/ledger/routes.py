"""How every batch was worked: what moves its yield beside the oil, so that batches are compared with batches worked alike."""

from __future__ import annotations

from typing import NamedTuple

from generator.ledger.ledgers import Ledgers
from generator.log import Log
from generator.records import Batch, Catalyst


class Route(NamedTuple):
    """The purifier behind a batch, its base, stages of reaction, and whether acid went before it; empty or 0 where not written."""

    purifier: str
    base: str
    stages: int
    pretreated: bool


UNKNOWN = Route("", "", 0, pretreated=False)


def routes(ledgers: Ledgers) -> dict[str, Route]:
    """The route of every batch, by id; its purifier is that of its last run for the first time through a line."""
    ran = {one.batch: one.purifier for one in ledgers.columns.passes if not one.again}
    return {
        name: Route(
            ran.get(name, ""),
            _base(ledgers.log, entry.record),
            len(entry.record.reaction),
            entry.record.pretreatment is not None,
        )
        for name, entry in ledgers.log.batches.items()
    }


def _base(log: Log, batch: Batch) -> str:
    """The kinds of base of all its stages."""
    used = (log.material_of(use.lot) for stage in batch.reaction for use in stage.catalyst)
    return " + ".join(
        sorted({one.record.of for one in used if one is not None and isinstance(one.record, Catalyst)})
    )
