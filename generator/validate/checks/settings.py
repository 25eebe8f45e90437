"""The workshop's settings name public fields that exist, and its rates have the units they need."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date

from generator.ledger.ledgers import Ledgers
from generator.log import Log
from generator.problems import Problem, did_you_mean
from generator.records import Workshop
from generator.units import Price
from generator.validate.checks.figures import LEAST_MOLES
from generator.validate.checks.references import unknown

_Path = tuple[str | int, ...]


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
    yield from _target(log)
    units = {
        "labour_rate": ("duration", "h"),
        "collection_rate": ("distance", "km"),
        "target_cost": ("volume", "L"),
    }
    for path, price in _own_prices(settings):
        kind, unit = units[str(path[0])]
        if price.per is None or price.per.kind != kind:
            yield Problem(
                "price-unit",
                log.workshop.at(*path),
                f"'{path[0]}' is a price per {unit}, and '{price.text}' is not",
                f"write it like 0.50 {price.currency}/{unit}",
            )


def _target(log: Log) -> Iterator[Problem]:
    """A target that no fuel can meet makes every offer too dear."""
    target = log.settings.target_cost
    if target is not None and not target.amount:
        yield Problem(
            "out-of-range",
            log.workshop.at("target_cost"),
            f"'{target.text}' is a target that no fuel can meet",
            "write what a litre of fuel may cost, or take the line out",
        )


def _own_prices(settings: Workshop) -> Iterator[tuple[_Path, Price]]:
    """The prices that the workshop set for itself, and where they stand."""
    for key in ("labour_rate", "collection_rate"):
        for number, rate in enumerate(getattr(settings, key)):
            yield (key, number, "value"), rate.value
    if settings.target_cost is not None:
        yield ("target_cost",), settings.target_cost


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
    for key in ("labour_rate", "collection_rate"):
        own = [(key, rate.since) for rate in getattr(log.settings, key)]
        yield from _twice(log, key, "value", "rates", own)


def _twice(
    log: Log, key: str, name: str, what: str, found: Sequence[tuple[str, date | None]]
) -> Iterator[Problem]:
    seen: dict[tuple[str, date | None], int] = {}
    for number, each in enumerate(found):
        first = seen.setdefault(each, number)
        if first != number:
            place, related = (log.workshop.at(key, which, name) for which in (number, first))
            message = f"{each[0]} has two {what} " + (
                f"from {each[1]}" if each[1] is not None else "without a day"
            )
            yield Problem("from-twice", place, message, "keep the one that holds", (related,))


def _currencies(log: Log) -> Iterator[Problem]:
    """The settings' own prices are in the currency of the logbook, and so is what others are worth."""
    settings = log.settings
    for number, rate in enumerate(settings.rates):
        if rate.currency == settings.currency:
            yield Problem(
                "price-currency",
                log.workshop.at("rates", number, "currency"),
                f"{rate.currency} is the logbook's own currency, and has no rate",
                "name the other currency, or take the line out",
            )
    written = list(_own_prices(settings))
    written += [(("rates", number, "value"), rate.value) for number, rate in enumerate(settings.rates)]
    written += [(("overheads", number, "paid"), one.paid) for number, one in enumerate(settings.overheads)]
    for path, price in written:
        if price.currency != settings.currency:
            yield Problem(
                "price-currency",
                log.workshop.at(*path),
                f"'{price.text}' is in {price.currency}, the logbook is kept in {settings.currency}",
                f"convert it by hand and write {settings.currency}",
            )
