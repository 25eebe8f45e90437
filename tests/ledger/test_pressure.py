"""The rise of the pressure drop of a charge, and in words what it lacks where it is not known."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from math import pi
from pathlib import Path

import fluids
import pytest

from generator.formulas.constants import default_density
from generator.formulas.hydraulics import fuel_viscosity_mpa_s
from generator.ledger.gauges import gauged
from generator.ledger.pressure import Drops, clean_band_kpa, drops_of
from generator.records import GaugeReading
from generator.units import quantity
from tests.ledger.test_columns import LIKE, batch, folded, near

BOTH = ("A, inlet: 0.{top} bar", "B, inlet: 0.1 bar")


def drops(parent: Path, *tops: int, readings: tuple[str, ...] = BOTH, warm: bool = True) -> Drops:
    """The drops over A in runs of the same flow: its inlet of so many tenths of a bar, and 0.1 bar before B."""
    batches = {}
    for number, top in enumerate(tops, 1):
        at = ", temperature: 20 °C" if warm else ""
        read = "".join(f"    - {{after: 20 L, vessel: {one.format(top=top)}{at}}}\n" for one in readings)
        batches[f"b{number}"] = batch(f"b{number}", 10 + number) + (f"  readings:\n{read}" if read else "")
    return drops_of(folded(parent, LIKE, batches).charges[0])


def test_the_last_three_drops_over_the_first_three(tmp_path: Path) -> None:
    """Drops of 0.1, 0.1, 0.2 and 0.3, 0.4, 0.5 bar: the medians are 0.1 and 0.4 bar."""
    found = drops(tmp_path, 2, 2, 3, 4, 5, 6)
    assert (found.rise, found.fouled, found.missing) == (near(4.0), True, None)


@pytest.mark.parametrize(
    ("more", "words"),
    [
        ({"warm": False}, "needs the temperature of the fuel"),
        ({"readings": BOTH[:1]}, "needs the next vessel's inlet"),
        ({}, "needs 6 runs with a drop, and has 5"),
    ],
)
def test_what_an_unknown_rise_lacks(tmp_path: Path, more: dict[str, object], words: str) -> None:
    found = drops(tmp_path, 2, 2, 3, 4, 5, **more)  # type: ignore[arg-type]
    assert found.rise is None
    assert found.missing is not None and words in found.missing


def test_without_a_gauge_nothing_is_asked_for(tmp_path: Path) -> None:
    assert drops(tmp_path, 2, 2, readings=()).missing is None


@pytest.mark.parametrize(("sphericity", "of_particle"), [(Decimal("0.9"), 0.9), (None, 1.0)])
def test_the_band_of_a_clean_bed(sphericity: Decimal | None, of_particle: float, tmp_path: Path) -> None:
    """A tenth of the void share either way, and fuel at 20 °C from thin to thick; grains are taken as balls
    where nothing is said of their shape; fluids 1.3.1, packed_bed; library."""
    charge = folded(tmp_path, LIKE, {"b1": batch("b1", 10)}).charges[0]
    fuel = default_density("fuel")
    assert charge.medium is not None
    assert clean_band_kpa(charge, 25, fuel) is None
    grains = {"particle": quantity("0.7 mm", ("length",)), "sphericity": sphericity}
    bed = replace(
        charge,
        medium=charge.medium.model_copy(update=grains),
        vessel=charge.vessel.model_copy(update={"diameter": quantity("30 cm", ("length",))}),
    )
    assert clean_band_kpa(bed, None, fuel) is None
    found = clean_band_kpa(bed, 25, fuel)
    area_m2 = pi * 0.3**2 / 4
    low, high = (
        fluids.packed_bed.Ergun(
            dp=0.7e-3 * of_particle,
            voidage=0.38 * void,
            vs=0.025 / 3600 / area_m2,
            rho=fuel.at(20.0),
            mu=fuel_viscosity_mpa_s(20.0) / 1000 * times,
            L=0.05 / area_m2,
        )
        / 1000
        for void, times in ((1.1, 0.77), (0.9, 1.10))
    )
    assert found is not None and (found.low, found.high) == (pytest.approx(low), pytest.approx(high))


def test_behind_the_last_vessel_is_the_air() -> None:
    """0.3 bar before the first and 0.1 bar before the second; a gauge counts from the air."""
    line = [f"column-{number}" for number in (1, 2)]
    readings = [
        GaugeReading.model_validate({"after": "20 L", "vessel": f"column-{number}", "inlet": inlet})
        for number, inlet in ((1, "0.3 bar"), (2, "0.1 bar"))
    ]
    found = gauged(readings, line)
    assert [found[name].inlet_kpa for name in line] == [near(30), near(10)]
    assert [found[name].drop_kpa for name in line] == [near(20), near(10)]
