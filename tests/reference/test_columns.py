"""Beds: contact time, bed volumes, velocity and what was taken up, against published contactors."""

from __future__ import annotations

import math

import pytest

from generator.formulas.columns import (
    bed_volumes,
    bed_volumes_per_h,
    content_mg_per_kg,
    empty_bed_contact_min,
    share_pct,
    superficial_velocity_m_per_h,
    taken_up_g,
)
from generator.formulas.tanks import vertical_cylinder_l

from .case import Case, each

L_PER_H_OF_GPM = 227.12470704
M_PER_H_OF_GPM_PER_FT2 = 2.44475
PSDM = ("U.S. EPA, PSDM example file Example_TCE", "contactor of 10 ft, 566.966 gal/min")
PSDM_BED_L = 20175.065
KUO = ("Kuo, Practical Design Calculations for Groundwater and Soil Remediation, 2nd ed.", "example 6.10")
CASE_B = ("bed of 0.10 m by 1.00 m", "bed volume over flow")
WALL = ("Wall, Van Gerpen and Thompson, Trans. ASABE (2011)", "abstract: 550 and 200 bed volumes; 0.88 kg/L")
DRUM_L = 150.12


def psdm_bed_volumes_per_d() -> float:
    return 24 * bed_volumes_per_h(566.966 * L_PER_H_OF_GPM, PSDM_BED_L)


CASES = [
    Case(
        "C20 contact time",
        empty_bed_contact_min,
        {"bed_l": PSDM_BED_L, "flow_l_per_h": 566.966 * L_PER_H_OF_GPM},
        9.400367,
        9.4e-6,
        "F",
        *PSDM,
        "published formula",
    ),
    Case(
        "C20 velocity",
        superficial_velocity_m_per_h,
        {"flow_l_per_h": 566.966 * L_PER_H_OF_GPM, "diameter_cm": 304.8},
        0.490229 * 36,
        36 * 5e-7,
        "R",
        *PSDM,
        "published formula",
    ),
    Case(
        "C20 velocity in gpm/ft²",
        superficial_velocity_m_per_h,
        {"flow_l_per_h": 566.966 * L_PER_H_OF_GPM, "diameter_cm": 304.8},
        7.218835 * M_PER_H_OF_GPM_PER_FT2,
        2e-5,
        "F",
        *PSDM,
        "published formula",
    ),
    Case(
        "C20 bed volumes a day", psdm_bed_volumes_per_d, {}, 153.185513, 2e-4, "F", *PSDM, "published formula"
    ),
    Case(
        "C20 bed",
        vertical_cylinder_l,
        {"dip_cm": 276.5, "diameter_cm": 304.8},
        PSDM_BED_L,
        0.02,
        "F",
        *PSDM,
        "published formula",
    ),
    Case(
        "C21 drum",
        vertical_cylinder_l,
        {"dip_cm": 3 * 30.48, "diameter_cm": 1.5 * 30.48},
        5.3 * 28.316846592,
        0.05 * 28.316846592,
        "R",
        KUO[0],
        "example 6.9: 5.3 ft³",
        "published",
    ),
    Case(
        "C22 contact time",
        empty_bed_contact_min,
        {"bed_l": DRUM_L, "flow_l_per_h": 30 * L_PER_H_OF_GPM},
        1.321917,
        2e-5,
        "R",
        *KUO,
        "derived",
    ),
    Case(
        "C22 velocity",
        superficial_velocity_m_per_h,
        {"flow_l_per_h": 30 * L_PER_H_OF_GPM, "diameter_cm": 1.5 * 30.48},
        16.98 * M_PER_H_OF_GPM_PER_FT2,
        0.005 * M_PER_H_OF_GPM_PER_FT2,
        "R",
        *KUO,
        "derived",
    ),
    *[
        Case(
            f"C12 {per_h} bed volumes per hour",
            empty_bed_contact_min,
            {"bed_l": 7.853982, "flow_l_per_h": flow},
            contact,
            1e-5,
            "R",
            *CASE_B,
            "derived",
        )
        for per_h, flow, contact in (
            (2, 15.70796, 30),
            (3, 23.56194, 20),
            (5, 39.26991, 12),
            (10, 78.53982, 6),
        )
    ],
    Case(
        "C3 soap held per litre of bed",
        taken_up_g,
        {"inlet_mg_per_kg": 1200, "outlet_mg_per_kg": 50, "fuel_kg": 550 * 0.88},
        556.6,
        0.5,
        "K",
        *WALL,
        "derived",
    ),
    Case(
        "C3 to nothing",
        taken_up_g,
        {"inlet_mg_per_kg": 1200, "outlet_mg_per_kg": 0, "fuel_kg": 550 * 0.88},
        580.8,
        0.5,
        "K",
        *WALL,
        "derived",
    ),
    Case(
        "C3 back to a content",
        content_mg_per_kg,
        {"held_g": 580.8, "fuel_kg": 550 * 0.88},
        1200,
        0.5,
        "K",
        *WALL,
        "derived",
    ),
    Case(
        "C4 glycerol",
        taken_up_g,
        {"inlet_mg_per_kg": 800, "outlet_mg_per_kg": 200, "fuel_kg": 200 * 0.88},
        105.6,
        0.1,
        "R",
        *WALL,
        "derived",
    ),
    Case(
        "C4 glycerol to nothing",
        taken_up_g,
        {"inlet_mg_per_kg": 800, "outlet_mg_per_kg": 0, "fuel_kg": 200 * 0.88},
        140.8,
        0.1,
        "R",
        *WALL,
        "derived",
    ),
    Case(
        "C27 share of the bed used",
        share_pct,
        {"part": 27.9, "whole": 32},
        87.2,
        0.1,
        "R",
        "McCabe, Smith and Harriott, example 25.2 scaled",
        "27.9 of 32 cm",
        "secondary copy",
    ),
    Case(
        "C23 bed volumes at break",
        bed_volumes,
        {"fuel_l": 40.293454 * 3090527.679639, "bed_l": PSDM_BED_L},
        6172.373,
        0.01,
        "R",
        "NumPy 2.4.6 on PSDM Example_TCE",
        "100 µg/L after 40.293454 d",
        "library",
    ),
]


@each(CASES)
def test_columns(case: Case) -> None:
    case.check()


@pytest.mark.parametrize("base_mol_per_kg", [304.44395, 320.55248])
def test_soap_held_is_what_a_strong_acid_resin_holds(base_mol_per_kg: float) -> None:
    """C3 against C5: 1.7 to 2.0 eq/L of a strong-acid gel resin (from memory), an independent route."""
    assert 1.7 <= taken_up_g(1200, 50, 550 * 0.88) / base_mol_per_kg <= 2.0


def test_velocity_and_contact_time_agree_on_the_depth_of_the_bed() -> None:
    """Depth = velocity x time: two routes to one length (derived, F)."""
    bed_l = vertical_cylinder_l(100, 10)
    depth_m = superficial_velocity_m_per_h(40, 10) * empty_bed_contact_min(bed_l, 40) / 60
    assert depth_m == pytest.approx(1.0, rel=1e-12)
    assert bed_l == pytest.approx(2.5 * math.pi, rel=1e-12)
