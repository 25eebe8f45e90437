"""One value, an array, a column: the same figures; an unknown stays unknown."""

from __future__ import annotations

import inspect
import math
from collections.abc import Callable
from types import ModuleType
from typing import Any

import numpy as np
import pandas as pd
import pytest

from generator.formulas import acidity, columns, density, dose, economics, soap, stoichiometry, tanks

MODULES: list[ModuleType] = [acidity, columns, density, dose, economics, soap, stoichiometry, tanks]


def of_numbers_alone(module: ModuleType) -> list[Callable[..., Any]]:
    """The public functions of a module that take numbers and nothing else."""
    return [
        each
        for name, each in vars(module).items()
        if inspect.isfunction(each)
        and each.__module__ == module.__name__
        and not name.startswith("_")
        and all(p.annotation == "float" for p in inspect.signature(each).parameters.values())
    ]


# One tank and one dip at a time, and only what can be a tank: held against the library in tests/reference.
OF_ONE_TANK = {
    "horizontal_cylinder_l", "conical_heads_l", "torispherical_depth_cm", "torispherical_bottom_l", "torispherical_heads_l",
}  # fmt: skip
FORMULAS = [
    formula
    for module in MODULES
    for formula in of_numbers_alone(module)
    if formula.__name__ not in OF_ONE_TANK
]
INPUTS = [(1.5, 0.25, 0.5, 3.0, 2.0), (2.5, 0.75, 0.3, 7.0, 5.0), (40.0, 2.0, 0.9, 11.0, 13.0)]


def arity(formula: Callable[..., Any]) -> int:
    return len(inspect.signature(formula).parameters)


def test_most_formulas_take_numbers_alone() -> None:
    assert len(FORMULAS) >= 30


@pytest.mark.parametrize("formula", FORMULAS, ids=lambda f: f.__name__)
def test_a_column_gives_what_its_values_give(formula: Callable[..., Any]) -> None:
    wanted = [formula(*row[: arity(formula)]) for row in INPUTS]
    by_argument = list(zip(*INPUTS, strict=True))[: arity(formula)]
    array = formula(*(np.array(values) for values in by_argument))
    column = formula(*(pd.Series(values, index=["a", "b", "c"]) for values in by_argument))
    assert isinstance(array, np.ndarray)
    assert isinstance(column, pd.Series)
    assert array.tolist() == pytest.approx(wanted)
    assert column.tolist() == pytest.approx(wanted)
    assert list(column.index) == ["a", "b", "c"]


@pytest.mark.parametrize("formula", FORMULAS, ids=lambda f: f.__name__)
def test_an_unknown_argument_makes_the_figure_unknown(formula: Callable[..., Any]) -> None:
    for place in range(arity(formula)):
        inputs = list(INPUTS[0][: arity(formula)])
        inputs[place] = math.nan
        assert math.isnan(formula(*inputs)), f"argument {place} was NaN and the figure is known"
