"""Pressure across the beds of a charge: carried to like flow and 20 °C, its rise, and the band of a clean bed."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from statistics import median

from generator.formulas.columns import flow_l_per_h, superficial_velocity_m_per_h
from generator.formulas.constants import DensityLine
from generator.formulas.hydraulics import bed_depth_m, ergun_kpa, fuel_viscosity_mpa_s, like_drop_kpa
from generator.language import tell
from generator.ledger.charges import Charge, Run
from generator.ledger.interval import Interval

FIRST_RUNS = LAST_RUNS = 3
FOULED = 2.0  # times the first runs; common practice, no source
VOID_BAND = (
    0.1  # of the void share, either way: what filling a bucket leaves open; common practice, no source
)
VISCOSITY_BAND = (0.77, 1.10)  # limits of EN 14214 at 40 °C over methyl oleate's 4.56 mm²/s; secondary copy


@dataclass(frozen=True, slots=True)
class Drops:
    """Drops of a charge by run, carried to like flow and 20 °C, kPa; the last over the first, whether that is fouling,
    and what is missing where it is not known.
    """

    like_kpa: tuple[float | None, ...]
    like_flow_l_per_h: float | None
    rise: float | None
    missing: str | None

    @property
    def fouled(self) -> bool:
        """Whether the drop has risen to twice the first runs'."""
        return self.rise is not None and self.rise >= FOULED


def drops_of(charge: Charge) -> Drops:
    """All drops of a charge at its own median flow. A run whose temperature was not read is left out."""
    flows = [flow_of(run) for run in charge.runs]
    known = [flow for flow in flows if flow is not None]
    like = median(known) if known else None
    carried = [_carried(run, flow, like) for run, flow in zip(charge.runs, flows, strict=True)]
    found = [drop for drop in carried if drop is not None]
    rise = _rise(found)
    return Drops(tuple(carried), like, rise, _missing(charge.runs, len(found)) if rise is None else None)


def _missing(runs: Sequence[Run], found: int) -> str | None:
    """What the rise of the drop lacks; nothing where no gauge was read at all."""
    read = sum(run.gauged.inlet_kpa is not None for run in runs)
    if not read:
        return None
    dropped = sum(run.gauged.drop_kpa is not None for run in runs)
    if not dropped:
        return tell("needs the next vessel's inlet, read after as much fuel as this one's")
    if not found:
        return tell(
            "needs the temperature of the fuel, beside the reading, and the volume and times of the run"
        )
    return tell("needs {least} runs with a drop, and has {found}", least=FIRST_RUNS + LAST_RUNS, found=found)


def flow_of(run: Run) -> float | None:
    """Mean flow of a run, L/h."""
    return flow_l_per_h(run.fed_l, run.hours) if run.fed_l and run.hours > 0 else None


def _carried(run: Run, flow: float | None, like: float | None) -> float | None:
    gauge = run.gauged
    if gauge.drop_kpa is None or gauge.at_c is None or flow is None or like is None:
        return None
    return like_drop_kpa(gauge.drop_kpa, flow, like, gauge.at_c)


def _rise(drops: Sequence[float]) -> float | None:
    """The last runs over the first; None where they would be the same ones."""
    if len(drops) < FIRST_RUNS + LAST_RUNS:
        return None
    first = median(drops[:FIRST_RUNS])
    return median(drops[-LAST_RUNS:]) / first if first > 0 else None


def clean_band_kpa(charge: Charge, flow: float | None, fuel: DensityLine) -> Interval | None:
    """The drop of a clean bed at a flow and 20 °C, kPa; None without particle, diameter of the vessel or flow."""
    medium, diameter = charge.medium, charge.vessel.diameter
    if medium is None or medium.particle is None or diameter is None or flow is None:
        return None
    sphericity = float(medium.sphericity) if medium.sphericity is not None else 1.0
    particle_mm = medium.particle.value * 10 * sphericity
    velocity = superficial_velocity_m_per_h(flow, diameter.value) / 3600
    depth, viscosity = bed_depth_m(charge.pack.bed.value, diameter.value), fuel_viscosity_mpa_s(20.0)
    void = float(medium.void)
    ends = [
        ergun_kpa(
            velocity,
            depth,
            particle_mm,
            min(void * (1 + sign * VOID_BAND), 0.99),
            fuel.at(20.0),
            viscosity * factor,
        )
        for sign, factor in ((1, VISCOSITY_BAND[0]), (-1, VISCOSITY_BAND[1]))
    ]
    return Interval(*ends)
