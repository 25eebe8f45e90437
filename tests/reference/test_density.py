"""Density lines and volumes at the reference temperature, against regulations and equations of state."""

from __future__ import annotations

import pytest
from CoolProp.CoolProp import PropsSI

from generator.formulas.constants import default_density
from generator.formulas.density import density_kg_per_m3, mass_kg, volume_at_reference_l

from .case import Case, each

LIQUID_ESTERS = ("MethylOleate", "MethylLinoleate", "MethylLinolenate")
ANNEX = ("EN 14214, density annex", "rho15 = rhoT + 0.723 (T - 15); coefficient from memory")


def density_at_15_c(density_read: float, read_at_c: float) -> float:
    """The line is the same from either end: the reading is the reference, 15 °C the temperature."""
    return density_kg_per_m3(density_read, 0.723, 15, read_at_c)


def _line(density: float, at_c: float) -> dict[str, float]:
    return {"density_read": density, "read_at_c": at_c}


def by_library(fluid: str, temperature_c: float) -> float:
    return float(PropsSI("D", "T", temperature_c + 273.15, "P", 101325, fluid))


def fuel_factor(fahrenheit: float) -> float:
    """Our line from a temperature to 60 °F (15.5556 °C)."""
    line = default_density("fuel")
    return volume_at_reference_l(1, line.at((fahrenheit - 32) / 1.8), line.at(28 / 1.8))


REGULATION = ("40 CFR 80.1426(f)(8)(ii)(A), 2015 edition", "1.02746025 - 0.00045767 T, T in °F")
CASES = [
    # R1. P 6e-4 over 40 °F: R3 gives that for the two coefficients.
    *[
        Case(
            f"R1 at {t} °F",
            fuel_factor,
            {"fahrenheit": t},
            factor,
            6e-4,
            "P",
            *REGULATION,
            "published formula",
        )
        for t, factor in ((60, 1.00000005), (80, 0.99084665), (100, 0.98169325))
    ],
    Case("R2 at 30 °C", density_at_15_c, _line(868.0, 30), 878.845, 0.001, "R", *ANNEX, "from memory"),
    Case("R2 at 25 °C", density_at_15_c, _line(874.6, 25), 881.83, 0.001, "R", *ANNEX, "from memory"),
    Case("R2 at 40 °C", density_at_15_c, _line(860.0, 40), 878.075, 0.001, "R", *ANNEX, "from memory"),
    Case(
        "R2 volume",
        volume_at_reference_l,
        {"volume_l": 200, "density_kg_per_m3": 874.6, "density_at_reference_kg_per_m3": 881.83},
        198.3602,
        1e-4,
        "R",
        *ANNEX,
        "from memory",
    ),
    Case(
        "R8 mass of a gallon",
        mass_kg,
        {"volume_l": 3.785411784, "density_kg_per_m3": 0.88 * 999.016},
        7.3 * 0.45359237,
        0.05 * 0.45359237,
        "R",
        "U.S. DOE Alternative Fuels Data Center",
        "relative density 0.88 and 7.3 lb/gal, two figures for one fuel",
        "published",
    ),
]


@each(CASES)
def test_density(case: Case) -> None:
    case.check()


@pytest.mark.parametrize("temperature_c", [0, 10, 15, 20, 25, 30, 40, 50, 60])
def test_methanol_line_follows_the_equation_of_state(temperature_c: float) -> None:
    """R25: CoolProp, 101325 Pa (library). P 0.6 kg/m³: the curve over the straight line, 0 to 60 °C."""
    assert default_density("methanol").at(temperature_c) == pytest.approx(
        by_library("Methanol", temperature_c), abs=0.6
    )


