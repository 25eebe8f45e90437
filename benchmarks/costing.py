"""Stock and costing alone: every lot's account, and what every batch cost by part, at growing sizes.

The largest has 10,000 batches, 3,000 lots and a price of diesel and of electricity for every week. Seconds are of the
processor, the least of some runs. The exponent is the slope of their logarithms over those of the batches: 1 is linear.
Yields and columns, which the cost of a batch rests on, are folded before and told apart.

python -m benchmarks.costing
"""

from __future__ import annotations

import gc
import math
import tempfile
import time
from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import date, timedelta
from itertools import pairwise
from pathlib import Path
from statistics import linear_regression

from benchmarks.logbooks import MATERIALS, write
from generator.cli import COLLECTED
from generator.compute.costs import costs_of
from generator.ledger.ledgers import Ledgers
from generator.ledger.pool import AVERAGE, FIFO, NAMED
from generator.log import Log
from generator.records import Costing
from generator.validate.logbook import checked_folder

BOUGHT = ("oil", "koh", "methanol")
PRICES = {"diesel": "EUR/L", "electricity": "EUR/kWh"}
BEGUN = date(1990, 1, 1)  # the day of the first batch
SIZES = (1250, 2500, 5000, 10_000)
STEPS = {
    "oil": 5,
    "methanol": 25,
    "koh": 50,
    "chips": 50,
    "resin": 50,
}  # 2,000 + 400 + 3 x 200 lots for 10,000 batches
RUNS = 5


@dataclass(frozen=True, slots=True)
class Taken:
    """Processor seconds: all accounts, and the table of costs with all pools; yields and columns apart."""

    stock: float
    costing: float
    apart: float

    @property
    def all(self) -> float:
        """Stock and costing together."""
        return self.stock + self.costing


def read(batches: int) -> Log:
    """A made logbook, read and checked."""
    assert all(f"  {name}:" in MATERIALS for name in BOUGHT)
    with tempfile.TemporaryDirectory() as folder:
        write(batches, Path(folder), steps=STEPS)
        for name, unit in PRICES.items():
            (Path(folder) / f"prices/{name}.yaml").write_text(_weekly(name, unit, batches), encoding="utf-8")
        log = checked_folder(Path(folder))[1].log
    assert log is not None
    return log


def _weekly(name: str, unit: str, days: int) -> str:
    """A price series with a row for every week."""
    rows = [
        f"  - {{date: {BEGUN + timedelta(days=day)}, value: 1.{day % 90:02} {unit}}}\n"
        for day in range(0, days, 7)
    ]
    return f"price: {name}\nseries:\n{''.join(rows)}"


def costed(log: Log, method: str) -> Log:
    """The same log with its oil, base and methanol costed by a method."""
    rows = tuple(Costing.model_construct(material=name, since=BEGUN, method=method) for name in BOUGHT)
    settings = log.settings.model_copy(update={"costing": rows})
    return replace(log, workshop=replace(log.workshop, record=settings))


def taken(log: Log) -> Taken:
    """Fold everything once from the records."""
    gc.collect()
    moments = [time.process_time()]

    def done() -> None:
        moments.append(time.process_time())

    ledgers = Ledgers(log)
    assert ledgers.inventory
    done()
    assert ledgers.facts and ledgers.media
    done()
    table = costs_of(ledgers)
    done()
    assert table["with_labour_per_l"].notna().all()
    stock, apart, costing = (after - before for before, after in pairwise(moments))
    return Taken(stock, costing, apart)


def measured() -> Iterator[tuple[str, int, Taken]]:
    """The best of some runs for every size and method, told as they come."""
    for size in SIZES:
        log = read(size)
        for method in (NAMED, FIFO, AVERAGE):
            best = min((taken(costed(log, method)) for _ in range(RUNS)), key=lambda one: one.all)
            print(
                f"{size:6} batches  {len(log.lots):5} lots  {method:14}  stock {best.stock:5.2f} s  costing {best.costing:5.2f} s  "
                f"together {best.all:5.2f} s  (yields, columns and media {best.apart:5.2f} s)"
            )
            yield method, size, best


if __name__ == "__main__":
    gc.set_threshold(*COLLECTED)  # as the command does
    found = list(measured())
    for method in (NAMED, FIFO, AVERAGE):
        points = [(math.log(size), math.log(one.all)) for name, size, one in found if name == method]
        slope = linear_regression(*zip(*points, strict=True)).slope
        print(f"{method:14}  seconds grow as batches to the power of {slope:.2f}")
