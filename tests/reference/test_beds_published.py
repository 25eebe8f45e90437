"""Beds in textbooks, an examination, an open package and a contactor: what the cases of beds and columns do not yet hold.

Where an input or an answer was recalled and not seen in print, the case says `from memory`.
"""

from __future__ import annotations

import math

from generator.formulas.breakthrough import (
    break_time_h,
    critical_depth_m,
    gain_of_two,
    load_at_content_g,
    passing_share,
    unused_length,
)
from generator.formulas.columns import (
    bulk_kg_per_l,
    equivalents_mol,
    interstitial_velocity_m_per_h,
    superficial_velocity_m_per_h,
    taken_up_g,
    void_share,
)
from generator.formulas.constants import molar_mass
from generator.formulas.hydraulics import ergun_kpa, fuel_viscosity_mpa_s
from generator.formulas.soap import soap_for_acid_value_mg_per_kg

from .case import Case, each

LB_KG, FT_M, ATM_PA, FT3_L, GAL_L = 0.45359237, 0.3048, 101325, 28.316846592, 3.785411784
PSDM = ("U.S. EPA, PSDM example file Example_TCE", "20,000 lb in the contactor; particle 0.803 g/mL")
PSDM_BED_L, PSDM_L_PER_H = 20175.065, 566.966 * GAL_L * 60
KUO = "Kuo, Practical Design Calculations for Groundwater and Soil Remediation, 2nd ed."
BDST = ("Crittenden and Thomas, Adsorption Technology and Design (1998)", "equations 6.55 to 6.59")
MCCABE = ("McCabe, Smith and Harriott, example 25.2", "attribution from memory")
CUSSLER = ("Cussler, Diffusion, example 15.3-3", "solution reproduced as a program with its output")
GATE = (
    "Indian entrance examination in chemical engineering",
    "bed of 1.5 mm balls, Ergun's two coefficients",
)
RHODES = ("Rhodes, Introduction to Particle Technology", "exercise 6.1")
FOGLER = ("Fogler, Essentials of Chemical Reaction Engineering", "example 5-4, inlet of the bed")
GEANKOPLIS = ("Geankoplis, Transport Processes and Unit Operations", "example 3.1-6")
OPEN_FIT = ("amvro23/adsorption, README", "Thomas 202.162 mg/g and Yoon-Nelson 11.2373 min, fitted apart")
COLLECTED = ("chemicals 1.5.2, Viswanath and Natarajan", "methyl oleate, 300 to 370 K, two constants")
CASE_B = ("case B", "Ergun, the term that stays without viscosity")
RISE = ("C8", "rise to 0.50 mg KOH/g, exact masses")
EXCHANGED = ("C3 and C1", "550 bed volumes at 0.88 kg/L, 1200 to 50 mg/kg")
AREA_M2 = math.pi / 4 * 0.10**2
EXAM = {"depth_m": 1.0, "particle_mm": 1.5, "void": 0.4}


def psdm_bulk() -> float:
    return bulk_kg_per_l(20000 * LB_KG, PSDM_BED_L)


def psdm_void() -> float:
    return void_share(psdm_bulk(), 0.803)


def psdm_between_the_grains_cm_per_s() -> float:
    """Velocity over void: 0.490229 cm/s over 0.440029."""
    v = superficial_velocity_m_per_h(PSDM_L_PER_H, 304.8)
    return interstitial_velocity_m_per_h(v, psdm_void()) / 36


def kuo_lb_per_ft3(lb: float, ft3: float) -> float:
    return bulk_kg_per_l(lb * LB_KG, ft3 * FT3_L) / LB_KG * FT3_L


def kuo_lb_per_d() -> float:
    """30 gal/min, 5 to 0.1 mg/L; a litre of water as a kilogram."""
    return taken_up_g(5, 0.1, 30 * 1440 * GAL_L) / 1000 / LB_KG


def kuo_days_per_drum() -> float:
    return 1.59 / kuo_lb_per_d()


def inertial_pa(flow_l_per_h: float) -> float:
    """The inertial term of case B."""
    return 1000 * ergun_kpa(flow_l_per_h / 3.6e6 / AREA_M2, 1.0, 0.6, 0.40, 860, 0)


def half_through_h(share: float) -> float:
    """C24: hours at which a share passes; 10.56 g/h come in, 800 g are held at last."""
    fed_g_per_h = 1.056 * 10
    return load_at_content_g(1056 * share, 1056, 200 * 4, 2e-4 * 1056 / fed_g_per_h) / fed_g_per_h


def area_above_the_curve_h() -> float:
    """C24: what stayed behind, in hours of feed, by Simpson's rule."""
    steps, end = 4000, 200.0
    width = end / steps
    held = [1 - passing_share(i * width, 75.757576, 0.2112) for i in range(steps + 1)]
    return width / 3 * (held[0] + held[-1] + 4 * sum(held[1:-1:2]) + 2 * sum(held[2:-1:2]))


