"""Whether what a litre costs has risen or fallen through the batches, and by how much a year."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from typing import Any

import pandas as pd

from generator.compute.frames import frame
from generator.formulas.statistics import mann_kendall_z, theil_sen_slope, two_sided_p
from generator.tables import TRENDS

LEAST, MOST = 10, 100  # batches: fewer say nothing by the normal law, and older ones nothing of now
DAYS = 365.25
OF = {"with_media_per_l": "cost with media", "oil_per_l": "cost of oil"}


def trends(costs: pd.DataFrame) -> pd.DataFrame:
    """The trends of cost; one row each, none of fewer than ten batches whose cost is known."""
    return frame(TRENDS, list(_rows(costs)))


def _rows(costs: pd.DataFrame) -> Iterator[dict[str, Any]]:
    for column, name in OF.items():
        known = costs[["date", column]].dropna().tail(MOST)
        values = known[column].astype(float).tolist()
        days = [date.fromisoformat(day).toordinal() / DAYS for day in known["date"]]
        if len(values) < LEAST or len(set(values)) < 2 or len(set(days)) < 2:
            continue
        z = mann_kendall_z(values)
        yield {
            "of": name,
            "from": known["date"].iloc[0],
            "until": known["date"].iloc[-1],
            "batches": len(values),
            "per_l_per_year": theil_sen_slope(days, values),
            "z": z,
            "by_chance": two_sided_p(z),
        }
