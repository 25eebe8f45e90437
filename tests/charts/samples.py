"""Invented rows for every kind of chart, with an unknown value in each, and words that must stand in the picture."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any


@dataclass(frozen=True, slots=True)
class Sample:
    """A kind with its params and rows, the words it must show, the known rows and the unknown one."""

    kind: str
    params: Mapping[str, Any]
    rows: Sequence[Mapping[str, Any]]
    words: Sequence[str]
    unknown: Mapping[str, Any]


def _dated(**columns: Sequence[Any]) -> list[dict[str, Any]]:
    count = len(next(iter(columns.values())))
    dates = [f"2026-{month:02}-05" for month in range(1, count + 1)]
    named = {"date": dates, "batch": [f"b{place}" for place in range(1, count + 1)], **columns}
    return [dict(zip(named, values, strict=True)) for values in zip(*named.values(), strict=True)]


SAMPLES = (
    Sample(
        "cost_parts",
        {
            "currency": "EUR/L",
            "target": 0.9,
            "names": [{"part": "methanol", "at": 0.5}, {"part": "media", "at": 0.6}],
        },
        [
            {"date": "2026-01-05", "batch": batch, "part": part, "per_l": per_l}
            for batch in ("b1", "b2")
            for part, per_l in (("oil", 0.4), ("methanol", 0.2), ("media", 0.03))
        ],
        ("EUR/L", "dashed: target 0.90 EUR/L", "methanol", "media", "b1", "batch, in order of date"),
        {"date": "2026-02-05", "batch": "b2", "part": "labour", "per_l": None},
    ),
    Sample(
        "cost_bridge",
        {"currency": "EUR/L"},
        [
            {
                "step": "the ten before",
                "start": None,
                "end": 0.6,
                "way": None,
                "told": "0.600",
            },
            {"step": "price of oil", "start": 0.6, "end": 0.7, "way": "more", "told": "+0.100"},
            {"step": "yield", "start": 0.7, "end": 0.65, "way": "less", "told": "−0.050"},
        ],
        ("EUR/L", "price of oil", "yield", "+0.100", "−0.050", "0.600"),
        {"step": "the last ten", "start": None, "end": None, "way": None, "told": "unknown"},
    ),
    Sample(
        "soap_points",
        {},
        [
            {
                "date": "2026-01-05",
                "batch": "b1",
                "point": "feed",
                "mg_per_kg": 420.0,
                "detected": True,
                "limit": 68.0,
            },
            {
                "date": "2026-01-05",
                "batch": "b1",
                "point": "between",
                "mg_per_kg": 30.0,
                "detected": True,
                "limit": 14.0,
            },
            {
                "date": "2026-01-05",
                "batch": "b1",
                "point": "product",
                "mg_per_kg": 0.0,
                "detected": False,
                "limit": 7.0,
            },
            {
                "date": "2026-02-05",
                "batch": "b2",
                "point": "product",
                "mg_per_kg": 0.0,
                "detected": False,
                "limit": 7.0,
            },
        ],
        ("feed, mg/kg", "between, mg/kg", "product, mg/kg", "not detected: at the detection limit"),
        {
            "date": "2026-03-05",
            "batch": "b3",
            "point": "feed",
            "mg_per_kg": None,
            "detected": True,
            "limit": None,
        },
    ),
    Sample(
        "standing",
        {
            "properties": ["water", "acid value", "sulfur"],
            "states": ["laboratory: within", "bench only", "laboratory: outside"],
        },
        [
            {
                "batch": "b1",
                "date": "2026-01-05",
                "property": "water",
                "state": "laboratory: within",
                "results": "300 mg/kg",
            },
            {
                "batch": "b1",
                "date": "2026-01-05",
                "property": "acid value",
                "state": "bench only",
                "results": "0.2 mg KOH/g",
            },
            {
                "batch": "b2",
                "date": "2026-02-05",
                "property": "water",
                "state": "laboratory: outside",
                "results": "900 mg/kg",
            },
        ],
        (
            "laboratory: within",
            "laboratory: outside",
            "bench only",
            "water",
            "sulfur",
            "b1",
            "batch, in order of date",
        ),
        {"batch": "b2", "date": "2026-02-05", "property": "acid value", "state": None, "results": None},
    ),
    Sample(
        "control",
        {
            "unit": "mg/kg",
            "log": True,
            "averaged": True,
            "high": 500,
            "low": None,
            "limit_label": "limit of a standard, edition 1",
            "limit_short": "a standard",
            "states": ["limits frozen from it", "only a bound", "something calls"],
        },
        _dated(
            value=[300.0, 310.0, 250.0, 420.0],
            state=["limits frozen from it", "limits frozen from it", "only a bound", "something calls"],
            signals=[None, None, None, "1"],
            piece=[1, 1, 1, 1],
            centre=[300.0] * 4,
            lower=[200.0] * 4,
            upper=[410.0] * 4,
            average=[300.0, 303.0, 302.0, 310.0],
            moving_range=[None, 0.033, 0.22, 0.4],
            range_upper=[0.3] * 4,
        ),
        (
            "mg/kg",
            "at most 500 mg/kg, limit of a standard, edition 1",
            "limits frozen from it",
            "something calls",
            "only a bound",
            "difference to the point before",
            "upper limit",
            "mean",
        ),
        {
            "date": "2026-05-05",
            "batch": "b5",
            "value": None,
            "state": "held to the limits",
            "signals": None,
            "piece": 1,
            "centre": None,
            "lower": None,
            "upper": None,
            "average": None,
            "moving_range": None,
            "range_upper": None,
        },
    ),
    Sample(
        "yield_time",
        {},
        _dated(
            yield_volume_pct=[98.0, 84.0, 101.0, 99.0],
            first_run=[False, True, False, False],
            median=[None, None, 98.0, 98.5],
        ),
        ("finished fuel, % of the oil's volume", "running median", "run that filled a fresh bed"),
        {"date": "2026-05-05", "batch": "b5", "yield_volume_pct": None, "first_run": False, "median": None},
    ),
    Sample(
        "bed_load",
        {},
        _dated(
            charge=["A-1", "A-1", "A-2"],
            vessel=["A, lead"] * 3,
            load_g=[50.0, 110.0, 40.0],
            capacity_g=[420.0] * 3,
        ),
        ("vessel A, lead, g of soap", "capacity"),
        {
            "date": "2026-04-05",
            "batch": "b4",
            "charge": "A-2",
            "vessel": "A, lead",
            "load_g": None,
            "capacity_g": 420.0,
        },
    ),
    Sample(
        "bed_uptake",
        {"parts": ["band", "capacity"]},
        [
            {
                "batch": f"b{n}",
                "load_g": 60.0 * n,
                "passes": 4.0 * n,
                "out": 20.0 * n,
                "in": 600.0,
                "detected": n > 1,
                "low": 360.0,
                "middle": 390.0,
                "high": 420.0,
            }
            for n in range(1, 4)
        ],
        (
            "soap held by the bed, g",
            "soap behind the bed over soap before it, %",
            "capacity and its range",
            "not detected: at the detection limit",
        ),
        {
            "batch": "b4",
            "load_g": None,
            "passes": 5.0,
            "out": 30.0,
            "in": None,
            "detected": True,
            "low": 360.0,
            "middle": 390.0,
            "high": 420.0,
        },
    ),
    Sample(
        "bed_strips",
        {"events": ["rinse"]},
        [
            {
                "kind": kind,
                "vessel": "A",
                "charge": "shed-A-1",
                "name": "1" if kind == "charge" else "",
                "start": "2026-01-05",
                "end": end,
                "standing": False,
                "told": "chips",
            }
            for kind, end in (("charge", "2026-03-05"), ("rinse", "2026-01-05"))
        ],
        ("rinse", "1", "A"),
        {
            "kind": "charge",
            "vessel": "A",
            "charge": "shed-A-2",
            "name": "",
            "start": None,
            "end": None,
            "standing": True,
            "told": "chips",
        },
    ),
    Sample(
        "property_limit",
        {
            "property": "water",
            "unit": "mg/kg",
            "low": None,
            "high": 500.0,
            "limit_label": "limit of an edition",
            "limit_short": "an edition",
            "marks": ["bench", "laboratory", "less than"],
        },
        _dated(
            value=[310.0, 520.0, 50.0],
            mark=["laboratory", "bench", "less than"],
            high=[400.0, 500.0, 500.0],
            low=[None, None, None],
        ),
        ("water, mg/kg", "at most 500 mg/kg, limit of an edition", "laboratory", "bench", "less than"),
        {
            "date": "2026-04-05",
            "batch": "b4",
            "value": None,
            "mark": "bench",
            "high": None,
            "low": None,
        },
    ),
    Sample(
        "acid_yield",
        {"ways": ["shed, KOH", "barn, NaOH"]},
        [
            {"batch": "b1", "acid_value": 2.1, "yield_mass_pct": 97.0, "wet": False, "way": "shed, KOH"},
            {"batch": "b2", "acid_value": 5.0, "yield_mass_pct": 92.0, "wet": True, "way": "barn, NaOH"},
        ],
        ("acid value of the oil, mg KOH/g", "wet oil", "shed, KOH", "barn, NaOH"),
        {"batch": "b3", "acid_value": None, "yield_mass_pct": 95.0, "wet": False, "way": "shed, KOH"},
    ),
    Sample(
        "oil_compared",
        {"currency": "EUR/L"},
        [
            {
                "lot": "oil-1",
                "date": "2026-01-05",
                "paid_per_l": 0.3,
                "compared_per_l": 0.6,
                "fuel_cost_per_l": 0.8,
            },
            {
                "lot": "oil-2",
                "date": "2026-02-05",
                "paid_per_l": 0.4,
                "compared_per_l": 0.7,
                "fuel_cost_per_l": 0.9,
            },
        ],
        ("EUR/L", "oil-1", "paid for the oil", "compared cost"),
        {
            "lot": "oil-2",
            "date": "2026-03-05",
            "paid_per_l": None,
            "compared_per_l": None,
            "fuel_cost_per_l": None,
        },
    ),
    Sample(
        "tank_content",
        {},
        [
            {
                "date": "2026-01-05",
                "tank": "tank-1",
                "content_l": 180.0,
                "capacity_l": 600.0,
                "event": "fill",
                "dipped_l": None,
            },
            {
                "date": "2026-02-05",
                "tank": "tank-1",
                "content_l": 140.0,
                "capacity_l": 600.0,
                "event": "dip",
                "dipped_l": 138.0,
            },
        ],
        ("tank-1, L", "volume of the shell", "dip"),
        {
            "date": "2026-03-05",
            "tank": "tank-1",
            "content_l": None,
            "capacity_l": 600.0,
            "event": "draw",
            "dipped_l": None,
        },
    ),
    Sample(
        "pressure",
        {"unit": "bar"},
        [
            {"date": f"2026-0{month}-05", "batch": f"b{month}", "vessel": vessel, "inlet": inlet}
            for month in (1, 2)
            for vessel, inlet in (("Q1", 0.4), ("Q2", 0.2))
        ],
        ("vessel Q1, bar", "vessel Q2, bar"),
        {"date": "2026-03-05", "batch": "b3", "vessel": "Q1", "inlet": None},
    ),
    Sample(
        "media_rate",
        {"unit": "kg per 1000 L"},
        [
            {
                "charge": "A-1",
                "vessel": "A",
                "packed": "2026-01-05",
                "media_per_thousand": 12.5,
                "in_service": False,
            },
            {
                "charge": "A-2",
                "vessel": "A",
                "packed": "2026-03-05",
                "media_per_thousand": 18.0,
                "in_service": True,
            },
        ],
        ("medium, kg per 1000 L of fuel", "A-1", "12.5", "in service: still falling"),
        {
            "charge": "A-2",
            "vessel": "A",
            "packed": "2026-04-05",
            "media_per_thousand": None,
            "in_service": True,
        },
    ),
    Sample(
        "offer_range",
        {"target": 0.9, "currency": "EUR/L", "diesel": 1.62},
        [{"offer": "2026-school", "low": 0.71, "mid": 0.75, "high": 0.8, "state": "open"}],
        (
            "2026-school",
            "open",
            "target 0.90",
            "diesel at the pump 1.62",
            "EUR/L, with media",
        ),
        {"offer": "2026-mill", "low": None, "mid": None, "high": None, "state": "expired"},
    ),
    Sample(
        "closure",
        {},
        _dated(closure_pct=[98.0, 104.0, 99.0]),
        ("mass out over mass in, %", "97 to 103 %, a usual band for readings by hand"),
        {"date": "2026-04-05", "batch": "b4", "closure_pct": None},
    ),
)
