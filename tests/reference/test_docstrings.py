"""Every formula says in its docstring what it gives, in which units, over which range, and who says so."""

from __future__ import annotations

import importlib
import inspect
import pkgutil
import re
from collections.abc import Callable
from typing import Any

import pytest

import generator.formulas

from .case import WORDS


def public_formulas() -> list[Callable[..., Any]]:
    """Every public function that a module of `generator.formulas` defines itself."""
    found: list[Callable[..., Any]] = []
    for module in pkgutil.iter_modules(generator.formulas.__path__, "generator.formulas."):
        for name, each in vars(importlib.import_module(module.name)).items():
            function = inspect.unwrap(each) if callable(each) else each
            if (
                inspect.isfunction(function)
                and not name.startswith("_")
                and function.__module__ == module.name
            ):
                found.append(function)
    return found


FORMULAS = public_formulas()


def test_there_are_formulas() -> None:
    assert len(FORMULAS) >= 40


@pytest.mark.parametrize("formula", FORMULAS, ids=lambda f: f"{f.__module__.rpartition('.')[2]}.{f.__name__}")
def test_docstring_names_units_range_and_source(formula: Callable[..., Any]) -> None:
    text = inspect.getdoc(formula) or ""
    for part in ("Units: ", "Range: ", "Source: "):
        assert text.count(part) == 1, f"{part}is missing or twice"
    source = " ".join(text.partition("Source: ")[2].split())
    assert any(word in source for word in WORDS), f"no word for how sure the source is: {source}"


@pytest.mark.parametrize("formula", FORMULAS, ids=lambda f: f"{f.__module__.rpartition('.')[2]}.{f.__name__}")
def test_docstring_names_the_unit_of_the_name(formula: Callable[..., Any]) -> None:
    """A function called `..._kg` must speak of kg."""
    spoken = {
        "_kg": "kg",
        "_g": " g out",
        "_l": "L out",
        "_ml": "mL out",
        "_pct": "%",
        "_min": "min out",
        "_per_h": "/h",
        "_mg_per_kg": "mg/kg",
        "_mg_koh_per_g": "mg KOH/g",
        "_mol_per_l": "mol/L",
        "_mol_per_kg": "mol/kg",
        "_g_per_mol": "g/mol",
        "_kg_per_m3": "kg/m³",
        "_mj_per_l": "MJ/L",
    }
    units = " ".join(re.sub(r"\s+", " ", inspect.getdoc(formula) or "").partition("Units: ")[2].split())
    ending = max((end for end in spoken if formula.__name__.endswith(end)), key=len, default=None)
    if ending is not None:
        assert spoken[ending] in units.partition("Range:")[0]
