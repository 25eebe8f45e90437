"""Coverage: what was tested in what share of the batches, what is due, how old stored fuel is, how bench and laboratory agree."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from statistics import median
from typing import Any

import pandas as pd

from generator.compute.frames import frame, grouped_rows, plain_rows
from generator.formulas.agreement import median_interval, sign_test_p
from generator.ledger.due import Due, dues
from generator.ledger.ledgers import Ledgers
from generator.ledger.stored import Stored, stored
from generator.tables import AGREEMENT, COVERAGE, DUE, STORED

Row = Mapping[str, Any]
LEAST_PAIRS = 6  # with fewer no interval has 95 %


def coverage(tested: pd.DataFrame, standing: pd.DataFrame, batches: Sequence[str]) -> pd.DataFrame:
    """One row per property of the newest edition, in its order, of the newest own limits, then of any other that was tested.

    `batches` are the ids in order of time.
    """
    return frame(COVERAGE, list(_coverage(plain_rows(tested), plain_rows(standing), batches)))


def _coverage(
    tested: Sequence[Row], standing: Sequence[Row], batches: Sequence[str]
) -> Iterator[dict[str, Any]]:
    newest = batches[-1] if batches else ""
    asked = [row for row in standing if row["batch"] == newest and (row["limit"] or row["own_limit"])]
    limits, own = ({row["property"]: row[key] for row in asked} for key in ("limit", "own_limit"))
    for name in dict.fromkeys([*limits, *(row["property"] for row in tested)]):
        found = [row for row in tested if row["property"] == name]
        bench, laboratory = ([row for row in found if row["laboratory"] == word] for word in ("no", "yes"))
        yield {
            "property": name,
            "limit": limits.get(name),
            "own_limit": own.get(name),
            "results": len(found),
            "batches": len(batches),
            **_share("bench", bench, len(batches)),
            **_share("laboratory", laboratory, len(batches)),
            "since_laboratory": since({row["subject"] for row in laboratory}, batches),
        }


def _share(key: str, rows: Sequence[Row], batches: int) -> dict[str, Any]:
    tested = len({row["subject"] for row in rows})
    return {
        key: tested,
        f"{key}_pct": 100 * tested / batches if batches else None,
        f"last_{key}": max((row["date"] for row in rows), default=None),
    }


def since(tested: set[str], batches: Sequence[str]) -> int | None:
    """How many batches came after the last that was tested; None where none ever was."""
    places = [place for place, name in enumerate(batches) if name in tested]
    return len(batches) - 1 - places[-1] if places else None


def due(ledgers: Ledgers) -> pd.DataFrame:
    """Every property of every rule for testing; one row each."""
    return frame(DUE, [_due(each) for each in dues(ledgers)])


def _due(one: Due) -> dict[str, Any]:
    return {
        "property": one.property,
        "rule": one.rule,
        "asked": one.asked,
        "done": one.done,
        "last": one.last,
        "last_day": one.last_day.isoformat() if one.last_day is not None else None,
        "batches_since": one.batches_since,
        "days_since": one.days_since,
        "due": one.due or None,
    }


def stored_fuel(ledgers: Ledgers, tested: pd.DataFrame) -> pd.DataFrame:
    """What stands in the tanks, batch by batch, the oldest first; one row each."""
    now, parts = ledgers.log.now(), stored(ledgers.tanks)
    of_batch = grouped_rows(tested, "subject")
    return frame(
        STORED,
        [
            {
                "tank": part.tank,
                "batch": part.batch,
                "filled": part.filled.isoformat(),
                "volume_l": float(part.litres),
                "age_days": (now - part.filled).days,
                **_last_of(part, of_batch.get(part.batch, [])),
            }
            for part in parts
        ],
    )


def _last_of(part: Stored, rows: Sequence[Row]) -> dict[str, Any]:
    last = {name: _newest(rows, name) for name in ("acid value", "oxidation stability")}
    acid, stability = last["acid value"], last["oxidation stability"]
    return {
        "acid_value": acid["written"] if acid else None,
        "acid_day": acid["date"] if acid else None,
        "stability": stability["written"] if stability else None,
        "retests": sum(row["date"] > part.filled.isoformat() for row in rows),
    }


def _newest(rows: Sequence[Row], name: str) -> Row | None:
    return max((row for row in rows if row["property"] == name), key=lambda row: row["date"], default=None)


def agreement(tested: pd.DataFrame) -> pd.DataFrame:
    """Every property that some batch has from bench and laboratory; one row each."""
    return frame(AGREEMENT, list(_agreement(plain_rows(tested))))


def _agreement(rows: Sequence[Row]) -> Iterator[dict[str, Any]]:
    first: dict[tuple[str, str, str], Row] = {}
    for row in rows:
        if row["value"] is not None:
            first.setdefault((row["property"], row["subject"], row["laboratory"]), row)
    for name in dict.fromkeys(name for name, _, _ in first):
        pairs = [
            (row, first[(name, batch, "yes")])
            for (of, batch, laboratory), row in first.items()
            if of == name and laboratory == "no" and (name, batch, "yes") in first
        ]
        if pairs:
            yield {"property": name, "unit": pairs[0][0]["unit"], **_differences(pairs), **_bounded(pairs)}


def _differences(pairs: Sequence[tuple[Row, Row]]) -> dict[str, Any]:
    plain = [
        bench["value"] - lab["value"] for bench, lab in pairs if not (bench["qualifier"] or lab["qualifier"])
    ]
    above, below = sum(each > 0 for each in plain), sum(each < 0 for each in plain)
    ends = median_interval(plain) if len(plain) >= LEAST_PAIRS else None
    return {
        "pairs": len(plain),
        "median": median(plain) if plain else None,
        "low": ends.low if ends is not None else None,
        "high": ends.high if ends is not None else None,
        "least": min(plain, default=None),
        "most": max(plain, default=None),
        "above": above,
        "below": below,
        "by_chance": sign_test_p(above, below) if above + below else None,
    }


def _bounded(pairs: Sequence[tuple[Row, Row]]) -> dict[str, int]:
    """Pairs of which one is a bound, and those in which the other lies beyond it."""
    bounds = [
        (mine, other)
        for bench, lab in pairs
        for mine, other in ((bench, lab), (lab, bench))
        if mine["qualifier"] and not other["qualifier"]
    ]
    wrong = sum(
        other["value"] >= mine["value"] if mine["qualifier"] == "<" else other["value"] <= mine["value"]
        for mine, other in bounds
    )
    return {"bounds": len(bounds), "contradicted": wrong}
