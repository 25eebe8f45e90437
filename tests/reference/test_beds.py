"""Pressure across a bed and the curve by which it breaks through, against fluids, a textbook and published series."""

from __future__ import annotations

import math

import fluids
import pytest

from generator.formulas.breakthrough import depth_service_time_h, passing_share, unused_length
from generator.formulas.hydraulics import (
    bed_depth_m,
    ergun_kpa,
    fuel_viscosity_mpa_s,
    like_drop_kpa,
    particle_reynolds,
)

from .case import Case, each

ERGUN = ("fluids 1.3.1, packed_bed.Ergun", "documented example")
CASE_B = {"particle_mm": 0.6, "void": 0.40, "density_kg_per_m3": 860, "viscosity_mpa_s": 3.87, "depth_m": 1.0}
AREA_M2 = math.pi / 4 * 0.10**2
TEACHING = ("table of a teaching page on packed beds", "inputs inferred from its results")
MCCABE = ("McCabe, Smith and Harriott, example 25.2", "attribution from memory")
BDST = ("Crittenden and Thomas, Adsorption Technology and Design (1998)", "equations 6.55 to 6.59")
THERMO = ("thermo 0.6.1", "methyl oleate")


def ergun_at_kpa(flow_l_per_h: float, **changed: float) -> float:
    """Case B: a bed of 0.10 m by 1.00 m of beads."""
    return ergun_kpa(velocity_m_per_s=flow_l_per_h / 3.6e6 / AREA_M2, **{**CASE_B, **changed})


def reynolds_at(flow_l_per_h: float) -> float:
    """Reynolds number of case B."""
    bed = {name: value for name, value in CASE_B.items() if name != "depth_m"}
    return particle_reynolds(velocity_m_per_s=flow_l_per_h / 3.6e6 / AREA_M2, **bed)


def logistic_share(hours: float) -> float:
    """C24 in hours: 1,056 mg/L at 10 L/h onto 4 kg of 200 g/kg; load and time are one scale under a steady feed."""
    fed_g_per_h = 1.056 * 10
    return passing_share(hours * fed_g_per_h, 200 * 4, 2e-4 * 1056 / fed_g_per_h)