def saturated_share(hours: float, full_hours: float) -> float:
    """The length that stays unused, over the depth, from areas above the curve."""
    return 1 - unused_length(1.0, hours, full_hours)


def cussler_m3() -> float:
    """A bed of 12 cm breaks after 10 min and is full after 14; the volume of one of 10 m for the same service."""
    unused_m = unused_length(0.12, 10, (10 + 14) / 2)  # a straight rise: half of the four minutes counts
    return (0.12 - unused_m) * 10 / (10 - unused_m)


def rhodes_void() -> float:
    """50 kg of 2500 kg/m³ in a bed of 0.04 m² by 1 m."""
    return void_share(bulk_kg_per_l(50, 40), 2.5)


def rhodes_pa() -> float:
    """1.44 m³/h of a liquid of 800 kg/m³ and 0.002 Pa·s through grains of 1 mm."""
    return 1000 * ergun_kpa(1.44 / 3600 / 0.04, 1, 1.0, rhodes_void(), 800, 2)


def fogler_atm_per_ft() -> float:
    """104.4 lb/h of a gas like air through 0.01414 ft², quarter-inch pellets, void 45 %, 0.413 lb/ft³, 0.0673 lb/ft/h."""
    velocity = 104.4 / 3600 / 0.01414 / 0.413 * FT_M
    density, viscosity = 0.413 * LB_KG / FT_M**3, 0.0673 * LB_KG / FT_M / 3600 * 1000
    return 1000 * ergun_kpa(velocity, FT_M, 0.25 * 25.4, 0.45, density, viscosity) / ATM_PA


def geankoplis_pa() -> float:
    """0.358 kg/s of air through 12.7 mm balls, void 0.38, bed of 0.61 by 2.44 m, at the mean density 1.221 kg/m³."""
    velocity = 0.358 / (math.pi / 4 * 0.61**2) / 1.221
    return 1000 * ergun_kpa(velocity, 2.44, 12.7, 0.38, 1.221, 0.019)


def thomas_share(minutes: float) -> float:
    """The open package's curve of Thomas, in milligrams held: 0.1 of an atmosphere of CO₂ at 100 mL/min onto 1 g."""
    fed_mg_per_min = 0.1 * 44.01 / (8.205e-5 * 298.15) / 1000 * 100
    return passing_share(minutes * fed_mg_per_min, 202.16211953564525, 2.678369108434965 / 100)


def yoon_nelson(minutes: float) -> float:
    """The same package's curve of Yoon and Nelson."""
    return 1 / (1 + math.exp(0.4818450777710938 * (11.237299942413042 - minutes)))


def viscosity_of(at_c: float) -> float:
    """The two-constant equation of that collection, mPa·s."""
    return 1000 * 10 ** (-4.9869 + 800.18 / (at_c + 273.15))


def held_eq(species: str) -> float:
    return equivalents_mol(taken_up_g(1200, 50, 550 * 0.88), molar_mass(species))


FORMULA, COPY, MEMORY = "published formula", "secondary copy", "from memory"
VALID = {"capacity_mg_per_l": 60000, "feed_mg_per_l": 1056, "velocity_m_per_h": 2}
RATE = {"rate_l_per_mg_h": 0.01, "break_mg_per_l": 44}
FULL = {"bulk_g_per_cm3": 0.461, "saturated_g_per_g": 0.291, "flux_g_per_cm2_h": 0.224}


def held_g_per_g(hours: float, depth_cm: float) -> float:
    """What an area above the curve holds: the flux and time of `break_time_h`, solved for the loading."""
    return hours / break_time_h(depth_cm, 0, FULL["bulk_g_per_cm3"], 1.0, FULL["flux_g_per_cm2_h"])


def limit(before: float, species: str) -> dict[str, float]:
    return {
        "limit_mg_koh_per_g": 0.50,
        "before_mg_koh_per_g": before,
        "soap_g_per_mol": molar_mass(species),
    }


