"""The columns' ledger alone: runs folded into charges, at two sizes; prints seconds and the growth between them.

python -m benchmarks.columns
"""

from __future__ import annotations

import tempfile
import time
from pathlib import Path

from benchmarks.logbooks import write
from generator.ledger.ledgers import Ledgers
from generator.ledger.media import spreads
from generator.validate.logbook import checked_folder

RUNS_A_LIFE = 17  # of the lead; 10,000 runs are then some 300 charges


def measure(batches: int) -> float:
    """Seconds of one fold with everything made from it; the files are read before."""
    with tempfile.TemporaryDirectory() as folder:
        write(batches, Path(folder), RUNS_A_LIFE)
        _, checked = checked_folder(Path(folder))
    assert checked.log is not None
    begun = time.perf_counter()
    ledgers = Ledgers(checked.log)
    columns = ledgers.columns
    assert ledgers.forecasts and spreads(columns, lambda *_: None, lambda *_: None)
    seconds = time.perf_counter() - begun
    runs = sum(1 for _ in columns.runs)
    print(f"{batches:6} batches  {runs:6} runs  {len(columns.charges):4} charges  {seconds:6.2f} s")
    return seconds


if __name__ == "__main__":
    small, large = measure(500), measure(5000)
    print(f"ten times the runs take {large / small:.1f} times as long")
