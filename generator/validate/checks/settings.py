"""The workshop's settings name public fields that exist, and its rates have the units they need."""

from __future__ import annotations

from collections.abc import Iterator

from generator.ledger.ledgers import Ledgers
from generator.problems import Problem, did_you_mean
from generator.tables import widenable
from generator.validate.checks.figures import LEAST_MOLES


def check(ledgers: Ledgers) -> Iterator[Problem]:
    """Name what the settings point at and the tool does not have."""
    log = ledgers.log
    settings = log.settings
    rule = settings.dose.methanol if settings.dose is not None else None
    if rule is not None and rule.kind == "molar ratio" and rule.value < LEAST_MOLES:
        yield Problem(
            "methanol-short",
            log.workshop.at("dose", "methanol"),
            f"a rule of {rule.text}, and the reaction takes {LEAST_MOLES:.0f} mol of methanol per mol of oil",
            "write the moles of methanol per mole of oil, such as 6 mol/mol, or a share of the oil's volume, such as 22 %",
        )
    for number, name in enumerate(settings.public):
        if name not in widenable():
            place = log.workshop.at("public", number)
            yield Problem(
                "unknown-public-field",
                place,
                f"'{name}' is not a field that can be made public",
                did_you_mean(name, widenable()),
            )
    for key, kind, unit in (
        ("labour_rate", "duration", "h"),
        ("collection_rate", "distance", "km"),
        ("target_cost", "volume", "L"),
    ):
        rate = getattr(settings, key)
        if rate is not None and (rate.per is None or rate.per.kind != kind):
            yield Problem(
                "price-unit",
                log.workshop.at(key),
                f"'{key}' is a price per {unit}, and '{rate.text}' is not",
                f"write it like 0.50 {rate.currency}/{unit}",
            )
