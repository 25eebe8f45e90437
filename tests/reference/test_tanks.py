"""Volume in a tank from a dip, against fluids and closed forms."""

from __future__ import annotations

import math

import fluids
import pytest

from generator.formulas.blend import blended_cloud_point_c, mixed_content
from generator.formulas.tanks import (
    cone_bottom_l,
    conical_heads_l,
    ellipsoidal_bottom_l,
    ellipsoidal_heads_l,
    horizontal_cylinder_l,
    torispherical_bottom_l,
    torispherical_depth_cm,
    torispherical_heads_l,
    vertical_cylinder_l,
)

from .case import Case, each

IN_CM, GALLON_L = 2.54, 231 * 2.54**3 / 1000
FLUIDS = ("fluids 1.3.1", "geometry, V_from_h")
DOCUMENTED = ("fluids 1.3.1", "geometry, documented cases")
CLOSED = ("closed form", "segment of a circle")
# an example tank of the library: 108 in wide, 156 in long, dipped at 36 in; heads of 42 in
WIDE, LONG, DIP, DEEP = 108 * IN_CM, 156 * IN_CM, 36 * IN_CM, 42 * IN_CM


def lying(dip_cm: float, diameter_cm: float, length_cm: float, heads_l: float) -> float:
    """Cylinder and heads together, L."""
    return horizontal_cylinder_l(dip_cm, diameter_cm, length_cm) + heads_l


def example(heads: str) -> float:
    """The example tank with its heads, US gal."""
    both = {
        "flat": lambda: 0.0,
        "conical": lambda: conical_heads_l(DIP, WIDE, DEEP),
        "ellipsoidal": lambda: ellipsoidal_heads_l(DIP, WIDE, DEEP),
        "torispherical": lambda: torispherical_heads_l(DIP, WIDE, WIDE * 1, WIDE * 0.06),
    }
    return lying(DIP, WIDE, LONG, both[heads]()) / GALLON_L


def lying_ellipsoidal_l(dip_cm: float) -> float:
    """A tank of 1 m by 2 m with heads of 0.25 m, L."""
    return lying(dip_cm, 100, 200, ellipsoidal_heads_l(dip_cm, 100, 25))


def coned_l(dip_cm: float) -> float:
    """A tank 0.6 m wide over a cone of 0.3 m, L."""
    straight = max(dip_cm - 30, 0.0)
    return cone_bottom_l(min(dip_cm, 30), 60, 30) + vertical_cylinder_l(straight, 60)


CASES = [
    *[
        Case(
            f"V1 lying cylinder at {dip} cm",
            horizontal_cylinder_l,
            {"dip_cm": dip, "diameter_cm": 100, "length_cm": 200},
            expected,
            1e-6,
            "R",
            *CLOSED,
            "library",
        )
        for dip, expected in (
            (10, 81.7505544),
            (20, 223.6476090),
            (25, 307.0924247),
            (50, 785.3981634),
            (75, 1263.7039021),
            (100, 1570.7963268),
        )
    ],
    Case(
        "20 % hydroxide diluted with water",
        mixed_content,
        {"kg": (1244, 1866), "contents": (20, 0)},
        8,
        1e-9,
        "R",
        "Felder and Rousseau, Elementary Principles of Chemical Processes, by a page of worked answers",
        "example, balances on a mixing unit: 1244 and 1866 lb/min make 3110 of 8 %",
        "secondary copy",
    ),
    Case(
        "two brines, closed to 0.1 %",
        mixed_content,
        {"kg": (13500, 26300), "contents": (25, 5)},
        11.8,
        0.05,
        "R",
        "a textbook's problem on a mixer of two streams, by a page of worked answers",
        "problem P6.4: 13,500 kg/h of 25 % and 26,300 of 5 %, measured 11.8 %",
        "secondary copy",
    ),
    Case(
        "halves of 2 and 6 °C",
        blended_cloud_point_c,
        {"litres": (50, 50), "points_c": (2, 6)},
        4,
        1e-12,
        "F",
        "linear in the volume share",
        "mean of two halves",
        "derived",
    ),
    *[
        Case(
            f"V3 36 in by 48 in at {inches} in",
            horizontal_cylinder_l,
            {"dip_cm": inches * IN_CM, "diameter_cm": 36 * IN_CM, "length_cm": 48 * IN_CM},
            expected,
            1e-5,
            "R",
            *CLOSED,
            "derived",
        )
        for inches, expected in ((9, 156.526003), (12, 233.619864), (18, 400.319988), (27, 644.113972))
    ],
    *[
        Case(f"V5 {name}", example, {"heads": name}, expected, 1e-6, "R", *DOCUMENTED, "library")
        for name, expected in (
            ("flat", 1805.1882879545),
            ("conical", 2041.1923581273),
            ("ellipsoidal", 2380.9565415578),
            ("torispherical", 2028.6266708421),
        )
    ],
    *[
        Case(f"V6 ellipsoidal heads at {dip} cm", lying_ellipsoidal_l, {"dip_cm": dip}, expected, 1e-6, "R", *FLUIDS, "library")
        for dip, expected in ((10, 89.0809373), (25, 347.9985790), (50, 916.2978573), (100, 1832.5957146))
    ],
    *[
        Case(f"V7 cone bottom at {dip} cm", coned_l, {"dip_cm": dip}, expected, 1e-7, "R", "cone, then cylinder", "closed form", "derived")
        for dip, expected in ((10, 1.04719755), (20, 8.37758041), (30, 28.27433388), (50, 84.82300165), (120, 282.74333882))
    ],
]  # fmt: skip


