"""How long a bed will last: its capacity less what it holds, over what a batch brings, as ranges.

A range has three figures: low, middle, high; the middle is an estimate and never a verdict. What a batch brings is taken
from the last runs in the same place of the same line. Nothing here reaches beyond the feeds and flows that were seen.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from itertools import pairwise
from statistics import median, quantiles

from generator.formulas.columns import taken_up_g
from generator.ledger.capacity import Capacity
from generator.ledger.charges import Charge, Columns, Run
from generator.ledger.interval import Range
from generator.log import Log

RECENT = 10  # runs that speak for the next ones
LEAST = 3
LOWER_MG_PER_KG = (0.0, 100.0, 250.0, 500.0)
QUARTILES_FROM = 5
MOST_DAYS = 3650.0  # beyond ten years a date says nothing


@dataclass(frozen=True, slots=True)
class Forecast:
    """What is left of one ledger of a bed in service; None is unknown."""

    capacity: Capacity | None
    left_g: Range | None
    per_batch_g: Range | None
    batches: Range | None
    litres: Range | None
    until: tuple[date, date, date | None] | None
    planned: int
    planned_g: float | None
    glycerol_batches: float | None
    recent: tuple[Run, ...]


def forecasts(log: Log, columns: Columns, capacities: dict[str, Capacity | None]) -> dict[str, Forecast]:
    """The soap ledger of every bed in service, by charge."""
    places: dict[tuple[str, int], list[Run]] = {}
    for one in columns.passes:
        for run in one.runs:
            places.setdefault((one.purifier, run.place), []).append(run)
    paces = {name: pace_days(columns, name) for name in log.purifiers}
    return {
        charge.id: _forecast(log, charge, capacities.get(charge.id), places, paces[charge.purifier])
        for charge in columns.in_service()
    }


@dataclass(frozen=True, slots=True)
class WhatIf:
    """A bed in service, were the feed lower by so much soap: batches and fuel left, and the fuel of a whole life."""

    lower_mg_per_kg: float
    batches: Range | None
    litres: Range | None
    life_l: float | None


def what_if(charge: Charge, forecast: Forecast) -> list[WhatIf]:
    """What settling longer would be worth to a bed that takes the bulk of the soap: all of the difference is its own.

    Nothing for a bed that stands behind another, to which the difference does not come.
    """
    if charge.place > 0 or forecast.capacity is None or forecast.left_g is None:
        return []
    recent = [
        (run.estimate_g, run.fed_kg, run.fed_l)
        for run in forecast.recent
        if run.estimate_g is not None and run.fed_kg and run.fed_l
    ]
    found = []
    for lower in LOWER_MG_PER_KG:
        loads = [(grams - taken_up_g(lower, 0.0, kg), litres) for grams, kg, litres in recent]
        if not loads or min(load for load, _ in loads) <= 0:
            break  # the feeds had no more than that
        per_batch = spread_of([load for load, _ in loads])
        per_l = spread_of([load / litres for load, litres in loads])
        assert per_batch is not None and per_l is not None
        found.append(
            WhatIf(
                lower,
                forecast.left_g.over(per_batch),
                forecast.left_g.over(per_l),
                forecast.capacity.grams.middle / per_l.middle,
            )
        )
    return found


def _forecast(
    log: Log,
    charge: Charge,
    capacity: Capacity | None,
    places: dict[tuple[str, int], list[Run]],
    pace: Range | None,
) -> Forecast:
    recent = recent_runs(charge, places.get((charge.purifier, charge.place), []))
    per_batch = spread_of([run.estimate_g for run in recent if run.estimate_g is not None])
    per_l = spread_of(
        [run.estimate_g / run.fed_l for run in recent if run.estimate_g is not None and run.fed_l]
    )
    left = left_of(charge, capacity)
    batches = left.over(per_batch) if left is not None and per_batch is not None else None
    planned = planned_for(log, charge.purifier)
    return Forecast(
        capacity=capacity,
        left_g=left,
        per_batch_g=per_batch,
        batches=batches,
        litres=left.over(per_l) if left is not None and per_l is not None else None,
        until=_until(charge, batches, pace),
        planned=planned,
        planned_g=planned * per_batch.middle if per_batch is not None else None,
        glycerol_batches=_glycerol_batches(charge, recent),
        recent=tuple(recent),
    )


def left_of(charge: Charge, capacity: Capacity | None) -> Range | None:
    """Capacity less what is held, g; never below nothing."""
    soap = charge.soap
    if capacity is None or soap.estimate is None or soap.low is None:
        return None
    held_most = soap.high if soap.high is not None else soap.estimate
    return Range(
        max(capacity.grams.low - held_most, 0.0),
        max(capacity.grams.middle - soap.estimate, 0.0),
        max(capacity.grams.high - soap.low, 0.0),
    )


def _glycerol_batches(charge: Charge, recent: Sequence[Run]) -> float | None:
    """Batches until its glycerol ledger is full, by the inlet content assumed."""
    per_batch = spread_of([run.glycerol_g for run in recent if run.glycerol_g])
    capacity, held = charge.capacity_g("glycerol"), charge.glycerol.estimate
    if per_batch is None or capacity is None or held is None:
        return None
    return max(capacity - held, 0.0) / per_batch.middle


def recent_runs(charge: Charge, same_place: Sequence[Run]) -> list[Run]:
    """The last runs of this bed where it stands now; where these are few, the last of any bed in that place."""
    own = [run for run in charge.runs if run.place == charge.place][-RECENT:]
    return own if len(own) >= LEAST else list(same_place)[-RECENT:]


def spread_of(values: Sequence[float]) -> Range | None:
    """The median with the quartiles; with the least and the most where there are too few for these."""
    if not values:
        return None
    if len(values) < QUARTILES_FROM:
        return Range(min(values), median(values), max(values))
    low, middle, high = quantiles(values, n=4)
    return Range(low, middle, high)


def pace_days(columns: Columns, purifier: str) -> Range | None:
    """Days from one batch to the next through a purifier, of the last ones."""
    days = sorted({one.start.date() for one in columns.passes if one.purifier == purifier})[-RECENT - 1 :]
    return spread_of([float((after - before).days) for before, after in pairwise(days)])


def planned_for(log: Log, purifier: str) -> int:
    """Planned batches that name this purifier, or any, where there is no other."""
    only = len(log.purifiers) == 1
    plans = [entry.record.plan for entry in log.planned.values()]
    return sum(
        plan is not None and (plan.purifier or (purifier if only else None)) == purifier for plan in plans
    )


def _until(
    charge: Charge, batches: Range | None, pace: Range | None
) -> tuple[date, date, date | None] | None:
    """The days on which it is used up at the recent pace, counted from its last run."""
    if batches is None or pace is None or not charge.runs:
        return None
    last = charge.runs[-1].start.date()
    low, middle, high = batches.low * pace.low, batches.middle * pace.middle, batches.high * pace.high
    if middle >= MOST_DAYS:
        return None
    first, usual = (last + timedelta(days=int(days)) for days in (low, middle))
    return first, usual, last + timedelta(days=int(high)) if high < MOST_DAYS else None
