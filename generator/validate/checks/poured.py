"""A plan leaves methanol to pour: what a solution of catalyst brings is less than the rule asks for."""

from __future__ import annotations

from collections.abc import Iterator

from generator.ledger.ledgers import Ledgers
from generator.ledger.spoken import mass
from generator.problems import Problem


def check(ledgers: Ledgers) -> Iterator[Problem]:
    """Check every planned batch."""
    for entry in ledgers.log.planned.values():
        found = ledgers.doses[entry.id].methanol
        if found.from_catalyst_beyond_rule:
            assert found.from_catalyst_kg is not None and found.rule_kg is not None
            yield Problem(
                "methanol-beyond",
                entry.at("plan", "catalyst"),
                f"its catalyst brings {mass(ledgers.log, found.from_catalyst_kg)} of methanol, and the rule asks for {mass(ledgers.log, found.rule_kg)} in all",
                "check the purity of the catalyst, and 'base' and 'methanol' under 'dose' in logbook.yaml",
            )
