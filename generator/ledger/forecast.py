"""How long a bed will last: its capacity less what it holds, over what a batch brings, as ranges.

A range has three figures: low, middle, high; the middle is an estimate and never a verdict. What a batch brings is what
the last ones left in a bed in the same place of the same line, all runs of a batch together. Nothing here reaches beyond the feeds and flows that were seen.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from itertools import pairwise
from statistics import median, quantiles

from generator.formulas.columns import taken_up_g
from generator.ledger.basis import amount, density_line
from generator.ledger.capacity import Capacity
from generator.ledger.charges import Charge, Run
from generator.ledger.interval import Range
from generator.ledger.passes import Columns
from generator.log import Log

RECENT = 10  # runs that speak for the next ones
LEAST = 3
LOWER_MG_PER_KG = (0.0, 100.0, 250.0, 500.0)
QUARTILES_FROM = 5
MOST_DAYS = 3650.0  # beyond ten years a date says nothing


@dataclass(frozen=True, slots=True)
class Brought:
    """What one batch left in a bed, g, in all its runs through it, and its fuel, counted once."""

    grams: float
    kg: float
    litres: float


@dataclass(frozen=True, slots=True)
class Coming:
    """A planned batch: its oil, L, taken for as much fuel, and what it will leave in a bed, g; None is unknown."""

    batch: str
    litres: float
    grams: Range | None


@dataclass(frozen=True, slots=True)
class Forecast:
    """What is left of one ledger of a bed in service, and what it rests on; None is unknown."""

    capacity: Capacity | None
    left_g: Range | None
    per_batch_g: Range | None
    batches: Range | None
    litres: Range | None
    until: tuple[date, date, date | None] | None
    coming: tuple[Coming, ...]
    glycerol_batches: float | None
    recent: tuple[Brought, ...]

    @property
    def coming_g(self) -> float | None:
        """What all planned batches will leave in it, g."""
        grams = [one.grams.middle for one in self.coming if one.grams is not None]
        return sum(grams) if grams else None


def forecasts(log: Log, columns: Columns, capacities: dict[str, Capacity | None]) -> dict[str, Forecast]:
    """The soap ledger of every bed in service, by charge."""
    places: dict[tuple[str, int], list[Run]] = {}
    for one in columns.passes:
        for run in one.runs:
            places.setdefault((one.purifier, run.place), []).append(run)
    paces = {name: pace_days(columns, name) for name in log.purifiers}
    today = log.as_of or max((one.start.date() for one in columns.passes), default=date.min)
    return {
        charge.id: _forecast(log, charge, capacities.get(charge.id), places, paces[charge.purifier], today)
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
    found = []
    for lower in LOWER_MG_PER_KG:
        loads = [(one.grams - taken_up_g(lower, 0.0, one.kg), one.litres) for one in forecast.recent]
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
    today: date,
) -> Forecast:
    runs = recent_runs(charge, places.get((charge.purifier, charge.place), []))
    recent = brought(runs)
    per_batch = _with_last([one.grams for one in recent])
    per_l = _with_last([one.grams / one.litres for one in recent])
    left = left_of(charge, capacity)
    batches = left.over(per_batch) if left is not None and per_batch is not None else None
    return Forecast(
        capacity=capacity,
        left_g=left,
        per_batch_g=per_batch,
        batches=batches,
        litres=left.over(per_l) if left is not None and per_l is not None else None,
        until=_until(charge, batches, pace, today),
        coming=tuple(
            Coming(name, litres, per_l.times(litres) if per_l is not None else None)
            for name, litres in planned_l(log, charge.purifier).items()
        ),
        glycerol_batches=_glycerol_batches(charge, runs),
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
    """The runs of the last batches through this bed where it stands now; where these are few, through any in that place."""
    own = _last_batches([run for run in charge.runs if run.place == charge.place])
    return own if len({run.batch for run in own}) >= LEAST else _last_batches(same_place)


def _last_batches(runs: Sequence[Run]) -> list[Run]:
    kept: list[str] = []
    for run in reversed(runs):
        if run.batch not in kept:
            kept.append(run.batch)
        if len(kept) > RECENT:
            kept.pop()
            break
    return [run for run in runs if run.batch in kept]


def brought(runs: Sequence[Run]) -> list[Brought]:
    """What each batch of these runs left, in their order; one of unknown load or volume tells nothing."""
    by_batch: dict[str, list[Run]] = {}
    for run in runs:
        by_batch.setdefault(run.batch, []).append(run)
    found = []
    for same in by_batch.values():
        grams = [run.estimate_g for run in same]
        fuel = [(run.fed_kg, run.fed_l) for run in same if not run.again]
        if fuel and None not in grams and all(kg and litres for kg, litres in fuel):
            kg, litres = sum(one or 0.0 for one, _ in fuel), sum(one or 0.0 for _, one in fuel)
            found.append(Brought(sum(one or 0.0 for one in grams), kg, litres))
    return found


def _with_last(values: Sequence[float]) -> Range | None:
    """The spread, reaching to the last one where that was more: a bed that lets more through shows there first."""
    found = spread_of(values)
    return Range(found.low, found.middle, max(found.high, values[-1])) if found is not None else None


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
    first: dict[str, date] = {}
    for one in columns.passes:
        if one.purifier == purifier:
            first.setdefault(one.batch, one.start.date())
    days = sorted(first.values())[-RECENT - 1 :]
    return spread_of([float((after - before).days) for before, after in pairwise(days)])


def planned_l(log: Log, purifier: str) -> dict[str, float]:
    """Oil of the planned batches that name this purifier, or any, where there is no other, L."""
    only = len(log.purifiers) == 1
    found: dict[str, float] = {}
    for entry in log.planned_in_time():
        plan = entry.record.plan
        if plan is not None and (plan.purifier or (purifier if only else None)) == purifier:
            oils = entry.record.oil
            found[entry.id] = sum(
                amount(log, one.amount, density_line(log, "oil", one.lot)).litres for one in oils
            )
    return found


def _until(
    charge: Charge, batches: Range | None, pace: Range | None, today: date
) -> tuple[date, date, date | None] | None:
    """The days on which it is used up at the recent pace, from its last run on; where that pace was left, from the last run of any."""
    if batches is None or pace is None or not charge.runs:
        return None
    last = max(charge.runs[-1].start.date(), today - timedelta(days=int(min(pace.middle, MOST_DAYS))))
    low, middle, high = batches.low * pace.low, batches.middle * pace.middle, batches.high * pace.high
    if middle >= MOST_DAYS:
        return None
    first, usual = (max(last + timedelta(days=int(days)), today) for days in (low, middle))
    return first, usual, max(last + timedelta(days=int(high)), today) if high < MOST_DAYS else None
