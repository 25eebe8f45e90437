"""How well a result is known, and how it lies to a limit: within, outside, or cannot tell.

A verdict takes the whole interval of the result, so that a limit inside it cannot tell. It is a comparison of one result
with one number, and no statement of conformity.
"""

from __future__ import annotations

import functools
import math
from dataclasses import dataclass
from typing import Any

from generator.data import rows
from generator.formulas.precision import of_precision_limit, precision_limit
from generator.formulas.uncertainty import expanded, from_step
from generator.language import tell
from generator.properties import method_named, properties
from generator.records import Test
from generator.specifications import Limit
from generator.units import Quantity, convert, units

WITHIN, OUTSIDE, CANNOT_TELL, NO_LIMIT = "within", "outside", "cannot tell", "no limit"


@dataclass(frozen=True, slots=True)
class Known:
    """The standard uncertainty of a result, in the unit of its property, and what it was taken from."""

    u: float
    basis: str


@dataclass(frozen=True, slots=True)
class Interval:
    """Where a result lies, give or take twice its standard uncertainty; infinite where only a bound was read."""

    low: float
    high: float


def known(test: Test) -> Known | None:
    """How well a result is known; None for one in words and for a bound.

    By what the file says of it; else by the reproducibility of a laboratory's method; else by the repeatability that was
    written; else by its last digit alone. Never better than its last digit.
    """
    value = test.value
    if not isinstance(value, Quantity) or value.sign:
        return None
    digit = Known(from_step(written_step(value)), "its last digit alone")
    said = _said(test, value)
    return digit if said is None or said.u < digit.u else said


def _said(test: Test, value: Quantity) -> Known | None:
    if test.uncertainty is not None:
        return Known(test.uncertainty.value / 2, "the uncertainty written (k = 2)")
    if test.laboratory and (found := _reproducibility(test, value)) is not None:
        return found
    if test.repeatability is not None:
        u = of_precision_limit(test.repeatability.value)
        return Known(u, tell("the repeatability written, which leaves out what is wrong each time alike"))
    return None


def _reproducibility(test: Test, value: Quantity) -> Known | None:
    """What two laboratories differ by with this method, at this level."""
    row = _precision().get(test.property or "", {}).get(method_named(test.method or ""))
    if row is None:
        return None
    kind = properties()[test.property or ""].kinds[0]
    level = convert(value.value, kind, row["unit"])
    limit = precision_limit(level, **row["reproducibility"]) * float(units(kind)[row["unit"]].factor)
    if not limit:  # what only grows with the result says nothing of none
        return None
    return Known(
        of_precision_limit(limit),
        tell("the reproducibility of {source} ({sure})", source=row["source"], sure=row["confidence"]),
    )


@functools.cache
def _precision() -> dict[str, dict[str, dict[str, Any]]]:
    table: dict[str, dict[str, dict[str, Any]]] = rows("precision")
    return table


def written_step(written: Quantity) -> float:
    """One unit of the last digit that was written, in the base unit."""
    exponent = written.number.as_tuple().exponent
    assert isinstance(exponent, int)
    return float(10.0**exponent) * float(written.unit.factor)


def interval(value: Quantity, found: Known | None) -> Interval:
    """Where a result lies; a bound lies on its whole side of the number."""
    if value.sign == "<":
        return Interval(-math.inf, value.value)
    if value.sign == ">":
        return Interval(value.value, math.inf)
    reach = expanded(found.u) if found is not None else 0.0
    return Interval(value.value - reach, value.value + reach)


def against(value: Quantity | str | None, found: Known | None, limit: Limit | None) -> str:
    """Hold a result to a limit; words are within where the limit names them."""
    if limit is None or value is None:
        return NO_LIMIT
    if isinstance(value, str):
        return (WITHIN if value in limit.words else OUTSIDE) if limit.words else NO_LIMIT
    return verdict(interval(value, found), value.sign, limit.low, limit.high)


def verdict(where: Interval, sign: str, low: float | None, high: float | None) -> str:
    """Hold an interval to its limits: one that a limit lies inside cannot tell. `< 5` is outside of 5 at least."""
    if low is None and high is None:
        return NO_LIMIT
    too_low, too_high = low is not None and where.low < low, high is not None and where.high > high
    if not too_low and not too_high:
        return WITHIN
    surely_low = low is not None and (where.high < low or (sign == "<" and where.high <= low))
    surely_high = high is not None and (where.low > high or (sign == ">" and where.low >= high))
    return OUTSIDE if surely_low or surely_high else CANNOT_TELL
