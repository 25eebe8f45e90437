"""What media cost each run: booked once, with what was known that day, and trued up when the charge is unloaded.

A charge is spread over the fuel it is expected to treat, and what a rinse or a regeneration used over as much fuel as the
bed had treated since the one before. What was booked is never restated: where a charge treated more or less than was
expected, the difference is a correction of its own, dated by the unloading.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal
from statistics import median

from generator.formulas.columns import share_pct
from generator.formulas.economics import cost_per_l, media_cost
from generator.ledger.batch_facts import known
from generator.ledger.charges import Charge, Run
from generator.ledger.passes import Columns
from generator.records import Use, day_of

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
    """The cost of one charge: its medium and what its rinses used, over which fuel and why, what was booked, what
    unloading corrected.
    """

    cost: float | None
    supplies: float | None
    treated_l: float | None
    expected_l: float | None
    basis: str | None
    bookings: tuple[Booking, ...]
    correction: float | None

    @property
    def per_l(self) -> float | None:
        """The medium over the fuel treated, or expected while in service, and what its rinses used over the fuel treated."""
        medium = known(cost_per_l, self.cost, self.expected_l or None)
        if self.supplies == 0:
            return medium
        return known(
            lambda one, other: one + other, medium, known(cost_per_l, self.supplies, self.treated_l or None)
        )


# What a unit of a lot cost, or an amount that was used of one: on a day, by whom it was drawn; None where it is unknown.
Unit = Callable[[str, date, str], Decimal | None]
Paid = Callable[[Use, date, str], Decimal | None]


def cost_of(charge: Charge, unit_cost: Unit) -> Decimal | None:
    """What the medium of a charge cost; None where its lot or the lot's price is not written."""
    lot, who = charge.pack.lot, f"{charge.purifier} {charge.pack.event}"
    unit = unit_cost(lot, day_of(charge.packed), who) if lot is not None else None
    return unit * charge.pack.mass.exact if unit is not None else None


def spreads(columns: Columns, unit_cost: Unit, taken_cost: Paid) -> dict[str, Spread]:
    """The cost of every charge over its runs, by id: its medium by the unit, and what its events used."""
    lives = _Lives(columns)
    return {
        charge.id: _spread(charge, cost_of(charge, unit_cost), taken_cost, lives)
        for charge in columns.charges
    }


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


def _spread(charge: Charge, cost: Decimal | None, taken_cost: Paid, lives: _Lives) -> Spread:
    whole = float(cost) if cost is not None else None
    lives_l = _expected_at_runs(charge, lives)
    supplies = list(_supplies(charge, taken_cost))
    costs = [_shared(whole, charge.runs, lives_l), *(each.shares for each in supplies)]
    amounts = [known(_added, *shares) for shares in zip(*costs, strict=True)]
    masses = _shared(charge.pack.mass.value, charge.runs, lives_l)
    used = known(_added, 0.0, *(each.cost for each in supplies))
    rest = known(
        lambda medium, other, booked: medium + other - booked, whole, used, known(_added, 0.0, *amounts)
    )
    expected, basis = _now(charge, lives)
    return Spread(
        cost=whole,
        supplies=used,
        treated_l=charge.fuel_l,
        expected_l=expected,
        basis=basis,
        bookings=tuple(
            Booking(run.fuel_l, *both) for run, *both in zip(charge.runs, amounts, masses, strict=True)
        ),
        correction=rest if charge.unloaded is not None else None,
    )


@dataclass(frozen=True, slots=True)
class _Supplies:
    """What one rinse or regeneration used: its cost, and the share of each run of the charge."""

    cost: float | None
    shares: list[float | None]


def _supplies(charge: Charge, taken_cost: Paid) -> Iterator[_Supplies]:
    """For every event that used something, over as much fuel as ran since the one before."""
    since = 0
    for reset in charge.resets:
        before, behind = charge.runs[since : reset.runs], charge.runs[reset.runs :]
        since = reset.runs
        if reset.used is None:
            continue
        paid = taken_cost(reset.used, day_of(reset.at), f"{charge.purifier} {reset.by}")
        cost = float(paid) if paid is not None else None
        litres = known(_added, 0.0, *(run.fuel_l for run in before)) or (behind[0].fuel_l if behind else None)
        shares = _shared(cost, behind, [litres] * len(behind))
        yield _Supplies(cost, [*([0.0] * reset.runs), *shares])


def _added(*amounts: float) -> float:
    return sum(amounts)


def _shared(whole: float | None, runs: Sequence[Run], lives_l: Sequence[float | None]) -> list[float | None]:
    """A cost or a mass over runs, by litres; one that outlives what was expected has been paid, known or not."""
    found: list[float | None] = []
    rest: float | None = 1.0
    for run, litres in zip(runs, lives_l, strict=True):
        share = 0.0 if rest == 0 else known(media_cost, known(cost_per_l, 1.0, litres or None), run.fuel_l)
        if share is not None and rest is not None:
            share = min(share, rest)
            rest -= share
        found.append(0.0 if share == 0 else known(lambda part, all_of_it: part * all_of_it, share, whole))
    return found


def _expected_at_runs(charge: Charge, lives: _Lives) -> list[float | None]:
    """The fuel that was expected at each run; where nothing was known, the first figure that became known."""
    treated: float | None = 0.0
    expected: list[float | None] = []
    for run in charge.runs:
        treated = known(lambda before, litres: before + litres, treated, run.fuel_l)
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
