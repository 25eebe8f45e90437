"""A resin that exchanges soap frees its acid: the acid value of the fuel has to fit the soap that was taken out."""

from __future__ import annotations

from collections.abc import Iterator

from generator.ledger.acid import acid_of
from generator.ledger.ledgers import Ledgers
from generator.problems import Problem


def check(ledgers: Ledgers) -> Iterator[Problem]:
    """Hold the measured acid value of every batch to what its run leads to expect."""
    exchanged = ledgers.columns.exchanged_mg_per_kg()
    for entry in ledgers.log.batches.values():
        before = ledgers.facts[entry.id].feed_acid_value_mg_koh_per_g
        acid = acid_of(ledgers.log, entry, before, exchanged.get(entry.id))
        if acid.agreement in (None, "as predicted"):
            continue
        least = f"{acid.expected_low:.2f}"
        most = f"{acid.expected_high:.2f}" if acid.expected_high is not None else None
        expected = f"{least} or more" if most is None else least if least == most else f"{least} to {most}"
        place = next(
            entry.at("tests", number)
            for number, test in reversed(list(enumerate(entry.record.tests)))
            if test.property == "acid value"
        )
        yield Problem(
            "acid-not-as-predicted",
            place,
            f"an acid value of {acid.measured:.2f} mg KOH/g, and the soap that the resin exchanged leads to expect {expected}",
            "titrate the fuel again; check the soap samples before and behind the resin, and the normality of their acid",
            (entry.at("polish", 0, "soap"),),
        )
