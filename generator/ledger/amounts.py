"""Every amount of a batch in the order of its file: what it is, which liquid, of which lot, where it is written.

The one list for all who go through a batch: the mass balance, the account of every lot, the temperatures.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from generator.ledger.basis import FUEL as FUEL_DENSITY
from generator.ledger.basis import LAYER as LAYER_DENSITY
from generator.ledger.slips import BACK, CATALYST, FUEL, LAYER, METHANOL, OIL
from generator.records import Batch, Plan, PlannedMethanol, Polish, Use
from generator.units import Quantity

ACID, ACID_LAYER = "acid", "layer drawn off after the pre-treatment"
FINISHED, PLANNED, SAMPLE = "finished fuel", "planned methanol", "sample"
AGAIN, ROUND = "fuel fed once more", "fuel that went round the columns"
Path = tuple[str | int, ...]


class Written(NamedTuple):
    """One amount as it is written; `quantity` is None where it could have been written and was not.

    `of` is the density by which its volume becomes mass, empty where there is none. `path` is where its entry stands and
    `key` what it is called in it, empty where the entry is the amount itself.
    """

    name: str
    quantity: Quantity | None
    of: str
    lot: str | None
    path: Path
    key: str = ""

    @property
    def place(self) -> Path:
        """Where the amount itself stands."""
        return (*self.path, self.key) if self.key else self.path


def amounts(batch: Batch) -> Iterator[Written]:
    """Every amount of a batch; the layers and the methanol taken back also where they were not written."""
    yield from _uses(OIL, "oil", batch.oil, "oil")
    yield from _planned(batch.plan)
    for number, stage in enumerate(batch.reaction):
        yield from _uses(METHANOL, "methanol", stage.methanol, "reaction", number, "methanol")
        yield from _uses(CATALYST, "", stage.catalyst, "reaction", number, "catalyst")
    done = batch.pretreatment
    if done is not None:
        yield from _uses(ACID, "", done.acid, "pretreatment", "acid")
        yield from _uses(METHANOL, "methanol", done.methanol, "pretreatment", "methanol")
        yield Written(ACID_LAYER, done.drained, "", None, ("pretreatment", "drained"))
    layer = batch.settled.glycerol if batch.settled is not None else None
    yield _made(LAYER, layer.amount if layer is not None else None, LAYER_DENSITY, "settled", "glycerol")
    back = batch.methanol_recovered
    yield Written(
        BACK,
        back.volume if back is not None else None,
        "methanol",
        back.into if back is not None else None,
        ("methanol_recovered",),
        "volume",
    )
    for number, run in enumerate(batch.polish):
        yield from _run(number, run)
    if batch.fuel is not None:
        yield _made(FINISHED, batch.fuel.amount, FUEL_DENSITY, "fuel")


def _uses(name: str, of: str, uses: Sequence[Use], *path: str | int) -> Iterator[Written]:
    for number, use in enumerate(uses):
        yield Written(name, use.amount, of, use.lot, (*path, number), use.amount.kind)


def _planned(plan: Plan | None) -> Iterator[Written]:
    listed: Sequence[PlannedMethanol] = plan.methanol if plan is not None else ()
    for number, item in enumerate(listed):
        if item.amount is not None:
            path: Path = ("plan", "methanol", number)
            yield Written(PLANNED, item.amount, "methanol", item.lot, path, item.amount.kind)


def _run(number: int, run: Polish) -> Iterator[Written]:
    """What was fed to the columns, and samples; fuel that runs once more was fed before."""
    yield Written(AGAIN if run.again else FUEL, run.volume, FUEL_DENSITY, None, ("polish", number, "volume"))
    yield Written(ROUND, run.bypassed, FUEL_DENSITY, None, ("polish", number, "bypassed"))
    for place, sample in enumerate(run.soap):
        yield Written(SAMPLE, sample.sample, FUEL_DENSITY, None, ("polish", number, "soap", place), "sample")


def _made(name: str, quantity: Quantity | None, of: str, *path: str) -> Written:
    return Written(name, quantity, of, None, path, quantity.kind if quantity is not None else "")
