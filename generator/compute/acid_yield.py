"""Whether sourer oil gave less fuel: a slope for every way of working, for batches worked otherwise are not alike."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import pandas as pd

from generator.compute.frames import frame, plain_rows
from generator.compute.trends import LEAST, MOST
from generator.formulas.statistics import kendall_z, theil_sen_ends, theil_sen_slope, two_sided_p
from generator.ledger.ledgers import Ledgers
from generator.ledger.routes import routes
from generator.tables import ACID_SLOPES, ACID_YIELD

WORKED = ("purifier", "catalyst_of", "stages", "pretreated")
OF_95 = 1.959963984540054  # standard deviations on either side that hold 95 of 100; published


def acid_yield(ledgers: Ledgers) -> pd.DataFrame:
    """The batches with a titration and a yield, in time, and how each was worked; one row each."""
    route_of, found = routes(ledgers), []
    for entry in ledgers.log.batches_in_time():
        facts, route = ledgers.facts[entry.id], route_of[entry.id]
        if facts.acidity is None or facts.yield_mass_pct is None:
            continue
        found.append(
            {
                "batch": entry.id,
                "purifier": route.purifier or None,
                "catalyst_of": route.base or None,
                "stages": route.stages or None,
                "pretreated": "yes" if route.pretreated else "no",
                "acid_value_mg_koh_per_g": facts.acidity.acid_value_mg_koh_per_g,
                "yield_mass_pct": facts.yield_mass_pct,
            }
        )
    return frame(ACID_YIELD, found)


def acid_slopes(points: pd.DataFrame) -> pd.DataFrame:
    """The ways of working, the one with the most batches first; one row each."""
    found: dict[tuple[Any, ...], list[dict[str, Any]]] = {}
    for row in plain_rows(points):
        found.setdefault(tuple(row[name] for name in WORKED), []).append(row)
    ordered = sorted(found.items(), key=lambda each: (-len(each[1]), str(each[0])))
    return frame(
        ACID_SLOPES, [{**dict(zip(WORKED, way, strict=True)), **_slope(rows)} for way, rows in ordered]
    )


def _slope(rows: Sequence[dict[str, Any]]) -> dict[str, Any]:
    """How many batches, and of ten or more the slope with its ends and how likely chance makes as much."""
    acids = [row["acid_value_mg_koh_per_g"] for row in rows[-MOST:]]
    yields = [row["yield_mass_pct"] for row in rows[-MOST:]]
    told: dict[str, Any] = {"batches": len(rows)}
    if len(acids) < LEAST or len(set(acids)) < 2 or len(set(yields)) < 2:
        return told
    ends = theil_sen_ends(acids, yields, OF_95)
    return told | {
        "pct_per_mg": theil_sen_slope(acids, yields),
        "pct_per_mg_low": ends.low,
        "pct_per_mg_high": ends.high,
        "by_chance": two_sided_p(kendall_z(acids, yields)),
    }
