"""The workshop's settings name public fields that exist, and its rates have the units they need."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from generator.ledger.ledgers import Ledgers
from generator.log import Log
from generator.problems import Problem, did_you_mean
from generator.units import Price
from generator.validate.checks.figures import LEAST_MOLES
from generator.validate.checks.references import unknown


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
    if settings.public:
        yield from _public(log)
    yield from _costing(ledgers)
    yield from _currencies(log)
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


def _public(log: Log) -> Iterator[Problem]:
    """A field that is to be shown to all is one that the tables have and keep."""
    from generator.tables import widenable  # noqa: PLC0415 - every column of the site, for the few that name one

    for number, name in enumerate(log.settings.public):
        if name not in widenable():
            place = log.workshop.at("public", number)
            yield Problem(
                "unknown-public-field",
                place,
                f"'{name}' is not a field that can be made public",
                did_you_mean(name, widenable()),
            )


def _costing(ledgers: Ledgers) -> Iterator[Problem]:
    """A method of costing names a material that is there; one method a day, and one rate of a currency."""
    log = ledgers.log
    for number, chosen in enumerate(log.settings.costing):
        if chosen.material not in log.materials:
            place = log.workshop.at("costing", number, "material")
            yield unknown("material", chosen.material, place, log.materials)
    methods = [(chosen.material, chosen.since) for chosen in log.settings.costing]
    yield from _twice(log, "costing", "material", "methods of costing", methods)
    rates = [(rate.currency, rate.since) for rate in log.settings.rates]
    yield from _twice(log, "rates", "currency", "rates", rates)


def _twice(log: Log, key: str, name: str, what: str, found: list[tuple[str, date]]) -> Iterator[Problem]:
    seen: dict[tuple[str, date], int] = {}
    for number, each in enumerate(found):
        first = seen.setdefault(each, number)
        if first != number:
            place, related = (log.workshop.at(key, which, name) for which in (number, first))
            message = f"{each[0]} has two {what} from {each[1]}"
            yield Problem("from-twice", place, message, "keep the one that holds", (related,))


def _currencies(log: Log) -> Iterator[Problem]:
    """The settings' own prices have no day, so that they are in the currency of the logbook; so is what others are worth."""
    settings = log.settings
    written: list[tuple[tuple[str | int, ...], Price | None]] = [
        ((key,), getattr(settings, key)) for key in ("labour_rate", "collection_rate", "target_cost")
    ]
    written += [(("rates", number, "value"), rate.value) for number, rate in enumerate(settings.rates)]
    for path, price in written:
        if price is not None and price.currency != settings.currency:
            yield Problem(
                "price-currency",
                log.workshop.at(*path),
                f"'{price.text}' is in {price.currency}, the logbook is kept in {settings.currency}",
                f"convert it by hand and write {settings.currency}",
            )
