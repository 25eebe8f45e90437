"""Coverage: which property was tested in what share of the batches."""

from __future__ import annotations

from generator.compute.results import Results
from generator.pages.parts import Row, Show, plain, table_view
from generator.pages.view import TableView
from generator.pages.words import with_unit
from generator.tables import COVERAGE


def coverage(results: Results) -> TableView:
    """Which property was tested in what share of the batches; those never tested are listed too."""
    return table_view(
        COVERAGE,
        "coverage",
        "What was tested, in how many batches",
        results.rows("coverage"),
        [
            Show("property", "Property", plain("property")),
            Show("limit", "Limit", lambda row: row["limit"] or "none"),
            Show("laboratory_pct", "By a laboratory", lambda row: _share(row, "laboratory")),
            Show("last_laboratory", "Last", lambda row: row["last_laboratory"] or "never"),
            Show("since_laboratory", "Batches since", _since),
            Show("bench_pct", "On the bench", lambda row: _share(row, "bench")),
            Show("last_bench", "Last", lambda row: row["last_bench"] or "never"),
        ],
    )


def _share(row: Row, key: str) -> str:
    return f"{with_unit(row[f'{key}_pct'], '%')} ({row[key]})" if row[key] else "not tested"


def _since(row: Row) -> str:
    return str(row["since_laboratory"]) if row["since_laboratory"] is not None else "all"
