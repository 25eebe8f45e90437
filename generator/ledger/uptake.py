"""What a bed took up in a run, from the samples there are: exact, bounded, or filled with what is usual for it."""

from __future__ import annotations

from statistics import median

from generator.formulas.columns import taken_up_g
from generator.ledger.charges import Charge
from generator.ledger.interval import Interval
from generator.ledger.soap import Soap


def interval_of(result: Soap | None) -> Interval | None:
    """A soap result as an interval; None where nothing bounds it from above, as without a sample."""
    if result is None or result.high_mg_per_kg is None:
        return None
    return Interval(result.low_mg_per_kg, result.high_mg_per_kg)


def nearest_samples(points: list[Interval | None], place: int) -> Interval | None:
    """The most a bed can have taken: from the nearest sample before it to the nearest behind it."""
    before = next((point for point in reversed(points[: place + 1]) if point is not None), None)
    behind = next((point for point in points[place + 1 :] if point is not None), None)
    return before.minus(behind) if before is not None and behind is not None else None


def taken(
    ends: Interval | None, inlet: Interval | None, outlet: Interval | None, kg: float | None
) -> Interval | None:
    """What the bed took, g: from its own samples, or from nothing to all where only samples further off bound it."""
    if kg is None or ends is None:
        return None
    whole = Interval(taken_up_g(ends.low, 0.0, kg), taken_up_g(ends.high, 0.0, kg))
    return whole if inlet is not None and outlet is not None else Interval(0.0, whole.high)


def glycerol_g(charge: Charge, kg: float | None) -> float | None:
    """Glycerol that stays in the bed, from the inlet content the maker assumes; zero where no such ledger is kept."""
    if not any(row.of == "glycerol" for row in (charge.medium.ledgers if charge.medium else ())):
        return 0.0
    inlet = charge.vessel.glycerol_inlet
    return taken_up_g(inlet.value, 0.0, kg) if inlet is not None and kg is not None else None


def estimate(charge: Charge) -> None:
    """Fill runs without samples with the median of the measured ones; add up the load run by run.

    A charge without any measured run has nothing to fill with: its load is unknown from the first such run on.
    """
    measured = [run.soap_g.middle for run in charge.runs if run.is_measured and run.soap_g is not None]
    usual = median(measured) if measured else None
    load: float | None = 0.0
    for run in charge.runs:
        if run.soap_g is None:
            run.estimate_g = usual
        elif run.is_measured:
            run.estimate_g = run.soap_g.middle
        else:
            fallback = run.soap_g.high if run.position == "lead" else run.soap_g.low
            run.estimate_g = run.soap_g.held(usual if usual is not None else fallback)
        load = load + run.estimate_g if load is not None and run.estimate_g is not None else None
        run.load_g = load
