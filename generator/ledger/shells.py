"""The shape of a tank as what it holds below a dip: litres at the temperature of the fuel in it."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Callable
from dataclasses import dataclass

from generator.formulas.tanks import (
    cone_bottom_l,
    conical_heads_l,
    ellipsoidal_bottom_l,
    ellipsoidal_heads_l,
    horizontal_cylinder_l,
    interpolated_l,
    torispherical_bottom_l,
    torispherical_depth_cm,
    torispherical_heads_l,
    vertical_cylinder_l,
)
from generator.formulas.uncertainty import from_limits
from generator.records import Cone, Cylinder, DipPoint, Ellipsoidal, End, LyingCylinder, Shape, Torispherical


@dataclass(frozen=True, slots=True)
class Shell:
    """What a tank holds below a dip, and between which dips that is known."""

    lowest_cm: float
    highest_cm: float
    below_l: Callable[[float], float]

    @property
    def capacity_l(self) -> float:
        """Volume of the whole shell; of a table its last line."""
        return self.below_l(self.highest_cm)

    @property
    def known_cm(self) -> tuple[float, float]:
        """The lowest and the highest dip at which it is known."""
        return self.lowest_cm, self.highest_cm

    def holds(self, dip_cm: float) -> bool:
        """Whether a dip lies in the tank, and in its table."""
        return self.lowest_cm <= dip_cm <= self.highest_cm

    def litres(self, dip_cm: float) -> float:
        """Litres below a dip; one outside counts as the nearest inside, which the check tells."""
        return self.below_l(min(max(dip_cm, self.lowest_cm), self.highest_cm))

    def standard_l(self, dip_cm: float, limit_cm: float) -> float:
        """Standard uncertainty of the litres from that of the dip alone: how far off the stick can be read."""
        reach_cm = from_limits(limit_cm)
        return (self.litres(dip_cm + reach_cm) - self.litres(dip_cm - reach_cm)) / 2


def shell_of(shape: Shape) -> Shell:
    """The shell of a shape."""
    if shape.vertical_cylinder is not None:
        return _standing(shape.vertical_cylinder)
    if shape.horizontal_cylinder is not None:
        return _lying(shape.horizontal_cylinder)
    assert shape.dip_table is not None
    return _table(shape.dip_table)


def _standing(tank: Cylinder) -> Shell:
    across, end = tank.diameter.value, tank.bottom
    depth = _depth_cm(end, across)

    def below_l(dip_cm: float) -> float:
        straight = vertical_cylinder_l(max(dip_cm - depth, 0.0), across)
        return straight + (_bottom_l(end, min(dip_cm, depth), across) if end is not None else 0.0)

    return Shell(0.0, depth + tank.height.value, below_l)


def _lying(tank: LyingCylinder) -> Shell:
    across, length, end = tank.diameter.value, tank.length.value, tank.heads

    def below_l(dip_cm: float) -> float:
        straight = horizontal_cylinder_l(dip_cm, across, length)
        return straight + (_heads_l(end, dip_cm, across) if end is not None else 0.0)

    return Shell(0.0, across, below_l)


def _table(points: tuple[DipPoint, ...]) -> Shell:
    dips, litres = [one.dip.value for one in points], [one.volume.value for one in points]

    def below_l(dip_cm: float) -> float:
        at = min(bisect_right(dips, dip_cm), len(dips) - 1)
        return interpolated_l(dip_cm, dips[at - 1], dips[at], litres[at - 1], litres[at])

    return Shell(dips[0], dips[-1], below_l)


def _depth_cm(end: End | None, across_cm: float) -> float:
    if end is None:
        return 0.0
    if isinstance(end, Torispherical):
        return torispherical_depth_cm(across_cm, end.dish.value, end.knuckle.value)
    return end.depth.value if isinstance(end, Cone | Ellipsoidal) else across_cm / 2


def _bottom_l(end: End, dip_cm: float, across_cm: float) -> float:
    if isinstance(end, Torispherical):
        return torispherical_bottom_l(dip_cm, across_cm, end.dish.value, end.knuckle.value)
    formula = cone_bottom_l if isinstance(end, Cone) else ellipsoidal_bottom_l
    return formula(dip_cm, across_cm, _depth_cm(end, across_cm))


def _heads_l(end: End, dip_cm: float, across_cm: float) -> float:
    if isinstance(end, Torispherical):
        return torispherical_heads_l(dip_cm, across_cm, end.dish.value, end.knuckle.value)
    formula = conical_heads_l if isinstance(end, Cone) else ellipsoidal_heads_l
    return formula(dip_cm, across_cm, _depth_cm(end, across_cm))
