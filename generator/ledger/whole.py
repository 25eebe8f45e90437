"""Soap in the fuel of a batch as a whole: what came through the line, with what went round it or ran in another part.

The product sample tells of the fuel that leaves the last bed. Fuel that went round the line brings its soap into the
tank, and no sample shows it. Here both are put together by mass.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field

from generator.formulas.columns import content_mg_per_kg, taken_up_g
from generator.ledger.charges import MEASURED
from generator.ledger.interval import Interval
from generator.ledger.passes import Pass
from generator.ledger.usual import points_of

SAME = 0.02  # share by which two volumes of the same fuel may differ


@dataclass(frozen=True, slots=True)
class Whole:
    """The fuel of one batch, kg; its soap, mg/kg, None where a part is not known; what of it met no bed, kg."""

    kg: float
    soap: Interval | None
    round_kg: float


def wholes(passes: Iterable[Pass]) -> dict[str, Whole]:
    """By batch; one whose fuel is of unknown volume is left out."""
    by_batch: dict[str, list[Pass]] = {}
    for one in passes:
        by_batch.setdefault(one.batch, []).append(one)
    found = {name: _whole(sorted(runs, key=lambda one: one.number)) for name, runs in by_batch.items()}
    return {name: whole for name, whole in found.items() if whole is not None}


def fed_again(before: list[Pass], kg: float | None) -> Interval | None:
    """The soap of fuel that is fed once more, untitrated: of what went round, where that is all of it, else of the whole."""
    fuel = _through(before)
    if fuel is None or kg is None:
        return None
    return _mixed(fuel.past.parts) if fuel.past.is_meant(kg, None) else _mixed(fuel.all)


def _whole(runs: list[Pass]) -> Whole | None:
    fuel = _through(runs)
    kg = sum(mass for mass, _ in fuel.all) if fuel is not None else 0.0
    return Whole(kg, _mixed(fuel.all), fuel.past.kg) if fuel is not None and kg else None


def _through(runs: list[Pass]) -> _Fuel | None:
    """The fuel of a batch behind these runs; None where a volume is unknown."""
    fuel = _Fuel()
    for one in runs:
        if one.fed_kg is None or one.round_kg is None:
            return None
        product = points_of(one)[-1]
        feed = one.feed if one.feed_basis == MEASURED else None
        if not one.again:
            fuel.parts.append((one.fed_kg, product))
            fuel.past.add(one.round_kg, feed)
        elif fuel.past.is_meant(one.fed_kg, feed):
            fuel = _Fuel([*fuel.parts, (fuel.past.kg, product)])
        else:  # of what the fuel holds by now, this much less
            fuel = _Fuel([_cleaned(fuel.all, one.fed_kg, feed, product)])
    return fuel


class _Past:
    """Fuel that went round the line and was not sent through since."""

    def __init__(self) -> None:
        self.parts: list[tuple[float, Interval | None]] = []

    @property
    def kg(self) -> float:
        return sum(mass for mass, _ in self.parts)

    def add(self, kg: float, feed: Interval | None) -> None:
        if kg:
            self.parts.append((kg, feed))

    def is_meant(self, kg: float, feed: Interval | None) -> bool:
        """Whether a run of fuel that is fed again is all of this fuel, by its volume and its soap."""
        own = _mixed(self.parts)
        alike = feed is None or own is None or (feed.low <= own.high and own.low <= feed.high)
        return bool(self.parts) and alike and abs(kg - self.kg) <= SAME * self.kg


@dataclass(slots=True)
class _Fuel:
    """The parts of a batch's fuel, kg and mg/kg: what ran through, and what went round and was not sent through since."""

    parts: list[tuple[float, Interval | None]] = field(default_factory=list)
    past: _Past = field(default_factory=_Past)

    @property
    def all(self) -> list[tuple[float, Interval | None]]:
        return [*self.parts, *self.past.parts]


def _mixed(parts: list[tuple[float, Interval | None]]) -> Interval | None:
    total, kg = Interval(0.0, 0.0), sum(mass for mass, _ in parts)
    for mass, soap in parts:
        if soap is None:
            return None
        total = total.plus(_grams(soap, mass))
    return _content(total, kg) if kg else None


def _cleaned(
    parts: list[tuple[float, Interval | None]],
    again_kg: float,
    feed: Interval | None,
    product: Interval | None,
) -> tuple[float, Interval | None]:
    """Fuel of which some was sent through once more: all of it, or by what the beds took out of that part."""
    kg = sum(mass for mass, _ in parts)
    if again_kg >= kg * (1 - SAME):
        return kg, product
    before = _mixed(parts)
    if before is None or product is None:
        return kg, None
    took = _grams((feed or before).minus(product), again_kg)
    return kg, _content(_grams(before, kg).minus(took), kg)


def _grams(soap: Interval, kg: float) -> Interval:
    return Interval(taken_up_g(soap.low, 0.0, kg), taken_up_g(soap.high, 0.0, kg))


def _content(grams: Interval, kg: float) -> Interval:
    return Interval(content_mg_per_kg(grams.low, kg), content_mg_per_kg(grams.high, kg))
