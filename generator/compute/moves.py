"""What an open offer would be worth on other terms: acid value and water in steps, prices as planes.

Every figure of a step is reckoned in `worth`. Money is linear in the price asked and in the price of diesel, so three
reckonings give a plane that holds for any of both; a test holds planes against reckonings. Between steps nothing is told.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from typing import Any

from generator.compute.offers import Judged
from generator.compute.worth import OnOffer, Terms, Worth
from generator.ledger.batch_facts import known
from generator.units import Unit

ACID_STEP = 0.2
ACID_TOP, ACID_MOST = 8.0, 20.0
WATERS = (0, 250, 500, 750, 1000, 1250, 1500, 2000, 3000, 5000, 10_000, 20_000, 50_000, 100_000)
FEW = 5  # a table shows each fifth step


@dataclass(frozen=True, slots=True)
class Plane:
    """An amount of money: at zero, and what it grows by with the price asked and with the price of a litre of diesel."""

    at_zero: float
    per_asked: float
    per_diesel: float


@dataclass(frozen=True, slots=True)
class Step:
    """What holds at one acid value and water. Costs and saving per litre of fuel, the other two per unit of the price asked."""

    dose_g_per_l: float | None
    fuel_l: tuple[float | None, float | None, float | None]
    yield_basis: str
    advice: str | None
    unknown: str | None
    cost_low: Plane | None
    cost: Plane | None
    cost_high: Plane | None
    saving: Plane | None
    highest: Plane | None
    highest_at_pump: Plane | None
    room: Plane | None


@dataclass(frozen=True, slots=True)
class Moves:
    """The steps of one offer; `at` holds the place of the step of each acid value and water, water running first.

    `acids` and `waters` begin with None where they were not tested; `start` is where the offer stands.
    """

    offer: str
    acids: tuple[float | None, ...]
    waters: tuple[float | None, ...]
    start: tuple[int, int]
    terms: Terms
    per: Unit | None
    steps: tuple[Step, ...]
    at: tuple[int, ...]
    by_acid: tuple[dict[str, Any], ...]
    by_water: tuple[dict[str, Any], ...]


def moves_of(one: Judged) -> Moves:
    """The steps of an offer, the one it stands at among them."""
    held = one.on_offer
    terms = held.terms()
    acids, waters = _acids(held, terms.acid_value_mg_koh_per_g), _with(WATERS, terms.water_mg_per_kg)
    steps: dict[tuple[Any, ...], tuple[int, Step]] = {}  # waters that decide alike share a step
    at = []
    for acid, water in itertools.product(acids, waters):
        alike = acid, water is None, held.usable_l(water), held.is_wet(water)
        if alike not in steps:
            moved = replace(terms, acid_value_mg_koh_per_g=acid, water_mg_per_kg=water)
            steps[alike] = len(steps), _step(held, moved)
        at.append(steps[alike][0])
    start = acids.index(terms.acid_value_mg_koh_per_g), waters.index(terms.water_mg_per_kg)
    few = [acid for place, acid in enumerate(acids) if place == start[0] or _is_shown(acid)]
    return Moves(
        offer=one.entry.id,
        acids=acids,
        waters=waters,
        start=start,
        terms=terms,
        per=one.entry.record.asked.per,
        steps=tuple(step for _, step in steps.values()),
        at=tuple(at),
        by_acid=tuple(one.row(held.worth(replace(terms, acid_value_mg_koh_per_g=acid))) for acid in few),
        by_water=tuple(one.row(held.worth(replace(terms, water_mg_per_kg=water))) for water in waters),
    )


def _acids(held: OnOffer, own: float | None) -> tuple[float | None, ...]:
    """From none to twice the workshop's line, or well above what was found."""
    line = held.log.settings.thresholds.acid_value
    top = min(max(ACID_TOP, 2 * line.value if line is not None else 0.0, 1.5 * (own or 0.0)), ACID_MOST)
    count = math.ceil(round(max(top, own or 0.0) / ACID_STEP, 6))
    return _with(tuple(round(place * ACID_STEP, 1) for place in range(count + 1)), own)


def _with(steps: tuple[float, ...], own: float | None) -> tuple[float | None, ...]:
    """The steps with the offer's own value in its place; first of all where it has none."""
    return (None, *steps) if own is None else tuple(sorted({*steps, own}))


def _is_shown(acid: float | None) -> bool:
    return acid is not None and round(acid / ACID_STEP) % FEW == 0 and math.isclose(acid, round(acid))


def _step(held: OnOffer, terms: Terms) -> Step:
    none, asked, diesel = (
        held.worth(replace(terms, asked=price, diesel_per_l=pump))
        for price, pump in ((0.0, 0.0), (1.0, 0.0), (0.0, 1.0))
    )

    def plane(of: Callable[[Worth], float | None]) -> Plane | None:
        return _plane(of(none), of(asked), of(diesel))

    return Step(
        dose_g_per_l=none.dose_g_per_l,
        fuel_l=none.fuel_l,
        yield_basis=none.yield_basis,
        advice=none.advice,
        unknown=none.unknown,
        cost_low=plane(lambda worth: worth.cost_per_l[0]),
        cost=plane(lambda worth: worth.cost_per_l[1]),
        cost_high=plane(lambda worth: worth.cost_per_l[2]),
        saving=plane(lambda worth: worth.saving_per_l),
        highest=plane(lambda worth: held.as_asked(worth.highest_per_l)),
        highest_at_pump=plane(lambda worth: held.as_asked(worth.highest_at_pump_per_l)),
        room=plane(lambda worth: known(_room, held.as_asked(worth.highest_per_l), worth.terms.asked)),
    )


def _room(highest: float, asked: float) -> float:
    return highest - asked


def _plane(none: float | None, asked: float | None, diesel: float | None) -> Plane | None:
    if none is None or asked is None or diesel is None:
        return None
    return Plane(none, asked - none, diesel - none)


def planes(step: Step) -> Iterator[tuple[str, Plane | None]]:
    """The planes of a step by name."""
    for name in ("cost_low", "cost", "cost_high", "saving", "highest", "highest_at_pump", "room"):
        yield name, getattr(step, name)
