"""Volume in a tank from a dip."""

from __future__ import annotations

import math


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
