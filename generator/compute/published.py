"""What is published of one batch as one record, in its one spelling, so that its digest can be checked."""

from __future__ import annotations

from typing import Any

from generator.compute.frames import Row
from generator.compute.results import Results
from generator.digests import canonical
from generator.tables import BATCHES, RUNS, TESTS, Table, public_columns

# table -> the column that names the batch
OF_BATCH = ((RUNS, "batch"), (TESTS, "subject"))


def records(results: Results, widened: tuple[str, ...]) -> dict[str, bytes]:
    """The record of every batch of the shared site: its figures, its runs, its results; only public columns."""
    found: dict[str, dict[str, list[dict[str, Any]]]] = {
        row["batch"]: {table.name: [] for table, _ in OF_BATCH} for row in results.rows("batches")
    }
    for table, key in OF_BATCH:
        for row in results.rows(table.name):
            if row[key] in found:
                found[row[key]][table.name].append(_public(table, row, widened))
    return {
        row["batch"]: canonical({"batch": _public(BATCHES, row, widened), **found[row["batch"]]})
        for row in results.rows("batches")
    }


def _public(table: Table, row: Row, widened: tuple[str, ...]) -> dict[str, Any]:
    return {name: row[name] for name in public_columns(table, widened)}
