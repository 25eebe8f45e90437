"""One row per result of a batch, held to the limits of the chosen edition; soap of the product among them."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import pandas as pd

from generator.compute.results import frame
from generator.log import Log
from generator.properties import properties
from generator.specifications import Limit, specifications
from generator.tables import TESTS
from generator.units import Quantity


def tests(log: Log) -> pd.DataFrame:
    """All results of all batches, by date of the batch; one row each. A retest stands below what it repeats."""
    return frame(TESTS, list(_rows(log)))


def limits_of(log: Log) -> dict[str, Limit]:
    """The limits of the chosen specification, by property; empty where none is chosen."""
    chosen = log.settings.specification
    return dict(specifications()[(chosen.standard, chosen.edition)].limits) if chosen is not None else {}


def _rows(log: Log) -> Iterator[dict[str, Any]]:
    limits = limits_of(log)
    for entry in log.batches_in_time():
        seen: dict[str, int] = {}
        for test in entry.record.tests:
            name = test.property
            if name is None:
                continue
            seen[name] = seen.get(name, 0) + 1
            limit, value = limits.get(name), test.value
            number = value.value if isinstance(value, Quantity) else None
            sign = value.sign if isinstance(value, Quantity) else ""
            yield {
                "subject": entry.id,
                "date": (test.date or entry.record.date).isoformat(),
                "property": name,
                "value": number,
                "qualifier": sign or None,
                "word": value if isinstance(value, str) else None,
                "written": value.text if isinstance(value, Quantity) else value,
                "limit": limit.text if limit else None,
                "unit": properties()[name].unit,
                "method": test.method,
                "laboratory": "yes" if test.laboratory else "no",
                "repeat": seen[name],
                "limit_low": limit.low if limit else None,
                "limit_high": limit.high if limit else None,
                "verdict": _verdict(value, limit),
            }


def _verdict(value: Quantity | str | None, limit: Limit | None) -> str:
    if limit is None or value is None:
        return "no limit"
    if isinstance(value, str):
        return ("within" if value in limit.words else "outside") if limit.words else "no limit"
    return verdict(value.value, value.sign, limit.low, limit.high)


def verdict(value: float | None, sign: str, low: float | None, high: float | None) -> str:
    """Hold a result to its limits: a censored one that the limit straddles cannot tell."""
    if value is None or (low is None and high is None):
        return "no limit"
    least = float("-inf") if sign == "<" else value
    most = float("inf") if sign == ">" else value
    too_low, too_high = low is not None and least < low, high is not None and most > high
    if not too_low and not too_high:
        return "within"
    surely_low = low is not None and (most < low or (sign == "<" and most <= low))
    surely_high = high is not None and (least > high or (sign == ">" and least >= high))
    return "outside" if surely_low or surely_high else "cannot tell"
