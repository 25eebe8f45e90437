"""Every formula says what it gives, in which units, over which range and who says so; what it says is what it computes.

The formula of a docstring is evaluated from its syntax tree, with a fixed set of operations: its symbols stand for
random arguments of the function, or for the expressions that the docstring names, evaluated in the function's module.
"""

from __future__ import annotations

import ast
import dataclasses
import inspect
import math
import random
import re
from collections.abc import Callable, Iterable, Mapping
from itertools import islice
from typing import Any

import pytest

from generator.data import rows
from generator.methods import CONFIDENCE, Described, described, name_of, public_formulas
from generator.render.mathml import mathml

from .case import WORDS

FORMULAS = list(public_formulas())
TOLERANCE = 1e-12  # relative; floating point in another order of the same operations
DRAWS, TRIES = 25, 500
NAMES = ["KOH", "NaOH", "KOCH3", "NaOCH3", "fuel", "diesel", "methanol", "oil", "18:1", "oleic"]
UNIT_OF_ENDING = {
    "kg": "kg",
    "g": "g",
    "l": "L",
    "ml": "mL",
    "pct": "%",
    "pct_v_v": "% vol",
    "min": "min",
    "h": "h",
    "c": "°C",
    "cm": "cm",
    "l_per_h": "L/h",
    "mg_per_kg": "mg/kg",
    "mg_koh_per_g": "mg KOH/g",
    "mol_per_l": "mol/L",
    "mol_per_kg": "mol/kg",
    "g_per_l": "g/L",
    "g_per_mol": "g/mol",
    "kg_per_l": "kg/L",
    "g_per_g": "g/g",
    "kg_per_m3": "kg/m³",
    "kg_per_m3_k": "kg/m³/K",
    "m_per_h": "m/h",
    "mj_per_l": "MJ/L",
}
WORDED_UNIT = re.compile(
    r"((in )?(the )?(same )?unit|any (one )?unit|a pure number$|a count$|bed volumes|currency)"
)
PLAIN_UNIT = re.compile(r"(%( m/m| vol)?|1|[A-Za-zµ°]+[²³]?)( (KOH|I₂))?(·[a-z]+)?(/(\d+ )?[A-Za-z]+[²³]?)*")

each_formula = pytest.mark.parametrize("formula", FORMULAS, ids=name_of)


def only_looks_up(formula: Callable[..., Any]) -> bool:
    """Whether a function takes nothing but a name: only such a one may go without a formula."""
    parameters = inspect.signature(formula).parameters.values()
    return bool(parameters) and all(parameter.annotation == "str" for parameter in parameters)


COMPUTED = [formula for formula in FORMULAS if not only_looks_up(formula)]
each_computed = pytest.mark.parametrize("formula", COMPUTED, ids=name_of)


def test_there_are_formulas() -> None:
    assert len(COMPUTED) >= 40


def test_the_words_for_how_sure_a_source_is_are_the_same_everywhere() -> None:
    assert CONFIDENCE == WORDS


@each_formula
def test_docstring_is_complete(formula: Callable[..., Any]) -> None:
    told = described(formula)
    assert told.summary.endswith((".", ":")), told.summary
    assert told.range.endswith(".")
    source = " ".join((inspect.getdoc(formula) or "").partition("Source:")[2].split())
    assert re.search(rf"({'|'.join(WORDS)})[^;]*\.$", source), (
        f"no word for how sure it is at the end: {source}"
    )


@each_computed
def test_every_symbol_of_a_formula_is_told_once_with_its_unit(formula: Callable[..., Any]) -> None:
    told = described(formula)
    names = [symbol.name for symbol in told.symbols]
    assert len(names) == len(set(names))
    assert set(names) == {name for text in told.formulas for name in names_in(text)}
    assert [symbol.name for symbol in told.symbols if not symbol.bound] == [
        text.partition("=")[0].strip() for text in told.formulas
    ]
    for symbol in told.symbols:
        assert PLAIN_UNIT.fullmatch(symbol.unit) or WORDED_UNIT.match(symbol.unit), symbol
        assert symbol.name.split("_")[0], symbol
    bound = {name for symbol in told.symbols if symbol.bound for name in names_in(symbol.bound)}
    assert set(inspect.signature(formula).parameters) <= bound, "an argument is in no symbol"


@each_computed
def test_units_are_those_of_the_names(formula: Callable[..., Any]) -> None:
    told = described(formula)
    named = [(symbol.bound, symbol.unit) for symbol in told.symbols if symbol.bound.isidentifier()]
    for name, unit in [*named, (formula.__name__, told.symbols[0].unit)]:
        parts = name.split("_")
        endings = ("_".join(parts[place:]) for place in range(1, len(parts)) if "per" not in parts[:place])
        wanted = next((UNIT_OF_ENDING[end] for end in endings if end in UNIT_OF_ENDING), None)
        if wanted is not None and (name.islower() or name.isupper()):
            assert unit == wanted or unit.startswith(f"{wanted} "), (name, unit, wanted)


@each_computed
def test_every_formula_can_be_set(formula: Callable[..., Any]) -> None:
    for text in described(formula).formulas:
        assert mathml(text).startswith("<math")


