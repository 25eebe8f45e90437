"""Precision limits of methods, at the levels of N6 and N7, and the standard uncertainty that follows from them."""

from __future__ import annotations

from collections.abc import Callable

from generator.data import rows
from generator.formulas.precision import of_precision_limit, precision_limit

from .case import Case, each

D664 = ("ASTM D664", "precision clause, edition not stated")
EN_14112 = ("EN 14112", "precision clause, edition not stated")
EN_14104 = ("EN 14104 (2003)", "precision clause")
ISO_5725 = ("ISO 5725", "r = 2.8 s")


def of(name: str, method: str, which: str) -> Callable[[float], float]:
    """The limit of a row of `data/precision.yaml`, at a level."""
    row = rows("precision")[name][method][which]
    return lambda result: precision_limit(result, **row)


def at(
    level: float, name: str, method: str, which: str, expected: float, source: tuple[str, str], sure: str
) -> Case:
    """The row's own constants give the printed value at that level."""
    found = of(name, method, which)
    assert abs(found(level) - expected) < 1e-6, (name, method, which, found(level))
    inputs = {"result": level, **rows("precision")[name][method][which]}
    return Case(f"{method} {which}", precision_limit, inputs, expected, 1e-6, "F", *source, sure)


CASES = [
    at(0.5, "acid value", "ASTM D664", "repeatability", 0.066, D664, "secondary copy"),
    at(0.5, "acid value", "ASTM D664", "reproducibility", 0.2115, D664, "secondary copy"),
    at(8.0, "oxidation stability", "EN 14112", "repeatability", 0.88, EN_14112, "secondary copy"),
    at(8.0, "oxidation stability", "EN 14112", "reproducibility", 2.31, EN_14112, "secondary copy"),
    at(0.5, "acid value", "EN 14104", "repeatability", 0.02, EN_14104, "from memory"),
    at(0.5, "acid value", "EN 14104", "reproducibility", 0.06, EN_14104, "from memory"),
    Case("2.8", of_precision_limit, {"limit": 2.8}, 1.0, 1e-12, "F", *ISO_5725, "from memory"),
    Case(
        "1.96 root 2",
        of_precision_limit,
        {"limit": 1.96 * 2**0.5},
        0.99,
        0.005,
        "R",
        *ISO_5725,
        "from memory",
    ),
]


@each(CASES)
def test_reference(case: Case) -> None:
    case.check()
