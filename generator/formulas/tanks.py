"""Volume in a tank from a dip."""

from __future__ import annotations

import math


def vertical_cylinder_l(dip_cm: float, diameter_cm: float) -> float:
    """Volume below the dip in a standing cylinder with a flat bottom, at the temperature of the dip.

    Units: cm (inner measures) in, L out.
    Range: dip from 0 to the tank's height, which the caller checks.
    Source: area of the circle times height; derived.
    """
    return math.pi / 4 * diameter_cm**2 * dip_cm / 1000
