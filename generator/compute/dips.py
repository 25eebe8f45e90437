"""What a dip of each tank means: its shape in words, and the litres below a row of round dips."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from math import ceil
from typing import assert_never

import pandas as pd

from generator.compute.frames import frame
from generator.fields import plainly
from generator.language import tell
from generator.ledger.shells import Shell
from generator.ledger.tanks import TankBook
from generator.log import Entry
from generator.records import (
    Cone,
    Cylinder,
    Ellipsoidal,
    End,
    Hemispherical,
    LyingCylinder,
    Shape,
    Tank,
    Torispherical,
)
from generator.tables import DIPS
from generator.units import Quantity, units

MOST = 20  # lines of a tank whose dips are not its own table's
STEPS = {"cm": (1, 2, 5, 10, 20, 50, 100), "in": (1, 2, 3, 6, 12, 24)}


def dips(tanks: Mapping[str, Entry[Tank]], books: Mapping[str, TankBook]) -> pd.DataFrame:
    """One row per line: the dip, and what lies below it at the temperature of the fuel in the tank."""
    return frame(
        DIPS,
        [
            {
                "tank": name,
                "shape": _shape_text(tank.record.shape),
                "dip": told,
                "dip_cm": cm,
                "below_l": below_l,
                "share_pct": 100 * below_l / books[name].shell.capacity_l,
            }
            for name, tank in tanks.items()
            for told, cm in _lines(tank.record.shape, books[name].shell)
            for below_l in (books[name].shell.litres(cm),)
        ],
    )


def _lines(shape: Shape, shell: Shell) -> Iterator[tuple[str, float]]:
    """Dips as they are told, and in cm: those of the tank's own table, or round ones up to the brim."""
    if shape.dip_table is not None:
        yield from ((line.dip.text, line.dip.value) for line in shape.dip_table)
        return
    unit = "in" if _across(shape).unit.symbol in ("in", "ft") else "cm"
    cm = float(units("length")[unit].factor)
    high = shell.highest_cm / cm
    step = next((step for step in STEPS[unit] if high / step <= MOST), STEPS[unit][-1])
    yield from ((f"{place * step} {unit}", place * step * cm) for place in range(1, ceil(high / step - 1e-9)))
    yield f"{plainly(high, 4)} {unit}", shell.highest_cm


def _across(shape: Shape) -> Quantity:
    cylinder = shape.vertical_cylinder or shape.horizontal_cylinder
    assert cylinder is not None
    return cylinder.diameter


def _shape_text(shape: Shape) -> str:
    if shape.vertical_cylinder is not None:
        return _standing(shape.vertical_cylinder)
    if shape.horizontal_cylinder is not None:
        return _lying(shape.horizontal_cylinder)
    assert shape.dip_table is not None
    return tell("its own table of {lines} dips, read straight between them", lines=len(shape.dip_table))


def _standing(tank: Cylinder) -> str:
    return tell(
        "standing cylinder, {diameter} across and {height} high; bottom: {end}",
        diameter=tank.diameter.text,
        height=tank.height.text,
        end=_end_text(tank.bottom),
    )


def _lying(tank: LyingCylinder) -> str:
    return tell(
        "lying cylinder, {diameter} across and {length} long; each head: {end}",
        diameter=tank.diameter.text,
        length=tank.length.text,
        end=_end_text(tank.heads),
    )


def _end_text(end: End | None) -> str:
    match end:
        case None:
            return tell("flat")
        case Cone():
            return tell("a cone {depth} deep", depth=end.depth.text)
        case Hemispherical():
            return tell("half a ball")
        case Ellipsoidal():
            return tell("half an ellipsoid {depth} deep", depth=end.depth.text)
        case Torispherical():
            return tell(
                "dished, radius {dish}, with a knuckle of {knuckle}",
                dish=end.dish.text,
                knuckle=end.knuckle.text,
            )
        case _:
            assert_never(end)
