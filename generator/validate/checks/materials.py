"""Purities and densities of materials as they are sold; a digit lost in one is in every sheet and every batch."""

from __future__ import annotations

from collections.abc import Iterator

from generator.fields import plainly
from generator.ledger.ledgers import Ledgers
from generator.log import Entry
from generator.problems import Problem
from generator.records import Acid, Alcohol, Catalyst, Material, Oil
from generator.units import Quantity

# all common practice, no source
LEAST_BASE_PCT = 80.0  # flake or pellet
LEAST_METHANOL_PCT = 90.0  # recovered methanol too
LEAST_ACID_PCT = 30.0  # as sold for batteries
OIL_KG_PER_M3 = (850.0, 980.0)
ACID_KG_PER_M3 = (1200.0, 1900.0)


def check(ledgers: Ledgers) -> Iterator[Problem]:
    """Look at every material that is weighed or poured."""
    for entry in ledgers.log.materials.values():
        record = entry.record
        if isinstance(record, Catalyst) and record.solvent is None:
            hint = "write the label's mass %; of a solution in methanol write 'solvent: methanol' as well"
            yield from _purity(entry, record.purity, LEAST_BASE_PCT, hint)
        elif isinstance(record, Alcohol):
            yield from _purity(
                entry,
                record.purity,
                LEAST_METHANOL_PCT,
                "write the label's mass %, or what a hydrometer says",
            )
        elif isinstance(record, Acid):
            yield from _purity(entry, record.purity, LEAST_ACID_PCT, "write the label's mass %")
            yield from _density(entry, record.density, ACID_KG_PER_M3)
        elif isinstance(record, Oil):
            yield from _density(entry, record.density, OIL_KG_PER_M3)


def _purity(entry: Entry[Material], purity: Quantity, least: float, hint: str) -> Iterator[Problem]:
    if purity.value < least:
        message = f"{entry.id} is {purity.text} pure, and such a material is usually {least:.0f} % or more"
        yield Problem("material-odd", entry.at("purity"), message, hint)


def _density(
    entry: Entry[Material], density: Quantity | None, usual: tuple[float, float]
) -> Iterator[Problem]:
    if density is not None and not usual[0] <= density.value <= usual[1]:
        low, high = (value / float(density.unit.factor) for value in usual)
        yield Problem(
            "material-odd",
            entry.at("density"),
            f"{entry.id} has a density of {density.text}, and such a material has {plainly(low, 4)} to {plainly(high, 4)} {density.unit.symbol}",
            "check the number and its unit",
        )
