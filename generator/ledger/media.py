"""What media cost each run: booked once, with what was known that day, and trued up when the charge is unloaded.

A charge is spread over the fuel it is expected to treat. What was booked is never restated: where a charge treated more
or less than was expected, the difference is a correction of its own, dated by the unloading.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal
from statistics import median

from generator.formulas.columns import share_pct
from generator.formulas.economics import cost_per_l, media_cost
from generator.ledger.batch_facts import known
from generator.ledger.charges import Charge, Columns, Run

LEAST_SHARE_PCT = 10.0
FINISHED, SAID, BY_SOAP, TREATED = (
    "median of the finished charges of this medium",
    "what the maker expects",
    "its own soap so far against the capacity",
    "what it treated",
)


@dataclass(frozen=True, slots=True)
class Booking:
    """The share of one run in the cost of its charge and in its medium; None is unknown."""

    litres: float | None
    amount: float | None
    medium_kg: float | None


@dataclass(frozen=True, slots=True)
class Spread:
    """The cost of one charge: all of it, over which fuel and why, what was booked, what unloading corrected."""

    cost: float | None
    expected_l: float | None
    basis: str | None
    bookings: tuple[Booking, ...]
    correction: float | None

    @property
    def per_l(self) -> float | None:
        """Cost over the fuel treated, or expected while in service."""
        return known(cost_per_l, self.cost, self.expected_l or None)


def cost_of(charge: Charge, unit_costs: Mapping[str, Decimal | None]) -> Decimal | None:
    """What the medium of a charge cost; None where its lot or the lot's price is not written."""
    unit = unit_costs.get(charge.pack.lot) if charge.pack.lot is not None else None
    return unit * charge.pack.mass.exact if unit is not None else None


def spreads(columns: Columns, unit_costs: Mapping[str, Decimal | None]) -> dict[str, Spread]:
    """The cost of every charge over its runs, by id."""
    lives = _Lives(columns)
    return {charge.id: _spread(charge, cost_of(charge, unit_costs), lives) for charge in columns.charges}


class _Lives:
    """The fuel that finished charges treated per kilogram of their medium, by the day they were unloaded."""

    def __init__(self, columns: Columns) -> None:
        self.found: dict[str, list[tuple[datetime, float]]] = {}  # litres per kilogram of medium
        for charge in sorted(columns.charges, key=lambda one: (one.unloaded or datetime.max, one.id)):
            if charge.unloaded is not None and charge.fuel_l:
                per_kg = charge.fuel_l / charge.pack.mass.value
                self.found.setdefault(charge.pack.medium, []).append((charge.unloaded, per_kg))
        self.medians: dict[tuple[str, int], float] = {}

    def before(self, charge: Charge, moment: datetime) -> float | None:
        """The fuel a charge would treat by the median of those unloaded before a moment, L."""
        medium = charge.pack.medium
        lives = self.found.get(medium, [])
        count = bisect_left(lives, moment, key=lambda life: life[0])
        if count and (medium, count) not in self.medians:
            self.medians[medium, count] = median(per_kg for _, per_kg in lives[:count])
        return known(
            lambda per_kg, kg: per_kg * kg, self.medians.get((medium, count)), charge.pack.mass.value
        )


def _spread(charge: Charge, cost: Decimal | None, lives: _Lives) -> Spread:
    whole = float(cost) if cost is not None else None
    lives_l = _expected_at_runs(charge, lives)
    costs, masses = _shared(whole, charge, lives_l), _shared(charge.pack.mass.value, charge, lives_l)
    booked = [Booking(run.fed_l, cost, kg) for run, cost, kg in zip(charge.runs, costs, masses, strict=True)]
    booked_all = known(lambda *amounts: sum(amounts), *costs)
    rest = known(lambda all_of_it, charged: all_of_it - charged, whole, booked_all)
    expected, basis = _now(charge, lives)
    return Spread(
        cost=whole,
        expected_l=expected,
        basis=basis,
        bookings=tuple(booked),
        correction=rest if charge.unloaded is not None else None,
    )


def _shared(whole: float | None, charge: Charge, lives_l: Sequence[float | None]) -> list[float | None]:
    """A cost or a mass of a charge over its runs, by litres; one that outlives what was expected has been paid."""
    found, rest = [], whole
    for run, litres in zip(charge.runs, lives_l, strict=True):
        amount = known(media_cost, known(cost_per_l, whole, litres or None), run.fed_l)
        if amount is not None and rest is not None:
            amount = min(amount, rest)
            rest -= amount
        found.append(amount)
    return found


def _expected_at_runs(charge: Charge, lives: _Lives) -> list[float | None]:
    """The fuel that was expected at each run; where nothing was known, the first figure that became known."""
    treated: float | None = 0.0
    expected: list[float | None] = []
    for run in charge.runs:
        treated = known(lambda before, litres: before + litres, treated, run.fed_l)
        expected.append(_expected_l(charge, run, treated, lives)[0])
    later = charge.fuel_l if charge.unloaded is not None else None
    for place in reversed(range(len(expected))):
        later = expected[place] = expected[place] if expected[place] is not None else later
    return expected


def _now(charge: Charge, lives: _Lives) -> tuple[float | None, str | None]:
    """The fuel a charge is spread over today: what it treated, once it was unloaded."""
    treated = charge.fuel_l
    if treated is None:
        return None, None
    if charge.unloaded is not None:
        return treated, TREATED
    last = charge.runs[-1] if charge.runs else None
    usual = lives.before(charge, datetime.max)
    expected, basis = _expected_l(charge, last, treated, lives) if usual is None else (usual, FINISHED)
    return (max(expected, treated), basis) if expected is not None else (None, None)


def _expected_l(
    charge: Charge, run: Run | None, treated_l: float | None, lives: _Lives
) -> tuple[float | None, str | None]:
    """The fuel a charge will treat by what was known at a run, and what says so."""
    moment = run.start if run is not None else charge.packed
    usual = lives.before(charge, moment)
    if usual is not None:
        return usual, FINISHED
    if charge.pack.expected is not None:
        return charge.pack.expected.value, SAID
    share = known(share_pct, run.load_g if run is not None else None, charge.capacity_g("soap"))
    if share is None or treated_l is None or share < LEAST_SHARE_PCT:
        return None, None
    return max(treated_l * 100 / share, treated_l), BY_SOAP
