"""Every operation, and whole expressions of them, against the library `uncertainties`: values, uncertainties, components."""

from __future__ import annotations

import operator
from collections.abc import Callable, Sequence
from random import Random
from typing import Any

import pytest
import uncertainties

from generator.ledger.linear import Linear, read

OPERATORS: tuple[Callable[[Any, Any], Any], ...] = (
    operator.add,
    operator.sub,
    operator.mul,
    operator.truediv,
)
READINGS = ((190.0, 1.5), (0.88, 0.004), (12.5, 0.05), (-3.0, 0.2), (1e-3, 1e-4))


def both() -> tuple[list[Any], list[Any]]:
    """The same readings twice, and two numbers without any uncertainty behind them."""
    plain: list[Any] = [1000, 0.5]
    ours = [read(value, u, f"input {place}") for place, (value, u) in enumerate(READINGS)]
    theirs = [
        uncertainties.ufloat(value, u, tag=f"input {place}") for place, (value, u) in enumerate(READINGS)
    ]
    return [*ours, *plain], [*theirs, *plain]


def told(number: Any) -> tuple[Any, ...]:
    """All that a number says, exactly; in the order in which it is said, of which the last digit of a sum hangs."""
    if isinstance(number, Linear):
        parts = [(each.name, u) for each, u in number.components()]
        return number.nominal_value, number.std_dev, parts
    if isinstance(number, uncertainties.UFloat):
        parts = [(each.tag, u) for each, u in number.error_components().items()]
        return number.nominal_value, number.std_dev, parts
    return (number,)


def grown(numbers: Sequence[Any], chance: Random) -> list[Any]:
    """Numbers made of one another, as formulas do; some are asked how sure they are before others are made of them."""
    out = list(numbers)
    for _ in range(60):
        make, first, second = chance.choice(OPERATORS), chance.choice(out), chance.choice(out)
        asked = chance.random() < 0.2
        if (
            abs(getattr(second, "nominal_value", second)) < 1e-6
            or abs(getattr(first, "nominal_value", first)) > 1e6
        ):
            continue
        out.append(make(first, second))
        if asked:
            told(out[-1])
    return out


@pytest.mark.parametrize("make", OPERATORS)
def test_an_operation_gives_what_the_library_gives(make: Callable[[Any, Any], Any]) -> None:
    ours, theirs = both()
    for place in range(len(ours)):
        for other in range(len(ours)):
            assert told(make(ours[place], ours[other])) == told(make(theirs[place], theirs[other]))


def test_whole_expressions_give_the_same_to_the_last_digit() -> None:
    compared = 0
    for seed in range(200):
        ours, theirs = both()
        for mine, its in zip(grown(ours, Random(seed)), grown(theirs, Random(seed)), strict=True):
            assert told(mine) == told(its), seed
            compared += isinstance(mine, Linear)
    assert compared > 5000


def test_what_is_no_number_is_refused() -> None:
    with pytest.raises(TypeError):
        read(1.0, 0.1, "input") + "a text"


def test_nothing_is_decided_by_a_number_that_is_not_sure() -> None:
    number = read(1.0, 0.1, "input")
    decide: tuple[Callable[[], object], ...] = (
        lambda: number == 1.0,
        lambda: number != 1.0,
        lambda: number > 0.5,
        lambda: number >= 0.5,
        lambda: not number,
        lambda: {number},
    )
    for one in decide:
        with pytest.raises(TypeError):
            one()
