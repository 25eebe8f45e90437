"""Volume in a tank from a dip: cylinders that stand and lie, and what closes them."""

from __future__ import annotations

import math

from generator.formulas.dished import Dished, Piece, Slice, Slicing


def vertical_cylinder_l(dip_cm: float, diameter_cm: float) -> float:
    """Volume below the dip in a standing cylinder with a flat bottom, at the temperature of the dip.

    Formula: V = pi / 4 * D ** 2 * h / 1000
    Where:
        V: volume below the dip, L
        pi (math.pi): circumference of a circle over its diameter, a pure number
        D (diameter_cm): inner diameter, cm
        h (dip_cm): dip, cm
    Range: dip from 0 to the tank's height, which the caller checks.
    Source: area of the circle times height; derived.
    """
    return math.pi / 4 * diameter_cm**2 * dip_cm / 1000


def cone_bottom_l(dip_cm: float, diameter_cm: float, depth_cm: float) -> float:
    """Volume below the dip in a cone that stands on its point under a cylinder.

    Formula: V = pi / 12 * (D * h / a) ** 2 * h / 1000
    Where:
        V: volume below the dip, L
        pi (math.pi): circumference of a circle over its diameter, a pure number
        D (diameter_cm): inner diameter of the cylinder, cm
        h (dip_cm): dip from the point of the cone, cm
        a (depth_cm): depth of the cone, cm
    Range: dip from 0 to the depth of the cone, which the caller checks.
    Source: volume of a cone; derived.
    """
    return math.pi / 12 * (diameter_cm * dip_cm / depth_cm) ** 2 * dip_cm / 1000


def ellipsoidal_bottom_l(dip_cm: float, diameter_cm: float, depth_cm: float) -> float:
    """Volume below the dip in half an ellipsoid of revolution under a standing cylinder; half a ball where a = D / 2.

    Formula: V = pi / 4 * (D / a) ** 2 * h ** 2 * (a - h / 3) / 1000
    Where:
        V: volume below the dip, L
        pi (math.pi): circumference of a circle over its diameter, a pure number
        D (diameter_cm): inner diameter of the cylinder, cm
        a (depth_cm): depth of the bottom, cm
        h (dip_cm): dip from its lowest point, cm
    Range: dip from 0 to the depth of the bottom, which the caller checks.
    Source: cap of a ball, stretched; derived.
    """
    return math.pi / 4 * (diameter_cm / depth_cm) ** 2 * dip_cm**2 * (depth_cm - dip_cm / 3) / 1000


def horizontal_cylinder_l(dip_cm: float, diameter_cm: float, length_cm: float) -> float:
    """Volume below the dip in the cylinder of a lying tank, between its heads, at the temperature of the dip.

    Formula: V = L * (R ** 2 * acos((R - h) / R) - (R - h) * sqrt(2 * R * h - h ** 2)) / 1000
    Where:
        V: volume below the dip, L
        L (length_cm): inner length of the cylinder, cm
        R (diameter_cm / 2): inner radius, cm
        h (dip_cm): dip, cm
    Range: dip from 0 to the diameter, which the caller checks.
    Source: segment of a circle times length; published formula.
    """
    radius_cm = diameter_cm / 2
    above_cm = radius_cm - dip_cm
    root_cm = math.sqrt(2 * radius_cm * dip_cm - dip_cm**2)
    return length_cm * (radius_cm**2 * math.acos(above_cm / radius_cm) - above_cm * root_cm) / 1000


def ellipsoidal_heads_l(dip_cm: float, diameter_cm: float, depth_cm: float) -> float:
    """Volume below the dip in the two ellipsoidal heads of a lying tank together; half balls where a = D / 2.

    Formula: V = pi * a * h ** 2 * (1 - 2 * h / (3 * D)) / 1000
    Where:
        V: volume below the dip in both heads, L
        pi (math.pi): circumference of a circle over its diameter, a pure number
        a (depth_cm): depth of one head, cm
        h (dip_cm): dip, cm
        D (diameter_cm): inner diameter, cm
    Range: dip from 0 to the diameter, which the caller checks.
    Source: cap of a ball, stretched; derived.
    """
    return math.pi * depth_cm * dip_cm**2 * (1 - 2 * dip_cm / (3 * diameter_cm)) / 1000


def interpolated_l(dip_cm: float, lower_cm: float, upper_cm: float, lower_l: float, upper_l: float) -> float:
    """Volume below a dip that lies between two lines of the tank's own table.

    Formula: V = V_1 + (V_2 - V_1) * (h - h_1) / (h_2 - h_1)
    Where:
        V: volume below the dip, L
        V_1 (lower_l): volume of the line below, L
        V_2 (upper_l): volume of the line above, L
        h (dip_cm): dip, cm
        h_1 (lower_cm): dip of the line below, cm
        h_2 (upper_cm): dip of the line above, cm
    Range: between the two lines, never beyond the ends of the table, which the caller checks.
    Source: straight line; derived.
    """
    return lower_l + (upper_l - lower_l) * (dip_cm - lower_cm) / (upper_cm - lower_cm)


