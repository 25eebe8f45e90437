"""Numbers that carry what they hang on: the value, and to first order how far each input moves it.

The formulas reckon with them as with any number, so that nothing is written twice: once for a figure and once for how sure
it is. An input that enters twice is one and the same, and may cancel. Tests hold every operation against a public library.
"""

from __future__ import annotations

from math import sqrt
from typing import Any, Union

UNCLEAR = "whether a number is another one, or nothing, is asked of its plain value"
Terms = list[tuple[float, "Linear"]]
Slopes = dict["Input", float]
Number = Union[float, "Linear"]


class Input:
    """What was read, under its name, with its standard uncertainty in the unit of its value; itself alone, whatever others are like."""

    __slots__ = ("name", "u")

    def __init__(self, name: str, u: float) -> None:
        """Independent of every other input."""
        self.name, self.u = name, u


class Linear:
    """A value, and its slope by each input; the slopes are laid together when they are asked for.

    It can be added, multiplied and so on, but not compared: for that, code takes its plain value.
    """

    __slots__ = ("_made_of", "nominal_value")
    __hash__ = None  # type: ignore[assignment]

    def __init__(self, value: float, made_of: Terms | Slopes) -> None:
        """What a number is made of: others, each with the slope by it, or inputs, where all of these are known."""
        self.nominal_value = value
        self._made_of = made_of

    def components(self) -> list[tuple[Input, float]]:
        """How far each input moves the number by its own standard uncertainty; never below zero."""
        return [(each, abs(slope * each.u)) for each, slope in self._slopes().items()]

    @property
    def std_dev(self) -> float:
        """The combined standard uncertainty."""
        return sqrt(sum(u**2 for _, u in self.components()))

    def _slopes(self) -> Slopes:
        if isinstance(self._made_of, list):
            found: Slopes = {}
            left = self._made_of
            while left:
                outer, number = left.pop()
                inside = number._made_of
                if isinstance(inside, list):
                    left.extend([(outer * slope, of) for slope, of in inside])
                else:
                    for each, slope in inside.items():
                        found[each] = found.get(each, 0.0) + outer * slope
            self._made_of = found
        return self._made_of

    def __add__(self, other: Number) -> Linear:
        if isinstance(other, Linear):
            return Linear(self.nominal_value + other.nominal_value, [(1.0, self), (1.0, other)])
        return Linear(self.nominal_value + other, [(1.0, self)])

    def __radd__(self, other: float) -> Linear:
        return Linear(other + self.nominal_value, [(1.0, self)])

    def __sub__(self, other: Number) -> Linear:
        if isinstance(other, Linear):
            return Linear(self.nominal_value - other.nominal_value, [(1.0, self), (-1.0, other)])
        return Linear(self.nominal_value - other, [(1.0, self)])

    def __rsub__(self, other: float) -> Linear:
        return Linear(other - self.nominal_value, [(-1.0, self)])

    def __mul__(self, other: Number) -> Linear:
        x = self.nominal_value
        if isinstance(other, Linear):
            y = other.nominal_value
            return Linear(x * y, [(y, self), (x, other)])
        return Linear(x * other, [(other, self)])

    def __rmul__(self, other: float) -> Linear:
        return Linear(other * self.nominal_value, [(other, self)])

    def __truediv__(self, other: Number) -> Linear:
        x = self.nominal_value
        if isinstance(other, Linear):
            y = other.nominal_value
            return Linear(x / y, [(1 / y, self), (-x / y**2, other)])
        return Linear(x / other, [(1 / other, self)])

    def __rtruediv__(self, other: float) -> Linear:
        y = self.nominal_value
        return Linear(other / y, [(-other / y**2, self)])

    def __repr__(self) -> str:
        return f"{self.nominal_value} ± {self.std_dev}"

    def __bool__(self) -> bool:
        raise TypeError(UNCLEAR)

    def __eq__(self, other: object) -> bool:
        raise TypeError(UNCLEAR)


def read(value: float, u: float, name: str) -> Any:
    """What an instrument showed, as a number that hangs on itself alone; formulas take it as any other."""
    return Linear(float(value), {Input(name, u): 1.0})