@each_computed
def test_the_formula_shown_is_the_formula_computed(formula: Callable[..., Any]) -> None:
    told = described(formula)
    draws = list(islice(accepted(formula), DRAWS))
    assert len(draws) == DRAWS, "the function refuses nearly everything it is given"
    for given, found in draws:
        for text, wanted in zip(told.formulas, figures(found), strict=True):
            shown = value(text, symbols(formula, told, given))
            assert shown == pytest.approx(wanted, rel=TOLERANCE, abs=1e-300), (text, given)
            assert math.isfinite(wanted)
    assert len({repr(found) for _, found in draws}) > 1, "the arguments change nothing"


def accepted(formula: Callable[..., Any]) -> Iterable[tuple[dict[str, Any], Any]]:
    """Random arguments that a function takes, and what it gives for them."""
    chance = random.Random(formula.__qualname__)
    for _ in range(TRIES):
        given = {
            name: argument(str(parameter.annotation), chance)
            for name, parameter in inspect.signature(formula).parameters.items()
        }
        try:
            yield given, formula(**given)
        except (KeyError, ValueError):
            continue


def argument(annotation: str, chance: random.Random) -> Any:
    """A random argument of a kind."""
    if annotation.startswith("Sequence"):
        return [chance.uniform(0.5, 50) for _ in range(chance.randint(3, 6))]
    if annotation.startswith("Mapping"):
        acids = chance.sample(list(rows("substances")["fatty_acids"]), 4)
        return {acid: chance.uniform(1, 60) for acid in acids}
    if annotation == "str":
        return chance.choice(NAMES)
    if annotation == "bool":
        return chance.choice([True, False])
    return chance.randint(1, 9) if annotation == "int" else chance.uniform(0.5, 50)


def figures(found: Any) -> list[float]:
    """What a function gives, in the order of its formulas: one figure, or the fields of a result."""
    if dataclasses.is_dataclass(found) and not isinstance(found, type):
        return [float(getattr(found, field.name)) for field in dataclasses.fields(found)]
    return [float(found)]


def symbols(formula: Callable[..., Any], told: Described, given: Mapping[str, Any]) -> dict[str, Any]:
    """What each symbol stands for."""
    module = vars(inspect.getmodule(formula))
    return {symbol.name: eval(symbol.bound, {**module, **given}) for symbol in told.symbols if symbol.bound}


def names_in(text: str) -> set[str]:
    """The names in an expression or an assignment, without the operations."""
    tree = ast.parse(text)
    called = {ast.dump(node.func) for node in ast.walk(tree) if isinstance(node, ast.Call)}
    return {
        node.id
        for node in ast.walk(tree)
        if isinstance(node, ast.Name) and (ast.dump(node) not in called or node.id not in CALLS)
    }


CALLS: dict[str, Callable[..., Any]] = {
    "max": max,
    "min": min,
    "abs": abs,
    "sqrt": math.sqrt,
    "exp": math.exp,
    "log": math.log,
    "acos": math.acos,
    "sum": math.fsum,
}
OPERATIONS: dict[type, Callable[[Any, Any], Any]] = {
    ast.Add: lambda a, b: a + b,
    ast.Sub: lambda a, b: a - b,
    ast.Mult: lambda a, b: a * b,
    ast.Div: lambda a, b: a / b,
    ast.Pow: lambda a, b: a**b,
}


def value(text: str, bound: Mapping[str, Any]) -> float:
    """The right side of a formula, evaluated from its tree; nothing but numbers, symbols and the listed operations."""
    node = ast.parse(text).body[0]
    assert isinstance(node, ast.Assign)
    return float(_value(node.value, bound))


def _value(node: ast.expr, bound: Mapping[str, Any]) -> Any:
    if isinstance(node, ast.Constant) and type(node.value) in (int, float):
        return node.value
    if isinstance(node, ast.Name):
        return bound[node.id]
    if isinstance(node, ast.UnaryOp) and isinstance(node.op, ast.USub):
        return -_value(node.operand, bound)
    if isinstance(node, ast.BinOp):
        return OPERATIONS[type(node.op)](_value(node.left, bound), _value(node.right, bound))
    assert isinstance(node, ast.Call) and isinstance(node.func, ast.Name), ast.dump(node)
    if len(node.args) == 1 and node.func.id in ("sum", "max", "min"):
        return CALLS[node.func.id](_each(node.args[0], bound))
    return CALLS[node.func.id](*(_value(arg, bound) for arg in node.args))


def _each(node: ast.expr, bound: Mapping[str, Any]) -> list[float]:
    """An expression in symbols of lists, once for each of their members; of a mapping its values count."""
    used = {part.id for part in ast.walk(node) if isinstance(part, ast.Name) and part.id in bound}
    lists = {
        name: list(found.values()) if isinstance(found, Mapping) else list(found)
        for name in used
        if not isinstance(found := bound[name], int | float)
    }
    assert lists, f"nothing to go through: {ast.unparse(node)}"
    members = zip(*lists.values(), strict=True)
    return [_value(node, {**bound, **dict(zip(lists, member, strict=True))}) for member in members]
