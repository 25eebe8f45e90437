"""Means over batches on the page of costs."""

from __future__ import annotations

from pathlib import Path

from generator.compute.tally import tally
from generator.ledger.ledgers import Ledgers
from generator.pages.cost_means import _savings
from generator.pages.words import shown
from tests.compute.test_costs import OIL, WHOLE
from tests.logbook_files import log_of


def test_what_was_saved_by_the_hour_counts_the_hours_of_fetching(tmp_path: Path) -> None:
    """Of one batch the mean is its own; without the hour of fetching it would lie above every batch."""
    results = tally(Ledgers(log_of(tmp_path, {**WHOLE, OIL: ("paid:", "collected: {time: 3 h}\npaid:")})))
    rows = [row for row in results.rows("costs") if row["saving_per_h"] is not None]
    assert len(rows) == 1 and rows[0]["fetching_hours"] > 0
    by_hour = _savings(rows, shown(results))[-1]
    assert by_hour.text.replace("\u202f", " ") == f"{rows[0]['saving_per_h']:.2f} EUR/h"
    assert f"{rows[0]['hours'] + rows[0]['fetching_hours']:.1f} hours" in by_hour.basis
