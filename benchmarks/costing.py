"""Stock and costing alone: every lot's account, and what every draw cost, by each method, at two sizes.

python -m benchmarks.costing
"""

from __future__ import annotations

import gc
import tempfile
import time
from pathlib import Path

from benchmarks.logbooks import MATERIALS, write
from generator.cli import COLLECTED
from generator.ledger.costing import AVERAGE, FIFO, NAMED
from generator.ledger.ledgers import Ledgers
from generator.log import Log
from generator.validate.logbook import checked_folder

CHOICE = "  - {{material: {material}, from: 1990-01-01, method: {method}}}\n"
BOUGHT = ("oil", "koh", "methanol")


def read(batches: int, method: str) -> Log:
    """A made logbook whose oil, base and methanol are costed by a method."""
    assert all(f"  {name}:" in MATERIALS for name in BOUGHT)
    with tempfile.TemporaryDirectory() as folder:
        write(batches, Path(folder))
        with (Path(folder) / "logbook.yaml").open("a", encoding="utf-8") as file:
            file.write("costing:\n" + "".join(CHOICE.format(material=name, method=method) for name in BOUGHT))
        log = checked_folder(Path(folder))[1].log
    assert log is not None
    return log


def measure(batches: int, method: str) -> float:
    """Seconds for all accounts, all pools, and the cost of every draw of every batch; the files are read before."""
    log = read(batches, method)
    begun = time.process_time()
    ledgers = Ledgers(log)
    accounts, inventory = ledgers.accounts, ledgers.inventory
    folded = time.process_time()
    costs = [
        inventory.cost_of(use, entry.record.date, entry.id)
        for entry in log.batches_in_time()
        for stage in entry.record.reaction
        for use in (*entry.record.oil, *stage.methanol, *stage.catalyst)
    ]
    done = time.process_time()
    assert None not in costs
    print(
        f"{method:15} {batches:6} batches  {len(accounts):5} lots  {len(costs):6} draws  "
        f"stock {folded - begun:5.2f} s  costing {done - folded:5.2f} s"
    )
    return done - begun


if __name__ == "__main__":
    gc.set_threshold(*COLLECTED)  # as the command does
    for chosen in (NAMED, FIFO, AVERAGE):
        small, large = measure(1000, chosen), measure(10_000, chosen)
        print(f"ten times the batches take {large / small:.1f} times as long")
