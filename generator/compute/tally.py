"""A checked log -> results: every ledger folded once, every table filled when it is asked for."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import date
from functools import cache, partial
from typing import Any

import pandas as pd

from generator.compute import (
    acid_yield,
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
from generator.compute.names import Names
from generator.compute.reports import attached
from generator.compute.results import Results
from generator.compute.score import came_of
from generator.compute.when_asked import WhenAsked
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
    """Everything the site shows, each part computed when it is asked for; what is dear and in `before` is not reckoned again."""
    log, facts = ledgers.log, ledgers.facts
    results = _settings(log)
    found = batches.batches(log, facts, ledgers.columns, ledgers.media, before)
    judged = offers.judged(ledgers, lambda: results.frames["costs"], before)
    results.frames = _tables(ledgers, found.frame, judged, before)
    results.budgets, results.explained, results.judged = found.budgets, found.explained, judged
    results.names = Names(_names(log.materials), _names(log.tanks), _names(log.purifiers))
    results.written = WhenAsked(
        {name: partial(written, log, entry.record) for name, entry in log.batches.items()}
    )
    results.worked = WhenAsked(
        {name: partial(working, log, entry.record, facts[name]) for name, entry in log.batches.items()}
    )
    results.planned = [to_weigh(log, entry) for entry in log.planned_in_time()]
    results.pages = dict(log.pages)
    results.attached = attached(log)
    return results


def _tables(
    ledgers: Ledgers, of_batches: pd.DataFrame, judged: Mapping[str, offers.Judged], before: Gathered
) -> WhenAsked[pd.DataFrame]:
    log = ledgers.log
    names = [entry.id for entry in log.batches_in_time()]
    followed, traced = cache(partial(drift.drift, ledgers)), cache(partial(traces.traced, ledgers))
    frames: WhenAsked[pd.DataFrame] = WhenAsked(
        {
            "batches": lambda: of_batches,
            "charges": lambda: columns.charges(ledgers, before),
            "what_if": lambda: columns_ahead.what_ifs(ledgers),
            "coming": lambda: columns_ahead.coming(ledgers),
            "events": lambda: columns.events(ledgers),
            "runs": lambda: columns.runs(ledgers),
            "tests": lambda: quality.tests(log, of_batches),
            "standing": lambda: quality.standing(log, frames["tests"]),
            "coverage": lambda: coverage.coverage(frames["tests"], frames["standing"], names),
            "agreement": lambda: coverage.agreement(frames["tests"]),
            "due": lambda: coverage.due(ledgers),
            "stored": lambda: coverage.stored_fuel(ledgers, frames["tests"]),
            "limits": lambda: quality.limits(log),
            "drift": lambda: followed().points,
            "pieces": lambda: followed().pieces,
            "costs": lambda: costs.costs_of(ledgers),
            "overheads": lambda: costs.overheads_of(ledgers),
            "bridge": lambda: bridge.bridges(ledgers, frames["costs"]),
            "stock": lambda: stock_of.stock(ledgers),
            "inventory": lambda: inventory.inventory(ledgers),
            "vats": lambda: vats.vats(ledgers, of_batches),
            "trends": lambda: trends.trends(frames["costs"]),
            "acid_yield": lambda: acid_yield.acid_yield(ledgers),
            "acid_slopes": lambda: acid_yield.acid_slopes(frames["acid_yield"]),
            "lots": lambda: lots.lots(ledgers, of_batches, frames["costs"]),
            "offers": lambda: offers.offers(
                judged.values(), came_of(ledgers, frames["lots"], frames["costs"])
            ),
            "offer_beds": lambda: columns_ahead.offered(ledgers, frames["offers"]),
            **{name: partial(_of, traced, name) for name in traces.TRACED},
            "changes": lambda: frame(CHANGES, []),  # what git remembers is laid in by the build
            "tanks": lambda: tanks.tanks(ledgers.tanks),
            "dips": lambda: dips.dips(log.tanks, ledgers.tanks),
        }
    )
    return frames


def _of(made: Callable[[], Mapping[str, pd.DataFrame]], name: str) -> pd.DataFrame:
    return made()[name]


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
