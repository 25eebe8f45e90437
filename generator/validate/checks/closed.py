"""What was drawn until a day on which the books were closed still costs what it did then."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from generator.ledger.ledgers import Ledgers
from generator.problems import Problem

CENT = Decimal("0.01")


def check(ledgers: Ledgers) -> Iterator[Problem]:
    """Reckon every closed period anew; a price or a method that came later may reach back into it."""
    log = ledgers.log
    for number, closed in enumerate(log.settings.closed):
        now = ledgers.inventory.drawn_until(closed.until).quantize(CENT)
        told = f"{now} {log.settings.currency}"
        if closed.drawn is None:
            yield Problem(
                "closed-open",
                log.workshop.at("closed", number),
                f"what was drawn until {closed.until} cost {told}, and no figure stands here to hold it to",
                f"write 'drawn: {told}'",
            )
        elif closed.drawn.amount != now:
            yield Problem(
                "closed-moved",
                log.workshop.at("closed", number, "drawn"),
                f"what was drawn until {closed.until} cost {closed.drawn.text} when it was closed, and costs {told} now",
                "take back what reaches into that time (a price, an amount, a method of costing), or write the new figure here and say why in a comment",
            )
