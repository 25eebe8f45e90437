"""A planned batch has not run: what was polished, filled or tested was made by a reaction that is not written."""

from __future__ import annotations

from collections.abc import Iterator

from generator.ledger.ledgers import Ledgers
from generator.problems import Problem

RAN = ("settled", "methanol_recovered", "polish", "fuel", "tests")


def check(ledgers: Ledgers) -> Iterator[Problem]:
    """Check every planned batch."""
    for entry in ledgers.log.planned.values():
        key = next((key for key in RAN if getattr(entry.record, key)), None)
        if key is not None:
            yield Problem(
                "planned-but-run",
                entry.at(key, key=True),
                f"batch {entry.id} has '{key}' and no 'reaction', so it counts as planned: nothing is drawn and nothing is made",
                f"write its reaction, for example with: esterday record {entry.id} LOT=AMOUNT",
                (entry.at("plan", key=True),),
            )