CASES = [
    Case("C20 medium in a litre", psdm_bulk, {}, 0.449656, 5e-7, "R", *PSDM, FORMULA),
    Case("C20 void", psdm_void, {}, 0.440029, 6e-7, "R", *PSDM, FORMULA),
    Case("C20 between grains", psdm_between_the_grains_cm_per_s, {}, 1.114084, 3e-6, "R", *PSDM, "derived"),
    Case("C21", kuo_lb_per_ft3, {"lb": 159, "ft3": 5.3}, 30, 0.3, "R", KUO, "example 6.9", "published"),
    Case("C22 a day", kuo_lb_per_d, {}, 1.766555, 2e-5, "R", KUO, "example 6.10, results ours", "derived"),
    Case("C22 a drum", kuo_days_per_drum, {}, 0.900, 5e-4, "R", KUO, "example 6.10, results ours", "derived"),
    *[
        Case(f"C13 {flow} L/h", inertial_pa, {"flow_l_per_h": flow}, pa, 0.005, "R", *CASE_B, "derived")
        for flow, pa in ((15.70796, 7.26), (23.56194, 16.33), (39.26991, 45.36), (78.53982, 181.45))
    ],
    Case(
        "C24 break", half_through_h, {"share": 44 / 1056}, 60.911486, 1e-6, "F", "logistic", "C24", "derived"
    ),
    Case("C24 half", half_through_h, {"share": 0.5}, 75.757576, 1e-6, "F", "logistic", "C24", "derived"),
    Case("C24 area", area_above_the_curve_h, {}, 75.757576, 2e-6, "F", "logistic", "C24, area", "derived"),
    Case("C25 depth", critical_depth_m, {**VALID, **RATE}, 0.01045165, 1e-8, "F", *BDST, FORMULA),
    *[
        Case(
            f"C26 {hours} h on {cm} cm",
            held_g_per_g,
            {"hours": hours, "depth_cm": cm},
            held,
            1e-3,
            "R",
            *MCCABE,
            COPY,
        )
        for cm, hours, held in ((8, 4.79, 0.291), (8, 2.37, 0.144), (16, 9.59, 0.291), (16, 7.07, 0.215))
    ],
    *[
        Case(
            f"C26 share of {full} h",
            saturated_share,
            {"hours": hours, "full_hours": full},
            share,
            5e-7,
            "R",
            "C26",
            "areas above the curve, unrounded",
            "derived",
        )
        for hours, full, share in ((2.37, 4.79, 0.494781), (7.07, 9.59, 0.737226))
    ],
    Case("C27", break_time_h, {"depth_cm": 32, "unused_cm": 4.1, **FULL}, 16.7, 0.05, "R", *MCCABE, COPY),
    Case(
        "C28", gain_of_two, {"depth": 1, "unused": 0.25}, 4 / 3, 1e-12, "F", "1 - LUB/L", "by hand", "derived"
    ),
    *[
        Case(
            f"C8 {species}, {before} before",
            soap_for_acid_value_mg_per_kg,
            limit(before, f"{species} oleate"),
            soap,
            1,
            "K",
            *RISE,
            "derived",
        )
        for before, species, soap in (
            (0, "sodium", 2713),
            (0, "potassium", 2857),
            (0.10, "sodium", 2170),
            (0.10, "potassium", 2285),
        )
    ],
    Case("C3 eq Na", held_eq, {"species": "sodium oleate"}, 1.828, 0.005, "K", *EXCHANGED, "derived"),
    Case("C3 eq K", held_eq, {"species": "potassium oleate"}, 1.736, 0.005, "K", *EXCHANGED, "derived"),
    Case(
        "viscous coefficient, kPa/m",
        ergun_kpa,
        {**EXAM, "velocity_m_per_s": 1, "density_kg_per_m3": 0, "viscosity_mpa_s": 1},
        375,
        0.5,
        "R",
        *GATE,
        COPY,
    ),
    Case(
        "inertial coefficient, kPa/m",
        ergun_kpa,
        {**EXAM, "velocity_m_per_s": 1, "density_kg_per_m3": 1000, "viscosity_mpa_s": 0},
        10940,
        5,
        "R",
        *GATE,
        COPY,
    ),
    Case("void of a weighed bed", rhodes_void, {}, 0.50, 5e-3, "R", *RHODES, MEMORY),
    Case("liquid of twice water's viscosity", rhodes_pa, {}, 6560, 5, "R", *RHODES, MEMORY),
    Case("gas in a packed pipe", fogler_atm_per_ft, {}, 0.0775, 3e-4, "K", *FOGLER, MEMORY),
    Case("air through balls", geankoplis_pa, {}, 4970, 30, "K", *GEANKOPLIS, MEMORY),
    Case("one bed for another's service", cussler_m3, {}, 0.1002, 5e-5, "R", *CUSSLER, COPY),
    *[
        Case(
            f"viscosity at {at_c} °C",
            fuel_viscosity_mpa_s,
            {"temperature_c": at_c},
            viscosity_of(at_c),
            0.15 * viscosity_of(at_c),
            "P",
            *COLLECTED,
            "library",
        )
        for at_c in (27, 40, 60)
    ],
    *[
        Case(
            f"Thomas is Yoon-Nelson at {minutes} min",
            thomas_share,
            {"minutes": minutes},
            yoon_nelson(minutes),
            1e-5,
            "L",
            *OPEN_FIT,
            "library",
        )
        for minutes in (6, 9, 11.237299942413042, 14, 18)
    ],
]


@each(CASES)
def test_beds_published(case: Case) -> None:
    case.check()
