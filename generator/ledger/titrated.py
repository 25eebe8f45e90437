"""A titrated content as a result: a number, a bound, or what lies between two."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from generator.fields import plainly
from generator.formulas.uncertainty import expanded
from generator.language import tell
from generator.ledger.results import NO_LIMIT, Interval, verdict
from generator.specifications import Limit


@dataclass(frozen=True, slots=True)
class Titrated:
    """A content by titration, mg/kg: its value or bound, its sign, its standard uncertainty, where it lies."""

    value: float | None
    sign: str
    u: float | None
    where: Interval
    text: str


def titrated(row: Mapping[str, Any], name: str) -> Titrated | None:
    """The content named by the columns of a batch; None where no sample was titrated."""
    told, value, u = row[f"{name}_detected"], row[f"{name}_mg_per_kg"], row[f"u_{name}_mg_per_kg"]
    if told is None:
        return None
    if told == "yes":
        reach = expanded(u or 0.0)
        return Titrated(value, "", u, Interval(value - reach, value + reach), f"{plainly(value, 3)} mg/kg")
    low, high = row[f"{name}_low_mg_per_kg"], row[f"{name}_high_mg_per_kg"]
    if told in ("no", "at most"):
        bound = row[f"{name}_limit_mg_per_kg"] if told == "no" else high
        return Titrated(bound, "<", None, Interval(-math.inf, bound), f"< {plainly(bound, 2)} mg/kg")
    if told == "at least":
        return Titrated(low, ">", None, Interval(low, math.inf), f"> {plainly(low, 2)} mg/kg")
    return Titrated(
        None,
        "",
        None,
        Interval(low, high),
        tell("between {low} and {high} mg/kg", low=plainly(low, 2), high=plainly(high, 2)),
    )


def against_titrated(found: Titrated, limit: Limit | None) -> str:
    """Hold a titrated content to a limit."""
    return verdict(found.where, found.sign, limit.low, limit.high) if limit is not None else NO_LIMIT