def conical_heads_l(dip_cm: float, diameter_cm: float, depth_cm: float) -> float:
    """Volume below the dip in the two conical heads of a lying tank together: segments of circles along the axis.

    Formula: V = 2 * sum(w_i * A_i) / 1000
    Where:
        V: volume below the dip in both heads, L
        w_i ([part.width_cm for part in Slicing.lying(dip_cm, diameter_cm / 2, _cone(diameter_cm, depth_cm))]): width of a
            slice of one head along the axis, cm
        A_i ([part.area_cm2 for part in Slicing.lying(dip_cm, diameter_cm / 2, _cone(diameter_cm, depth_cm))]): area of the
            segment that is wetted there, cm²
    Range: dip from 0 to the diameter.
    Source: the segments added up by double exponential quadrature; derived.
    """
    return 2 * _litres(Slicing.lying(dip_cm, diameter_cm / 2, _cone(diameter_cm, depth_cm)))


def torispherical_depth_cm(diameter_cm: float, dish_radius_cm: float, knuckle_radius_cm: float) -> float:
    """Depth of a dished head: part of a ball, and a knuckle round it that runs into the cylinder.

    Formula: a = F - sqrt((F - K) ** 2 - (R - K) ** 2)
    Where:
        a: depth of the head from the edge of the cylinder, cm
        F (dish_radius_cm): inner radius of the dish, cm
        K (knuckle_radius_cm): inner radius of the knuckle, cm
        R (diameter_cm / 2): inner radius of the cylinder, cm
    Range: knuckle no wider than the cylinder, dish no narrower.
    Source: the triangle between the centres of dish and knuckle; derived.
    """
    return Dished.of(diameter_cm, dish_radius_cm, knuckle_radius_cm).depth_cm


def torispherical_bottom_l(
    dip_cm: float, diameter_cm: float, dish_radius_cm: float, knuckle_radius_cm: float
) -> float:
    """Volume below the dip in a dished bottom: circles along its standing axis. A dip above it leaves it full.

    Formula: V = sum(w_i * A_i) / 1000
    Where:
        V: volume below the dip in the bottom, L
        w_i ([part.width_cm for part in Slicing.standing(dip_cm, _dish(diameter_cm, dish_radius_cm, knuckle_radius_cm))]):
            width of a slice along the axis, cm
        A_i ([part.area_cm2 for part in Slicing.standing(dip_cm, _dish(diameter_cm, dish_radius_cm, knuckle_radius_cm))]):
            area of the circle there, cm²
    Range: dip 0 or above from the lowest point; knuckle no wider than the cylinder, dish no narrower.
    Source: the circles added up by double exponential quadrature; derived.
    """
    return _litres(Slicing.standing(dip_cm, _dish(diameter_cm, dish_radius_cm, knuckle_radius_cm)))


def torispherical_heads_l(
    dip_cm: float, diameter_cm: float, dish_radius_cm: float, knuckle_radius_cm: float
) -> float:
    """Volume below the dip in the two dished heads of a lying tank together: segments of circles along the axis.

    Formula: V = 2 * sum(w_i * A_i) / 1000
    Where:
        V: volume below the dip in both heads, L
        w_i ([part.width_cm for part in Slicing.lying(dip_cm, diameter_cm / 2, _dish(diameter_cm, dish_radius_cm,
            knuckle_radius_cm))]): width of a slice of one head along the axis, cm
        A_i ([part.area_cm2 for part in Slicing.lying(dip_cm, diameter_cm / 2, _dish(diameter_cm, dish_radius_cm,
            knuckle_radius_cm))]): area of the segment that is wetted there, cm²
    Range: dip from 0 to the diameter; knuckle no wider than the cylinder, dish no narrower.
    Source: the segments added up by double exponential quadrature; derived.
    """
    head = _dish(diameter_cm, dish_radius_cm, knuckle_radius_cm)
    return 2 * _litres(Slicing.lying(dip_cm, diameter_cm / 2, head))


def _cone(diameter_cm: float, depth_cm: float) -> list[Piece]:
    return [Piece(0.0, depth_cm, lambda along_cm: diameter_cm / 2 * (1 - along_cm / depth_cm))]


def _dish(diameter_cm: float, dish_radius_cm: float, knuckle_radius_cm: float) -> list[Piece]:
    return Dished.of(diameter_cm, dish_radius_cm, knuckle_radius_cm).pieces()


def _litres(slices: list[Slice]) -> float:
    return math.fsum(part.width_cm * part.area_cm2 for part in slices) / 1000
