"""A checked log -> results: every ledger folded once, every table filled."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from typing import Any

from generator.compute import (
    batches,
    bridge,
    columns,
    columns_ahead,
    costs,
    coverage,
    dips,
    drift,
    inventory,
    lots,
    offers,
    quality,
    tanks,
    traces,
    trends,
    vats,
)
from generator.compute import stock as stock_of
from generator.compute.frames import frame
from generator.compute.reports import attached
from generator.compute.results import Names, Results
from generator.compute.score import came_of
from generator.compute.working import working
from generator.compute.written import written
from generator.kept import APART, Gathered
from generator.language import tell, term
from generator.ledger.editions import in_force, standards
from generator.ledger.ledgers import Ledgers
from generator.ledger.sheet import to_weigh
from generator.log import Entry, Log
from generator.tables import CHANGES


def tally(ledgers: Ledgers, before: Gathered = APART) -> Results:
    """Compute everything the site shows; what is dear and in `before` is not reckoned again."""
    log, facts = ledgers.log, ledgers.facts
    lines = ledgers.columns
    results = _settings(log)
    frames = results.frames
    found = batches.batches(log, facts, lines, ledgers.media, before)
    frames["batches"], results.budgets, results.explained = found.frame, found.budgets, found.explained
    frames["charges"] = columns.charges(ledgers)
    frames["what_if"] = columns_ahead.what_ifs(ledgers)
    frames["coming"] = columns_ahead.coming(ledgers)
    frames["events"] = columns.events(ledgers)
    frames["runs"] = columns.runs(ledgers)
    frames["tests"] = quality.tests(log, frames["batches"])
    frames["standing"] = quality.standing(log, frames["tests"])
    frames["coverage"] = coverage.coverage(
        frames["tests"], frames["standing"], [entry.id for entry in log.batches_in_time()]
    )
    frames["agreement"] = coverage.agreement(frames["tests"])
    frames["due"] = coverage.due(ledgers)
    frames["stored"] = coverage.stored_fuel(ledgers, frames["tests"])
    frames["limits"] = quality.limits(log)
    followed = drift.drift(ledgers)
    frames["drift"], frames["pieces"] = followed.points, followed.pieces
    frames["costs"] = costs.costs_of(ledgers)
    frames["overheads"] = costs.overheads_of(ledgers)
    frames["bridge"] = bridge.bridges(ledgers, frames["costs"])
    frames["stock"] = stock_of.stock(ledgers)
    frames["inventory"] = inventory.inventory(ledgers)
    frames["vats"] = vats.vats(ledgers, frames["batches"])
    frames["trends"] = trends.trends(frames["costs"])
    frames["lots"] = lots.lots(ledgers, frames["batches"], frames["costs"])
    judged = offers.judged(ledgers, frames["costs"], ledgers.oil_store, before)
    results.judged = {one.entry.id: one for one in judged}
    came = came_of(ledgers, frames["lots"], frames["costs"])
    frames["offers"] = offers.offers(results.judged.values(), came)
    frames["offer_beds"] = columns_ahead.offered(ledgers, frames["offers"])
    frames |= traces.traced(ledgers)
    frames["changes"] = frame(CHANGES, [])  # what git remembers is laid in by the build
    frames["tanks"] = tanks.tanks(ledgers.tanks)
    frames["dips"] = dips.dips(log.tanks, ledgers.tanks)
    results.names = Names(_names(log.materials), _names(log.tanks), _names(log.purifiers))
    results.written = {name: written(log, entry.record) for name, entry in log.batches.items()}
    results.worked = {name: working(log, entry.record, facts[name]) for name, entry in log.batches.items()}
    results.planned = [to_weigh(log, entry) for entry in log.planned_in_time()]
    results.pages = dict(log.pages)
    results.attached = attached(log)
    return results


def _names(entries: Mapping[str, Entry[Any]]) -> dict[str, str]:
    return {name: entry.record.name for name, entry in entries.items() if entry.record.name is not None}


def _settings(log: Log) -> Results:
    settings = log.settings
    editions, days = standards(log), [entry.record.date for entry in log.batches.values()]
    chosen = in_force(editions, max(days, default=log.now()))  # of the newest batch: no private day moves it
    target = settings.target_cost
    lines = settings.thresholds
    return Results(
        title=settings.title,
        notice=settings.notice,
        as_of=log.now().isoformat() if log.now() > date.min else tell("no day yet"),
        as_of_basis=term("the latest date in the logbook")
        if log.as_of is None
        else term("the day that was asked for"),
        currency=settings.currency,
        display=settings.display.model_dump(),
        reference_c=log.reference_c,
        specification=chosen.name if chosen is not None else "",
        specification_source=chosen.source if chosen is not None else "",
        instruments={name: value.text for name, value in settings.instruments},
        target_per_l=float(target.amount / target.per.factor)
        if target is not None and target.per is not None
        else None,
        ffa_as=settings.ffa_as,
        address=settings.address,
        locale=settings.locale,
        theme={"light": settings.theme.light.own(), "dark": settings.theme.dark.own()},
        thresholds={
            "water": lines.water.value if lines.water else None,
            "acid value": lines.acid_value.value if lines.acid_value else None,
        },
    )