@pytest.mark.parametrize("fluid", LIQUID_ESTERS)
@pytest.mark.parametrize("temperature_c", [15, 20, 25, 40])
def test_ester_slope_follows_the_equation_of_state(fluid: str, temperature_c: float) -> None:
    """R20, R23, R24: CoolProp (library). P 0.5 kg/m³ from 40 °C to 15 °C, whichever slope is chosen.

    Palmitate and stearate are solid at 15 °C as pure substances and left out.
    """
    line = default_density("fuel")
    ours = density_kg_per_m3(by_library(fluid, 15), line.slope_kg_per_m3_k, temperature_c, 15)
    assert ours == pytest.approx(by_library(fluid, temperature_c), abs=0.5)


@pytest.mark.parametrize("fluid", ["MethylPalmitate", "MethylStearate", *LIQUID_ESTERS])
@pytest.mark.parametrize("temperature_c", [45, 50, 55, 60])
def test_ester_slope_follows_the_equation_of_state_when_hot(fluid: str, temperature_c: float) -> None:
    """R20 to R24: CoolProp (library), from 40 °C, where every ester is liquid. P 1 kg/m³ over 20 K: the slope of
    the annex is that of the mix; stearate falls 0.743 kg/m³ per kelvin, oleate 0.711."""
    line = default_density("fuel")
    ours = density_kg_per_m3(by_library(fluid, 40), line.slope_kg_per_m3_k, temperature_c, 40)
    assert ours == pytest.approx(by_library(fluid, temperature_c), abs=1)


@pytest.mark.parametrize("temperature_c", [15, 20, 25, 40, 60])
def test_default_fuel_lies_among_the_esters(temperature_c: float) -> None:
    """R20 to R24: CoolProp (library), a band: lightest is stearate, heaviest linolenate, at every temperature."""
    low, high = by_library("MethylStearate", temperature_c), by_library("MethylLinolenate", temperature_c)
    assert low < default_density("fuel").at(temperature_c) < high


@pytest.mark.parametrize("temperature_c", [15, 25, 30, 40])
def test_volume_of_methanol_carried_to_the_reference(temperature_c: float) -> None:
    """100 L of methanol at 15 °C by our line and by CoolProp (library). P 0.1 L."""
    line = default_density("methanol")
    ours = volume_at_reference_l(100, line.at(temperature_c), line.at(15))
    theirs = 100 * by_library("Methanol", temperature_c) / by_library("Methanol", 15)
    assert ours == pytest.approx(theirs, abs=0.1)


@pytest.mark.parametrize("mass_fractions", [(0.11, 0.04, 0.23, 0.54, 0.08), (0.05, 0.02, 0.62, 0.21, 0.10)])
def test_default_fuel_density_lies_near_that_of_mixed_esters(mass_fractions: tuple[float, ...]) -> None:
    """R27, R28: volume-additive mixes by CoolProp (library). P 6 kg/m³: fuels of different oils."""
    esters = ("MethylPalmitate", "MethylStearate", "MethylOleate", "MethylLinoleate", "MethylLinolenate")
    mixed = 1 / sum(w / by_library(e, 15) for w, e in zip(mass_fractions, esters, strict=True))
    assert default_density("fuel").kg_per_m3 == pytest.approx(mixed, abs=6)


@pytest.mark.parametrize(
    ("temperature_c", "kg_per_m3"), [(15, 1264.5), (20, 1261.3), (25, 1258.1), (40, 1248.5)]
)
def test_glycerol_line(temperature_c: float, kg_per_m3: float) -> None:
    """R10: thermo 0.6.1 (library); 0.3 kg/m³ L."""
    line = default_density("glycerol")
    ours = density_kg_per_m3(line.kg_per_m3, line.slope_kg_per_m3_k, temperature_c, line.reference_c)
    assert ours == pytest.approx(kg_per_m3, abs=0.3)


def test_oil_line_lies_in_the_range_of_the_codex() -> None:
    """R7: relative densities 0.914 to 0.925 at 20/20 °C (Codex CXS 210, from memory); P."""
    line = default_density("oil")
    at_20_c = density_kg_per_m3(line.kg_per_m3, line.slope_kg_per_m3_k, 20, line.reference_c)
    assert 0.914 <= at_20_c / 998.207 <= 0.925