@each(CASES)
def test_volume(case: Case) -> None:
    case.check()


DIPS = (0.5, 3.0, 8.0, 20.0, 50.0, 61.0, 99.0, 99.9)


@pytest.mark.parametrize("dip_cm", DIPS)
def test_lying_heads_are_those_of_the_library(dip_cm: float) -> None:
    """Fluids 1.3.1, horizontal partially filled tanks of 1 m by 2 m (library); its dished ones are integrals too."""
    at_m = dip_cm / 100
    cone = fluids.geometry.V_horiz_conical(1, 2, 0.4, at_m, headonly=True)
    ball = fluids.geometry.V_horiz_ellipsoidal(1, 2, 0.5, at_m, headonly=True)
    dish = fluids.geometry.V_horiz_torispherical(1, 2, 0.9, 0.1, at_m, headonly=True)
    assert conical_heads_l(dip_cm, 100, 40) == pytest.approx(2000 * cone, rel=1e-8)
    assert ellipsoidal_heads_l(dip_cm, 100, 50) == pytest.approx(2000 * ball, rel=1e-9)
    assert torispherical_heads_l(dip_cm, 100, 90, 10) == pytest.approx(2000 * dish, rel=2e-6)


@pytest.mark.parametrize("dip_cm", [0.5, 1.0, 5.0, 9.9, 12.0, 20.0, 60.0])
def test_bottoms_are_those_of_the_library(dip_cm: float) -> None:
    """Fluids 1.3.1, vertical tanks 1 m wide (library)."""
    at_m = dip_cm / 100
    depth_cm = torispherical_depth_cm(100, 90, 10)
    dish = torispherical_bottom_l(dip_cm, 100, 90, 10)
    dish += vertical_cylinder_l(max(dip_cm - depth_cm, 0.0), 100)
    assert dish == pytest.approx(1000 * fluids.geometry.V_vertical_torispherical(1, 0.9, 0.1, at_m), rel=1e-9)
    ball = ellipsoidal_bottom_l(min(dip_cm, 25.0), 100, 25) + vertical_cylinder_l(max(dip_cm - 25, 0.0), 100)
    assert ball == pytest.approx(1000 * fluids.geometry.V_vertical_ellipsoidal(1, 0.25, at_m), rel=1e-12)
    cone = cone_bottom_l(min(dip_cm, 25.0), 100, 25) + vertical_cylinder_l(max(dip_cm - 25, 0.0), 100)
    assert cone == pytest.approx(1000 * fluids.geometry.V_vertical_conical(1, 0.25, at_m), rel=1e-12)


@pytest.mark.parametrize("dip_cm", [12.5, 30.0, 44.0])
def test_what_stands_above_the_middle_lies_below_it_upside_down(dip_cm: float) -> None:
    """A lying tank is alike above and below its middle (derived)."""
    for heads, measures in (
        (conical_heads_l, (30,)),
        (ellipsoidal_heads_l, (25,)),
        (torispherical_heads_l, (100, 6)),
    ):
        below, above = heads(dip_cm, 100, *measures), heads(100 - dip_cm, 100, *measures)
        assert below + above == pytest.approx(heads(100, 100, *measures), rel=1e-9)


def test_a_dish_without_a_knuckle_is_the_cap_of_a_ball() -> None:
    """Cap of a ball of radius 1 m cut at 0.5 m: pi h² (3R - h) / 3 (published formula)."""
    depth = torispherical_depth_cm(100, 100, 0)
    assert depth == pytest.approx(100 - math.sqrt(100**2 - 50**2))
    cap_l = math.pi * depth**2 * (300 - depth) / 3 / 1000
    assert torispherical_bottom_l(depth, 100, 100, 0) == pytest.approx(cap_l, rel=1e-9)
    assert torispherical_heads_l(100, 100, 100, 0) == pytest.approx(2 * cap_l, rel=1e-9)


@pytest.mark.parametrize("dip_cm", [-0.1, 100.1])
def test_a_dip_outside_a_lying_tank_is_refused(dip_cm: float) -> None:
    """A tank of 100 cm across is empty at 0 and full at 100 (derived)."""
    for heads, measures in ((conical_heads_l, (30,)), (torispherical_heads_l, (100, 6))):
        assert heads(0, 100, *measures) == 0
        with pytest.raises(ValueError, match="outside the tank"):
            heads(dip_cm, 100, *measures)
