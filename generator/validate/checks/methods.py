"""A result names a method that gives its property, where the method is one of a standard."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import chain
from typing import Any

from generator.ledger.ledgers import Ledgers
from generator.log import Entry, Log
from generator.problems import Place, Problem
from generator.properties import method_named, properties, properties_of


def check(ledgers: Ledgers) -> Iterator[Problem]:
    """Name standard methods that give other properties than the one they stand beside."""
    for place, name, method in _named(ledgers.log):
        gives = properties_of(method_named(method))
        if gives and name not in gives:
            own = ", ".join(properties()[name].methods) or "none of a standard"
            yield Problem(
                "method-unfit",
                place,
                f"'{method}' is no method for {name}: it gives {', '.join(gives)}",
                f"correct the property or the method; those for {name}: {own}",
            )


def _named(log: Log) -> Iterator[tuple[Place, str, str]]:
    """Every method that stands beside a property, with its place."""
    tested: Iterator[Entry[Any]] = chain(log.written_batches(), log.lots.values(), log.offers.values())
    for entry in tested:
        for number, test in enumerate(entry.record.tests):
            if test.property is not None and test.method is not None:
                yield entry.at("tests", number, "method"), test.property, test.method
    for number, group in enumerate(log.settings.own_limits):
        for place, limit in enumerate(group.limits):
            if limit.method is not None:
                at = log.workshop.at("own_limits", number, "limits", place, "method")
                yield at, limit.property, limit.method
