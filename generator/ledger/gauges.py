"""Pressures of one run: the highest inlet of each vessel, and what the fuel lost across its bed."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from generator.records import GaugeReading


@dataclass(frozen=True, slots=True)
class Gauged:
    """Inlet pressure, drop across the bed, and the temperature of the fuel at that reading; None was not read."""

    inlet_kpa: float | None = None
    drop_kpa: float | None = None
    at_c: float | None = None


def gauged(readings: Sequence[GaugeReading], line: Sequence[str]) -> dict[str, Gauged]:
    """By vessel in line, its highest reading, and the largest drop to the next gauge read after as much fuel.

    Behind the last vessel the fuel runs out at the pressure of the air, from which gauges count.
    """
    inlets: dict[tuple[str, float], float] = {}
    for reading in readings:
        inlets[reading.vessel, reading.after.value] = reading.inlet.value
    out = {}
    for place, vessel in enumerate(line):
        own = [reading for reading in readings if reading.vessel == vessel]
        highest = max(own, key=lambda reading: reading.inlet.value, default=None)
        behind = line[place + 1] if place + 1 < len(line) else None
        drops = []
        for reading in own:
            outlet = 0.0 if behind is None else inlets.get((behind, reading.after.value))
            if outlet is not None:
                drops.append((reading.inlet.value - outlet, reading.temperature))
        drop, warm = max(drops, key=lambda pair: pair[0], default=(None, None))
        out[vessel] = Gauged(
            inlet_kpa=highest.inlet.value if highest is not None else None,
            drop_kpa=drop,
            at_c=warm.value if warm is not None else None,
        )
    return out
