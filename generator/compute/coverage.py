"""Coverage: which property was tested in what share of the batches, on the bench and by a laboratory."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

import pandas as pd

from generator.compute.results import frame, plain_rows
from generator.tables import COVERAGE

Row = Mapping[str, Any]


def coverage(tested: pd.DataFrame, standing: pd.DataFrame, batches: Sequence[str]) -> pd.DataFrame:
    """One row per property of the newest edition, in its order, then of any other that was tested.

    `batches` are the ids in order of time.
    """
    return frame(COVERAGE, list(_coverage(plain_rows(tested), plain_rows(standing), batches)))


def _coverage(
    tested: Sequence[Row], standing: Sequence[Row], batches: Sequence[str]
) -> Iterator[dict[str, Any]]:
    newest = batches[-1] if batches else ""
    limits = {row["property"]: row["limit"] for row in standing if row["batch"] == newest and row["limit"]}
    for name in dict.fromkeys([*limits, *(row["property"] for row in tested)]):
        found = [row for row in tested if row["property"] == name]
        bench, laboratory = ([row for row in found if row["laboratory"] == word] for word in ("no", "yes"))
        yield {
            "property": name,
            "limit": limits.get(name),
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
