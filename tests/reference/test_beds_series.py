"""What a bed holds while its feed changes, against a published series."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

import pytest

from generator.formulas.columns import taken_up_g

FED_DAYS = range(0, 176, 25)
FED = (1500, 1250, 1000, 1750, 1500, 1004, 750, 1200)
OUT_DAYS = (*range(0, 171, 10), 175)
OUT = (0, 0, 0, 0, 87, 530, 900, 1117, 1331, 1564, 1643, 1601, 1486, 1333, 1182, 1055, 955, 933, 955)
FLOW_L_PER_D, MEDIUM_KG = 3090527.679639, 9071.8474


def at(day: float, days: Sequence[int], values: Sequence[float]) -> float:
    """A series between its points, by straight lines."""
    for place in range(1, len(days)):
        if day <= days[place]:
            share = (day - days[place - 1]) / (days[place] - days[place - 1])
            return values[place - 1] + share * (values[place] - values[place - 1])
    return values[-1]


def test_what_a_bed_holds_under_a_changing_feed() -> None:
    """C23, library: EPA series, trapezoids on the union of times. It gives back: most on day 90, 178.86 kg at the end."""
    days = sorted({*FED_DAYS, *OUT_DAYS})
    held, most, when = 0.0, 0.0, 0
    for first, last in pairwise(days):
        fed, out = (
            (at(first, *series) + at(last, *series)) / 2
            for series in ((list(FED_DAYS), FED), (OUT_DAYS, OUT))
        )
        litres = FLOW_L_PER_D * (last - first)
        held += taken_up_g(fed / 1000, out / 1000, litres) / 1000  # mg/L, and a litre as a kilogram
        if held > most:
            most, when = held, last
    assert held == pytest.approx(178.864289, rel=1e-6)
    assert (most, when) == (pytest.approx(230.337028, rel=1e-6), 90)
    assert held * 1000 / MEDIUM_KG == pytest.approx(19.716413, rel=1e-6)
