"""Prices in another currency, carried to that of the logbook at the rate of their day before anything else looks at them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import date
from typing import Any

from generator.ledger.money import rate_on
from generator.log import Entry
from generator.pricing import without_rate
from generator.problems import Problem
from generator.records import Batch, Lot, Offer, PriceSeries, Record, Workshop
from generator.units import Price

_Path = tuple[str | int, ...]


def converted(entry: Entry[Any], settings: Workshop) -> tuple[Entry[Any], list[Problem]]:
    """The entry with its prices in the currency of the logbook; what is written stays the text of a price.

    A price of a day on which no rate holds stays as it is, and is a problem.
    """
    problems = []
    record = entry.record
    for path, price, day in list(_prices(record)):
        if price.currency == settings.currency:
            continue
        rate = rate_on(settings, price.currency, day)
        if rate is None:
            problems.append(_no_rate(entry, path, price, day, settings))
            continue
        home = replace(
            price, amount=price.amount * rate.value.amount, currency=settings.currency, rated=rate.since
        )
        record = _with(record, path, home)
    return replace(entry, record=record), problems


def _prices(record: Record) -> Iterator[tuple[_Path, Price, date]]:
    """Every price of a record: where it stands, and its day."""
    if isinstance(record, Lot):
        for name in ("paid", "freight", "value"):
            if (price := getattr(record, name)) is not None:
                yield (name,), price, record.received
        for number, back in enumerate(record.returns):
            if back.refund is not None:
                yield ("returns", number, "refund"), back.refund, back.date
    elif isinstance(record, Offer):
        yield ("asked",), record.asked, record.offered
    elif isinstance(record, Batch):
        for number, cost in enumerate(record.other_costs):
            yield ("other_costs", number, "paid"), cost.paid, record.date
        for number, credit in enumerate(record.credits):
            yield ("credits", number, "amount"), credit.amount, record.date
    elif isinstance(record, PriceSeries):
        for number, point in enumerate(record.series):
            yield ("series", number, "value"), point.value, point.date


def _with(record: Any, path: _Path, price: Price) -> Any:
    """A copy of a record with another price at a place."""
    first, *rest = path
    if isinstance(record, tuple):
        assert isinstance(first, int)
        return (*record[:first], _with(record[first], tuple(rest), price), *record[first + 1 :])
    inner = _with(getattr(record, str(first)), tuple(rest), price) if rest else price
    return record.model_copy(update={str(first): inner})


def _no_rate(entry: Entry[Any], path: _Path, price: Price, day: date, settings: Workshop) -> Problem:
    known = sorted(rate.since for rate in settings.rates if rate.currency == price.currency)
    first = f"; the first one is of {known[0]}" if known else ""
    return Problem(
        "price-currency",
        entry.at(*path),
        f"'{price.text}' is of {day}, and no rate of {price.currency} holds on that day{first}",
        without_rate(price.currency, settings.currency, day.isoformat()),
    )
