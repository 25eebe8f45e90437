"""Bodies of revolution cut into slices: the heads and bottoms of tanks that no short formula gives."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Final


@dataclass(frozen=True, slots=True)
class Slice:
    """One slice of a body: how wide it is along the axis, and the area that is wetted there."""

    width_cm: float
    area_cm2: float


@dataclass(frozen=True, slots=True)
class Piece:
    """Part of an outline along the axis, with the radius there; smooth between its ends."""

    first_cm: float
    last_cm: float
    radius_cm: Callable[[float], float]


@dataclass(frozen=True, slots=True)
class Dished:
    """A dished head: part of a ball, and a knuckle round it that runs into the cylinder; its axis runs outwards."""

    radius_cm: float
    dish_cm: float
    knuckle_cm: float

    @classmethod
    def of(cls, diameter_cm: float, dish_radius_cm: float, knuckle_radius_cm: float) -> Dished:
        """The head of a cylinder; ValueError where dish or knuckle do not meet it."""
        if not knuckle_radius_cm <= diameter_cm / 2 <= dish_radius_cm:
            raise ValueError("a dish narrower than the cylinder, or a knuckle wider")
        return cls(diameter_cm / 2, dish_radius_cm, knuckle_radius_cm)

    @property
    def behind_cm(self) -> float:
        """How far inside the cylinder the centre of the dish lies."""
        return math.sqrt((self.dish_cm - self.knuckle_cm) ** 2 - (self.radius_cm - self.knuckle_cm) ** 2)

    @property
    def depth_cm(self) -> float:
        """How far the head reaches out."""
        return self.dish_cm - self.behind_cm

    @property
    def joint_cm(self) -> float:
        """How far out the knuckle becomes the dish."""
        between = self.dish_cm - self.knuckle_cm
        return self.knuckle_cm * self.behind_cm / between if between else 0.0

    def pieces(self) -> list[Piece]:
        """Knuckle and dish, from the edge of the cylinder outwards."""
        return [
            Piece(0.0, self.joint_cm, self._of_knuckle),
            Piece(self.joint_cm, self.depth_cm, self._of_dish),
        ]

    def _of_knuckle(self, along_cm: float) -> float:
        return self.radius_cm - self.knuckle_cm + math.sqrt(max(self.knuckle_cm**2 - along_cm**2, 0.0))

    def _of_dish(self, along_cm: float) -> float:
        return math.sqrt(max(self.dish_cm**2 - (along_cm + self.behind_cm) ** 2, 0.0))


# Double exponential quadrature (Takahasi and Mori 1974): nodes and weights of the interval from -1 to 1. It takes what is
# rough at the ends of a piece, as a segment is where the level runs out of the head.
_STEP: Final = 1 / 8
_NODES: Final = tuple(
    (
        math.tanh(math.pi / 2 * math.sinh(_STEP * place)),
        _STEP
        * math.pi
        / 2
        * math.cosh(_STEP * place)
        / math.cosh(math.pi / 2 * math.sinh(_STEP * place)) ** 2,
    )
    for place in range(-26, 27)
)


class Slicing:
    """Bodies of revolution below a level, as slices across their axis; the sum of width times area is the volume."""

    @staticmethod
    def standing(dip_cm: float, pieces: Sequence[Piece]) -> list[Slice]:
        """A body whose axis stands, filled from the end of its last piece up to a dip."""
        if dip_cm < 0:
            raise ValueError("a dip below the lowest point")
        level = pieces[-1].last_cm - dip_cm
        return [
            part
            for piece in pieces
            if piece.last_cm > level
            for part in _cut(max(piece.first_cm, level), piece.last_cm, _circles(piece))
        ]

    @staticmethod
    def lying(dip_cm: float, radius_cm: float, pieces: Sequence[Piece]) -> list[Slice]:
        """A body whose axis lies, filled to a dip above the lowest point of its widest circle."""
        if not 0 <= dip_cm <= 2 * radius_cm:
            raise ValueError("a dip outside the tank")
        aside_cm = abs(radius_cm - dip_cm)
        return [
            part
            for piece in pieces
            for first, last in pairwise(_ends(piece, aside_cm))
            for part in _cut(first, last, _segments(piece, radius_cm - dip_cm))
        ]


def _circles(piece: Piece) -> Callable[[float], float]:
    return lambda along_cm: math.pi * piece.radius_cm(along_cm) ** 2


def _segments(piece: Piece, below_centre_cm: float) -> Callable[[float], float]:
    return lambda along_cm: _segment_cm2(below_centre_cm, piece.radius_cm(along_cm))


def _ends(piece: Piece, aside_cm: float) -> list[float]:
    """The ends of a piece, and between them where its circles no longer reach the level, found by halving."""
    low, high = piece.first_cm, piece.last_cm
    if not piece.radius_cm(low) > aside_cm > piece.radius_cm(high):
        return [low, high]
    for _ in range(60):
        middle = (low + high) / 2
        low, high = (middle, high) if piece.radius_cm(middle) > aside_cm else (low, middle)
    return [piece.first_cm, (low + high) / 2, piece.last_cm]


def _segment_cm2(below_centre_cm: float, radius_cm: float) -> float:
    """Area of a circle below a level that lies so far below its centre."""
    if below_centre_cm >= radius_cm:
        return 0.0
    if below_centre_cm <= -radius_cm:
        return math.pi * radius_cm**2
    root = math.sqrt(radius_cm**2 - below_centre_cm**2)
    return radius_cm**2 * math.acos(below_centre_cm / radius_cm) - below_centre_cm * root


def _cut(first_cm: float, last_cm: float, area_cm2: Callable[[float], float]) -> list[Slice]:
    half, middle = (last_cm - first_cm) / 2, (last_cm + first_cm) / 2
    return [Slice(half * weight, area_cm2(middle + half * node)) for node, weight in _NODES]
