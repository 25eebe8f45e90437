"""The workshop's settings name a specification and public fields that exist."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from generator.ledger.ledgers import Ledgers
from generator.problems import Problem, did_you_mean
from generator.specifications import specifications
from generator.tables import widenable
from generator.validate.checks.figures import LEAST_MOLES
from generator.validate.checks.references import unknown


def check(ledgers: Ledgers) -> Iterator[Problem]:
    """Name what the settings point at and the tool does not have."""
    log = ledgers.log
    settings = log.settings
    chosen = settings.specification
    if chosen is not None and (chosen.standard, chosen.edition) not in specifications():
        known = [f"{standard}, edition {edition}" for standard, edition in specifications()]
        yield Problem(
            "unknown-specification",
            log.workshop.at("specification"),
            f"no limits are stored for {chosen.standard}, edition {chosen.edition}",
            f"stored: {'; '.join(sorted(known))}",
        )
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
    yield from _costing(ledgers)
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


def _costing(ledgers: Ledgers) -> Iterator[Problem]:
    """A method of costing names a material that is there, and one method a day."""
    log = ledgers.log
    seen: dict[tuple[str, date], int] = {}
    for number, chosen in enumerate(log.settings.costing):
        place = log.workshop.at("costing", number, "material")
        if chosen.material not in log.materials:
            yield unknown("material", chosen.material, place, log.materials)
        first = seen.setdefault((chosen.material, chosen.since), number)
        if first != number:
            yield Problem(
                "costing-twice",
                place,
                f"{chosen.material} has two methods of costing from {chosen.since}",
                "keep the one that holds",
                (log.workshop.at("costing", first, "material"),),
            )
