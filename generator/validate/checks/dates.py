"""Things happen in order: a batch after its lots came, a run after its batch, an end after a start."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date, datetime, time

from generator.ledger.ledgers import Ledgers
from generator.log import Entry, Log
from generator.problems import Place, Problem
from generator.records import Batch, Purifier, Rest, Tank, day_of

ALONE_DAYS = 180
LEAST_DAYS = 5

_BOTH = "check year, month and day of both"
_OLD_STOCK = f"{_BOTH}; stock from before wants a lot of its own, with the day it came or was first counted"


def check(ledgers: Ledgers) -> Iterator[Problem]:
    """Name what is dated before what it needs."""
    log = ledgers.log
    for entry in log.written_batches():
        yield from _lots(log, entry)
        yield from _run(entry)
    yield from _media(log)
    yield from _alone(log)
    yield from _overlaps(log)
    yield from _histories(log)
    for lot in log.lots.values():
        dated = [("losses", number, loss.date) for number, loss in enumerate(lot.record.losses)]
        dated += [("filled", number, fill.date) for number, fill in enumerate(lot.record.filled)]
        dated += [("returns", number, back.date) for number, back in enumerate(lot.record.returns)]
        dated += [("counts", number, count.date) for number, count in enumerate(lot.record.counts)]
        for key, number, day in dated:
            if day < lot.record.received:
                message = f"{day} is before the lot was received ({lot.record.received})"
                yield _before(lot.at(key, number, "date"), message, lot.at("received"))
        for number, fill in enumerate(lot.record.filled):
            source = log.lots.get(fill.lot)
            if source is not None and fill.date < source.record.received:
                message = f"lot '{fill.lot}' was poured in on {fill.date}, before it came ({source.record.received})"
                yield _before(lot.at("filled", number, "date"), message, source.at("received"))
        for number, way in enumerate(lot.record.collected):
            if way.date is not None and way.date > lot.record.received:
                message = f"the lot was received on {lot.record.received}, before it was fetched ({way.date})"
                yield _before(lot.at("received"), message, lot.at("collected", number, "date"))
    for offer in log.offers.values():
        until = offer.record.valid_until
        if until is not None and until < offer.record.offered:
            yield _before(
                offer.at("valid_until"),
                f"{until} is before the offer was made ({offer.record.offered})",
                offer.at("offered"),
            )
        declined, bought = offer.record.declined, log.lots.get(offer.record.bought_as or "")
        if declined is not None and declined < offer.record.offered:
            message = f"it was declined on {declined}, before it was offered ({offer.record.offered})"
            yield _before(offer.at("declined"), message, offer.at("offered"))
        if bought is not None and bought.record.received < offer.record.offered:
            message = f"lot '{bought.id}' came on {bought.record.received}, before it was offered ({offer.record.offered})"
            yield _before(offer.at("bought_as"), message, bought.at("received"))


def _alone(log: Log) -> Iterator[Problem]:
    """A batch, lot or offer that is dated long after everything else moves the day from which all pages count."""
    days = sorted(set(log.dates()))
    if len(days) < LEAST_DAYS or (days[-1] - days[-2]).days < ALONE_DAYS:
        return
    for place in _dated(log, days[-1]):
        message = f"{days[-1]} is {(days[-1] - days[-2]).days} days after everything else in the logbook ({days[-2]})"
        yield Problem("date-alone", place, message, "check the year: the pages count from the latest date")


def _dated(log: Log, day: date) -> Iterator[Place]:
    """Where a day is written as one on which something happened."""
    for batch in log.batches.values():
        if batch.record.date == day:
            yield batch.at("date")
        for number, run in enumerate(batch.record.polish):
            if day_of(run.end) == day:
                yield batch.at("polish", number, "end")
        for number, test in enumerate(batch.record.tests):
            if test.date == day:
                yield batch.at("tests", number, "date")
    for lot in log.lots.values():
        if lot.record.received == day:
            yield lot.at("received")
    yield from (offer.at("offered") for offer in log.offers.values() if offer.record.offered == day)
    books: list[Entry[Purifier] | Entry[Tank]] = [*log.purifiers.values(), *log.tanks.values()]
    for book in books:
        for number, event in enumerate(book.record.history):
            if day_of(event.date) == day:
                yield book.at("history", number, "date")


def _media(log: Log) -> Iterator[Problem]:
    """A vessel filled or rinsed out of a lot that had not come yet."""
    for entry in log.purifiers.values():
        for number, event in enumerate(entry.record.history):
            used = getattr(event, "used", None)
            name = getattr(event, "lot", None) or (used.lot if used is not None else None)
            lot = log.lots.get(name or "")
            if lot is not None and lot.record.received > day_of(event.date):
                keys = ("lot",) if used is None else ("with", "lot")
                yield _before(
                    entry.at("history", number, *keys),
                    f"{event.event} of {day_of(event.date)} uses lot '{lot.id}', received on {lot.record.received}",
                    lot.at("received"),
                )


def _before(place: Place, message: str, *related: Place, hint: str = _BOTH) -> Problem:
    return Problem("date-order", place, message, hint, related)


def _lots(log: Log, entry: Entry[Batch]) -> Iterator[Problem]:
    batch = entry.record
    named = [(use.lot, entry.at("oil", number, "lot")) for number, use in enumerate(batch.oil)]
    for stage_number, stage in enumerate(batch.reaction):
        for key, items in (("catalyst", stage.catalyst), ("methanol", stage.methanol)):
            named += [
                (use.lot, entry.at("reaction", stage_number, key, number, "lot"))
                for number, use in enumerate(items)
            ]
    if batch.pretreatment is not None:
        for key, items in (("acid", batch.pretreatment.acid), ("methanol", batch.pretreatment.methanol)):
            named += [
                (use.lot, entry.at("pretreatment", key, number, "lot")) for number, use in enumerate(items)
            ]
    named += _planned(entry)
    for lot, place in named:
        if lot in log.lots and log.lots[lot].record.received > batch.date:
            received = log.lots[lot].record.received
            yield _before(
                place,
                f"batch {entry.id} of {batch.date} uses lot '{lot}', received on {received}",
                log.lots[lot].at("received"),
                hint=_OLD_STOCK,
            )


def _planned(entry: Entry[Batch]) -> list[tuple[str, Place]]:
    """The lots a batch to come is planned with; once it is recorded, its own entries are held to their dates."""
    plan = entry.record.plan
    if plan is None or not entry.record.is_planned:
        return []
    named = [(plan.catalyst, entry.at("plan", "catalyst"))]
    named += [
        (item.lot, entry.at("plan", "methanol", number, "lot")) for number, item in enumerate(plan.methanol)
    ]
    if plan.pretreatment is not None and plan.pretreatment.acid is not None:
        named.append((plan.pretreatment.acid, entry.at("plan", "pretreatment", "acid")))
    return named


def _run(entry: Entry[Batch]) -> Iterator[Problem]:
    batch = entry.record
    for place, run in enumerate(batch.polish):
        if run.end <= run.start:
            yield _before(
                entry.at("polish", place, "end"),
                f"the run ends ({run.end:%Y-%m-%d %H:%M}) before it starts",
                entry.at("polish", place, "start"),
            )
        if run.start.date() < batch.date:
            yield _before(
                entry.at("polish", place, "start"),
                f"the run starts before the batch was made ({batch.date})",
                entry.at("date"),
            )
    for number, test in enumerate(batch.tests):
        if test.date is not None and test.date < batch.date:
            yield _before(
                entry.at("tests", number, "date"),
                f"tested on {test.date}, before the batch was made ({batch.date})",
                entry.at("date"),
            )


def _overlaps(log: Log) -> Iterator[Problem]:
    """Each run against the one before it that ended last."""
    runs: dict[str, list[tuple[datetime, str, int]]] = {}
    for entry in log.batches.values():
        for number, run in enumerate(entry.record.polish):
            runs.setdefault(run.purifier, []).append((run.start, entry.id, number))
    for found in runs.values():
        last: tuple[datetime, str, int] | None = None
        for start, name, number in sorted(found):
            entry = log.batches[name]
            if last is not None and start < last[0]:
                before = log.batches[last[1]]
                yield Problem(
                    "runs-overlap",
                    entry.at("polish", number, "start"),
                    f"batch {name} starts while batch {last[1]} still runs through the same columns",
                    "check both dates and times",
                    (before.at("polish", last[2], "end"),),
                )
            end = entry.record.polish[number].end
            if last is None or end > last[0]:
                last = (end, name, number)


def _histories(log: Log) -> Iterator[Problem]:
    for purifier in log.purifiers.values():
        for number, event in enumerate(purifier.record.history):
            if isinstance(event, Rest) and event.until < event.date:
                yield _before(
                    purifier.at("history", number, "until"),
                    f"the rest ends ({event.until:%Y-%m-%d}) before it begins",
                    purifier.at("history", number, "date"),
                )
        dates = [event.date for event in purifier.record.history]
        yield from _in_order(dates, [purifier.at("history", number, "date") for number in range(len(dates))])
    for tank in log.tanks.values():
        dates = [event.date for event in tank.record.history]
        yield from _in_order(dates, [tank.at("history", number, "date") for number in range(len(dates))])
    for series in log.prices.values():
        days = [point.date for point in series.record.series]
        yield from _in_order(days, [series.at("series", number, "date") for number in range(len(days))])


def _in_order(dates: Sequence[date | datetime], places: Sequence[Place]) -> Iterator[Problem]:
    for number in range(1, len(dates)):
        if dates[number] < dates[number - 1]:
            yield _before(
                places[number],
                f"{_written(dates[number])} stands below the later {_written(dates[number - 1])}",
                places[number - 1],
            )


def _written(moment: date | datetime) -> str:
    """A day, with its hour where one was given."""
    timed = isinstance(moment, datetime) and moment.time() != time(0)
    return f"{moment:%Y-%m-%d %H:%M}" if timed else f"{moment:%Y-%m-%d}"