CASES = [
    Case(
        "C10 Ergun",
        ergun_kpa,
        {
            "particle_mm": 0.8,
            "void": 0.4,
            "velocity_m_per_s": 1e-3,
            "density_kg_per_m3": 1000,
            "viscosity_mpa_s": 1.0,
            "depth_m": 1,
        },
        1.3388671875,
        1e-11,
        "F",
        *ERGUN,
        "library",
    ),
    *[
        Case(
            f"C11 both terms at {velocity} m/s",
            ergun_kpa,
            {
                "particle_mm": 3 * 0.9,
                "void": 0.40,
                "velocity_m_per_s": velocity,
                "density_kg_per_m3": 1000,
                "viscosity_mpa_s": 1.0,
                "depth_m": 1.2,
            },
            total,
            1e-4,
            "R",
            *TEACHING,
            "derived",
        )
        for velocity, total in (
            (0.06, 34.5833),
            (0.09, 71.5625),
            (0.12, 121.6667),
            (0.15, 184.8958),
            (0.18, 261.2500),
        )
    ],
    *[
        Case(
            f"C12 {flow} L/h",
            ergun_at_kpa,
            {"flow_l_per_h": flow},
            pa / 1000,
            1e-4,
            "F",
            "case B",
            "Ergun",
            "derived",
        )
        for flow, pa in (
            (15.70796, 5046.320409),
            (23.56194, 7574.924045),
            (39.26991, 12643.018181),
            (78.53982, 25376.760224),
        )
    ],
    *[
        Case(
            f"C13 Reynolds at {flow} L/h",
            reynolds_at,
            {"flow_l_per_h": flow},
            found,
            5e-5,
            "R",
            "case B",
            "Ergun",
            "derived",
        )
        for flow, found in ((15.70796, 0.1235), (23.56194, 0.1852), (39.26991, 0.3086), (78.53982, 0.6173))
    ],
    *[
        Case(
            f"C14 changed: {changed}",
            ergun_at_kpa,
            {"flow_l_per_h": 39.26991, **changed},
            pa / 1000,
            1e-4,
            "F",
            "case B at 5 m/h",
            "Ergun, one input changed",
            "derived",
        )
        for changed, pa in (
            ({"void": 0.36}, 19728.010),
            ({"void": 0.38}, 15743.836),
            ({"void": 0.42}, 10206.811),
            ({"particle_mm": 0.5}, 18195.059),
            ({"particle_mm": 0.7}, 9294.303),
            ({"viscosity_mpa_s": 7.74}, 25240.674),
        )
    ],
    Case(
        "depth of case B",
        bed_depth_m,
        {"bed_l": 7.853982, "diameter_cm": 10},
        1.0,
        1e-6,
        "R",
        "case B",
        "given",
        "derived",
    ),
    *[
        Case(
            f"R11 viscosity at {at_c} °C",
            fuel_viscosity_mpa_s,
            {"temperature_c": at_c},
            value,
            0.04 * value,
            "P",
            *THERMO,
            "library",
        )
        for at_c, value in ((15, 7.445), (20, 6.446), (25, 5.631), (40, 3.920), (60, 2.627))
    ],
    *[
        Case(
            f"C24 at {hours} h",
            logistic_share,
            {"hours": hours},
            share,
            2e-6,
            "F",
            "logistic",
            "by hand",
            "derived",
        )
        for hours, share in (
            (50, 0.00432073),
            (60, 0.03462302),
            (65, 0.09346861),
            (70, 0.22864114),
            (75, 0.46008511),
            (80, 0.71012681),
            (90, 0.95293423),
        )
    ],
    *[
        Case(
            f"C25 depth {depth} m",
            depth_service_time_h,
            {
                "capacity_mg_per_l": 60000,
                "depth_m": depth,
                "feed_mg_per_l": 1056,
                "velocity_m_per_h": 2,
                "rate_l_per_mg_h": 0.01,
                "break_mg_per_l": 44,
            },
            hours,
            1e-6,
            "F",
            *BDST,
            "published formula",
        )
        for depth, hours in ((0.3, 8.225805), (0.6, 16.748533), (0.9, 25.271260), (1.2, 33.793988))
    ],
    *[
        Case(
            f"C26 unused length of {depth} cm",
            unused_length,
            {"depth": depth, "held_at_break": at_break, "held_saturated": 0.291},
            unused,
            0.05,
            "R",
            *MCCABE,
            "secondary copy",
        )
        for depth, at_break, unused in ((8, 0.144, 4.0), (16, 0.215, 4.2))
    ],
    Case(
        "C27 unused share of 32 cm",
        lambda depth, unused: 1 - unused / depth,  # what 32 cm use when 4.1 cm stay unused
        {"depth": 32, "unused": 4.1},
        0.872,
        1e-3,
        "R",
        *MCCABE,
        "secondary copy",
    ),
]


@each(CASES)
def test_beds(case: Case) -> None:
    case.check()


@pytest.mark.parametrize("void", [0.35, 0.40, 0.65])
@pytest.mark.parametrize("velocity", [1e-4, 1e-3, 1e-2])
def test_ergun_is_that_of_fluids(void: float, velocity: float) -> None:
    ours = ergun_kpa(velocity, 0.8, 0.6, void, 870, 4.2)
    theirs = fluids.packed_bed.Ergun(dp=6e-4, voidage=void, vs=velocity, rho=870, mu=4.2e-3, L=0.8)
    assert ours == pytest.approx(theirs / 1000, rel=1e-12)


@pytest.mark.parametrize("name", ["Harrison_Brunner_Hecker", "KTA", "Idelchik", "Erdim_Akgiray_Demir"])
def test_other_correlations_lie_in_the_band(name: str) -> None:
    """C15: eight correlations lie within 10.3 and 15.8 kPa; a tenth of void either way spans more than that."""
    theirs = (
        getattr(fluids.packed_bed, name)(dp=6e-4, voidage=0.40, vs=5 / 3600, rho=860, mu=3.87e-3, L=1.0)
        / 1000
    )
    low, high = (ergun_at_kpa(39.26991, void=void) for void in (0.44, 0.36))
    assert low < theirs < high


def test_a_drop_at_like_flow_and_temperature_is_itself() -> None:
    assert like_drop_kpa(30, 60, 60, 20) == pytest.approx(30, rel=1e-12)
    assert like_drop_kpa(30, 60, 30, 20) == pytest.approx(15, rel=1e-12)
    assert like_drop_kpa(30, 60, 60, 5) < 30 < like_drop_kpa(30, 60, 60, 35)  # cold fuel is thick


def test_the_viscosity_at_40_degrees_lies_in_the_limits_of_fuels() -> None:
    """EN 14214: 3.5 to 5.0 mm²/s, secondary copy; 860 kg/m³."""
    assert 3.5 < fuel_viscosity_mpa_s(40) / 0.860 < 5.0
