"""Readings as numbers that carry their standard uncertainty, and what comes out: the uncertainty of a figure, its budget.

First order, with correlations: an input that enters twice is one variable, such as the purity of a lot that is both
titrant and catalyst. What each instrument shows is set once for the workshop; what is taken from tables and labels has its
row in `data/instruments.yaml`.
"""

from __future__ import annotations

import functools
import sys
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from statistics import stdev
from typing import Any

from generator.formulas.constants import DensityLine
from generator.formulas.uncertainty import combined, from_limits, from_step, of_mean
from generator.language import tell
from generator.ledger.instruments import given
from generator.ledger.readings import Readings
from generator.ledger.results import written_step
from generator.records import Instruments
from generator.units import Quantity

LEAST_SHARE_PCT = 0.5


class Uncertain(Readings):
    """Readings of one batch with their uncertainty; ask a new one for each batch, its inputs are independent of others."""

    def __init__(self, instruments: Instruments) -> None:
        """Take the workshop's instruments; nothing is read yet."""
        self._instruments = instruments
        self._shared: dict[tuple[str, object], float] = {}

    def burette_ml(self, readings: Sequence[Quantity], name: str) -> float:
        """Mean of burette readings: the larger of a drop and the readings' own scatter, over the root of their number."""
        values_ml = [reading.value * 1000 for reading in readings]
        scatter = stdev(values_ml) if len(values_ml) > 1 else 0.0
        u_ml = of_mean(self._instruments.burette.value * 1000, scatter, len(values_ml))
        return _number(super().burette_ml(readings, name), u_ml, name)

    def sample_ml(self, quantity: Quantity, name: str) -> float:
        """A pipette or syringe, within its limits."""
        ml = super().sample_ml(quantity, name)
        return _number(ml, _of_limits(ml, self._instruments.sample_volume), name)

    def sample_g(self, quantity: Quantity, name: str) -> float:
        """The balance, read empty and full."""
        g = super().sample_g(quantity, name)
        return _number(g, _read_twice(self._instruments.balance.value) * 1000, name)

    def volume_l(self, quantity: Quantity, name: str) -> float:
        """Marks or a meter within their limits, and the last digit that was written."""
        litres = super().volume_l(quantity, name)
        u_l = combined(_of_limits(litres, self._instruments.volume), from_step(written_step(quantity)))
        return _number(litres, u_l, tell("{what}, volume", what=name))

    def mass_kg(self, quantity: Quantity, name: str) -> float:
        """The scale, read empty and full, or the last digit that was written where that is coarser."""
        kg = super().mass_kg(quantity, name)
        step_kg = max(self._instruments.scale.value, written_step(quantity))
        return _number(kg, _read_twice(step_kg), tell("{what}, mass", what=name))

    def temperature_c(self, quantity: Quantity, assumed_c: float, name: str) -> float:
        """The thermometer within its limits; wider where nobody wrote the temperature."""
        at_c = super().temperature_c(quantity, assumed_c, name)
        limits = given("assumed temperature") if quantity.at_c is None else self._instruments.thermometer
        return _number(at_c, from_limits(limits.value), tell("{what}, temperature", what=name))

    def strength(self, quantity: Quantity) -> float:
        """The titrant as it was made up."""
        value = super().strength(quantity)
        return _number(value, _of_limits(value, self._instruments.strength), tell("strength of the titrant"))

    def normality_mol_per_l(self, quantity: Quantity) -> float:
        """The acid for soap: one bottle, so one input however many samples."""
        value = super().normality_mol_per_l(quantity)
        u = _of_limits(value, self._instruments.normality)
        return self._once(tell("normality of the acid"), value, value, u)

    def purity_pct(self, pct: float, of: str, lot: str) -> float:
        """The label of a lot: one input, even where the titrant was made from the catalyst."""
        row = given(f"purity of the {of}")
        return self._once(tell("purity of the {of}", of=of), lot, pct, from_limits(row.value))

    def density(self, line: DensityLine, of: str) -> DensityLine:
        """A line of a table: one input for all volumes of that liquid."""
        row = given(f"density of the {of}")
        u = _of_limits(line.kg_per_m3, row)
        return replace(
            line, kg_per_m3=self._once(tell("density of the {of}", of=of), line.kg_per_m3, line.kg_per_m3, u)
        )

    def oil_g_per_mol(self, g_per_mol: float, material: str, *, typical: bool) -> float:
        """A profile that was not measured on this lot; wider where the material gives none."""
        row = given("molar mass of an unknown oil" if typical else "molar mass of the oil")
        return g_per_mol * self._once(tell("molar mass of the oil"), material, 1.0, _of_limits(1.0, row))

    def _once(self, name: str, key: object, value: float, u: float) -> float:
        if (name, key) not in self._shared:
            self._shared[name, key] = _number(value, u, name)
        return self._shared[name, key]


@dataclass(frozen=True, slots=True)
class Spread:
    """How sure a figure is: its combined standard uncertainty, in its own unit, and its budget.

    The budget has by the name of each input its share of the variance, %, the largest first; under half a percent is left out.
    """

    u: float
    budget: Mapping[str, float]


def standard_uncertainty(number: float) -> float:
    """Combined standard uncertainty of a figure, in its own unit; 0 for a plain number."""
    return float(getattr(number, "std_dev", 0.0))


def spread(number: float) -> Spread:
    """How sure a figure is, and which inputs that comes from; a plain number has no spread."""
    variances: dict[str, float] = {}
    for variable, u in _components(number).items():
        variances[variable.tag] = variances.get(variable.tag, 0.0) + u * u
    whole = sum(variances.values())
    if not whole:
        return Spread(0.0, {})
    least = whole * LEAST_SHARE_PCT / 100
    largest = sorted((-part, name) for name, part in variances.items() if part >= least)
    return Spread(whole**0.5, {name: -100 * part / whole for part, name in largest})


def _components(number: float) -> Mapping[Any, float]:
    components = getattr(number, "error_components", None)
    return components() if components is not None else {}


def _number(value: float, u: float, name: str) -> float:
    return _uncertain()(value, u, tag=name) if u else value


@functools.cache
def _uncertain() -> Callable[..., float]:
    """The library's numbers, without numpy where nothing else has loaded it.

    The library takes it for arrays, none of which is used here, and it is slower to import than all else of a check.
    """
    alone = "numpy" not in sys.modules
    if alone:
        sys.modules["numpy"] = None  # type: ignore[assignment]  # Python's word for a module that is not there
    try:
        from uncertainties import ufloat  # noqa: PLC0415
    finally:
        if alone:
            del sys.modules["numpy"]
    made: Callable[..., float] = ufloat
    return made


def _of_limits(value: float, share: Quantity) -> float:
    return from_limits(value * share.value / 100)


def _read_twice(step: float) -> float:
    """A scale read empty and full, each to the nearest step."""
    return combined(from_step(step), from_step(step))
