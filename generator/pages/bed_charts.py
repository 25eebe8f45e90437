"""The charts of one charge: what passes it against what it holds, and the pressure it takes."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from generator.formulas.breakthrough import passing_share
from generator.language import say
from generator.pages.parts import Row, Show, batch_link, figures, plain, table_view
from generator.pages.view import Chart
from generator.pages.words import count, interval, significant
from generator.tables import RUNS

ROOT = "../"
CURVE_STEPS = 40


def uptake_chart(charge: Row, runs: Sequence[Row]) -> Chart | None:
    """The share of soap that passes the bed against what it had taken up."""
    known = [
        row
        for row in runs
        if row["life"] == charge["life"]
        and row["load_g"] is not None
        and row["soap_out_high_mg_per_kg"] is not None
        and row["soap_in_high_mg_per_kg"]
    ]
    if len(known) < 2:
        return None
    values: list[dict[str, Any]] = []
    capacity = {
        "low": charge["soap_capacity_low_g"],
        "middle": charge["soap_capacity_g"],
        "high": charge["soap_capacity_high_g"],
    }
    for row in known:
        detected = row["soap_out_low_mg_per_kg"] > 0
        values.append(
            {
                "batch": row["batch"],
                "load_g": row["load_g"],
                "passes": 100 * row["soap_out_high_mg_per_kg"] / row["soap_in_high_mg_per_kg"],
                "out": row["soap_out_high_mg_per_kg"],
                "in": row["soap_in_high_mg_per_kg"],
                "detected": detected,
                **capacity,
            }
        )
    hidden = sum(not value["detected"] for value in values)
    values += _curve(charge, known)
    not_found = (
        say(
            "; in {hidden} of them none was detected, and the mark stands at the detection limit",
            hidden=hidden,
        )
        if hidden
        else ""
    )
    since = say(" since it was regenerated on {since}", since=charge["since"]) if charge["life"] > 1 else ""
    sentence = say(
        "Soap behind the bed over soap before it in {run}{since}, against the soap it then held{not_found}.",
        run=count(len(known), "run", "runs"),
        since=since,
        not_found=not_found,
    )
    table = table_view(
        RUNS,
        "uptake-table",
        say("Soap behind the bed, by what it held"),
        known,
        [
            Show("batch", say("Batch"), plain("batch"), href=lambda row: batch_link(row["batch"], ROOT)),
            Show("load_g", say("Soap held"), figures("load_g"), "g"),
            Show("soap_in_high_mg_per_kg", say("Before"), lambda row: _content(row, "in"), "mg/kg"),
            Show("soap_out_high_mg_per_kg", say("Behind"), lambda row: _content(row, "out"), "mg/kg"),
        ],
    )
    parts = _parts(capacity, values)
    id_ = "-".join(
        ["uptake", *parts]
    )  # what is drawn differs between charges, and an id stands for one specification
    return Chart(id_, say("What passes it"), sentence, "bed_uptake", tuple(values), table, {"parts": parts})


def _parts(capacity: Row, values: Sequence[Row]) -> list[str]:
    """Which of the range of the capacity, its line and the fitted curve there is anything to draw of."""
    low, middle, high = (capacity[key] for key in ("low", "middle", "high"))
    there = {
        "band": low is not None and high is not None and high > low,
        "capacity": middle is not None,
        "curve": any("curve" in value for value in values),
    }
    return [part for part, found in there.items() if found]


def _curve(charge: Row, known: Sequence[Row]) -> list[dict[str, Any]]:
    """The fitted curve as far as the runs reach; nothing where none was fitted."""
    if charge["half_g"] is None:
        return []
    most = max(row["load_g"] for row in known)
    loads = [most * place / CURVE_STEPS for place in range(CURVE_STEPS + 1)]
    return [
        {"load_g": load, "curve": 100 * passing_share(load, charge["half_g"], charge["steepness_per_g"])}
        for load in loads
    ]


def _content(row: Row, side: str) -> str:
    low, high = row[f"soap_{side}_low_mg_per_kg"], row[f"soap_{side}_high_mg_per_kg"]
    if low == 0 and high:
        return say("below {high}", high=significant(high, "", 2))
    return interval(low, high)
