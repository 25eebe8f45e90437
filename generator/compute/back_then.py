"""The workshop's own record as it was on a day that is over, reckoned once for as long as nothing of before that day changes.

Folding a log again for every day on which an offer was settled is most of what a logbook with many offers would cost.
"""

from __future__ import annotations

from dataclasses import asdict
from datetime import date
from typing import Any

from generator.compute.costs import costs_of
from generator.compute.hindsight import Band
from generator.compute.own_record import Beside, Guess, Made, OwnRecord, own_record
from generator.kept import Gathered
from generator.ledger.as_of import as_of
from generator.ledger.ledgers import Ledgers
from generator.ledger.routes import Route
from generator.log import Log


class BackThen:
    """Records of one log by their day; `before` holds those that were reckoned for an earlier one."""

    def __init__(self, log: Log, before: Gathered) -> None:
        """Nothing is reckoned before a day is asked for."""
        self._log, self._before = log, before
        self._days: dict[date, OwnRecord] = {}

    def on(self, day: date) -> OwnRecord:
        """The record as it was on the morning of a day."""
        if day not in self._days:
            self._days[day] = self._known(as_of(self._log, day), day)
        return self._days[day]

    def _known(self, then: Log, day: date) -> OwnRecord:
        if not self._before.is_kept:
            return _reckoned(then)
        return _as_it_was(
            self._before.value(lambda: asdict(_reckoned(then)), "own record", str(day), *then.signs())
        )


def _reckoned(then: Log) -> OwnRecord:
    ledgers = Ledgers(then)
    return own_record(ledgers, costs_of(ledgers))


def _as_it_was(known: dict[str, Any]) -> OwnRecord:
    return OwnRecord(
        made=tuple(Made(**{**one, "route": Route(*one["route"])}) for one in known["made"]),
        beside={
            tier: Beside(**{name: tuple(ends) if ends is not None else None for name, ends in each.items()})
            for tier, each in known["beside"].items()
        },
        loss_share=known["loss_share"],
        base_per_kg=known["base_per_kg"],
        parts=known["parts"],
        methanol_per_kg=known["methanol_per_kg"],
        bands={tier: Band(**each) if each is not None else None for tier, each in known["bands"].items()},
        guess=Guess(**known["guess"]) if known["guess"] is not None else None,
    )
