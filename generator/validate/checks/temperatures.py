"""Temperatures lie where the corrections hold: densities from 0 to 60 °C, an alcoholic titrant from 0 to 40 °C."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from generator.ledger.bench import is_temperature_corrected
from generator.ledger.ledgers import Ledgers
from generator.log import Entry
from generator.problems import Place, Problem
from generator.records import Batch, Titration
from generator.units import Quantity

DENSITY_C = (0.0, 60.0)
TITRANT_C = (0.0, 40.0)


def check(ledgers: Ledgers) -> Iterator[Problem]:
    """Look at every volume of a batch and every titration."""
    log = ledgers.log
    for entry in log.written_batches():
        for quantity, place in _volumes(entry):
            if quantity.at_c is not None:
                yield from _outside(quantity.at_c, DENSITY_C, place, "the densities are straight lines")
    for titration, record, path, _ in log.titrations():
        yield from _titration(titration, record, *path)


def _volumes(entry: Entry[Batch]) -> Iterator[tuple[Quantity, Place]]:
    batch = entry.record
    for number, use in enumerate(batch.oil):
        if use.volume is not None:
            yield use.volume, entry.at("oil", number, "volume")
    for stage_number, stage in enumerate(batch.reaction):
        for number, use in enumerate(stage.methanol):
            if use.volume is not None:
                yield use.volume, entry.at("reaction", stage_number, "methanol", number, "volume")
    if batch.methanol_recovered is not None:
        yield batch.methanol_recovered.volume, entry.at("methanol_recovered", "volume")
    for number, run in enumerate(batch.polish):
        if run.volume is not None:
            yield run.volume, entry.at("polish", number, "volume")
    if batch.fuel is not None and batch.fuel.volume is not None:
        yield batch.fuel.volume, entry.at("fuel", "volume")


def _titration(titration: Titration, entry: Entry[Any], *path: str | int) -> Iterator[Problem]:
    if not is_temperature_corrected(titration):
        yield from _half(titration, entry.at(*path, "titrant"))
        return
    assert titration.temperature is not None and titration.titrant.at is not None
    told = "the correction of an alcoholic titrant is a straight line"
    yield from _outside(titration.temperature.value, TITRANT_C, entry.at(*path, "temperature"), told)
    yield from _outside(titration.titrant.at.value, TITRANT_C, entry.at(*path, "titrant", "at"), told)


def _half(titration: Titration, place: Place) -> Iterator[Problem]:
    """Part of what a correction for temperature needs is written, so it was meant; it is not made."""
    titrant = titration.titrant
    needs = {
        "'solvent: alcohol'": titrant.solvent == "alcohol",
        "'at:' beside its strength": titrant.at is not None,
        "'temperature:' beside the titrant": titration.temperature is not None,
    }
    lacking = [what for what, written in needs.items() if not written]
    if titrant.at is not None or (titrant.solvent == "alcohol" and titration.temperature is not None):
        yield Problem(
            "titrant-temperature",
            place,
            "the titrant was not carried to the temperature at which its strength holds",
            f"that also needs {' and '.join(lacking)}; drop 'at' if no correction is meant",
        )


def _outside(at_c: float, limits_c: tuple[float, float], place: Place, told: str) -> Iterator[Problem]:
    low, high = limits_c
    if not low <= at_c <= high:
        yield Problem(
            "temperature-range",
            place,
            f"{at_c:.0f} °C lies outside {low:.0f} to {high:.0f} °C, where {told}",
            "check the temperature and its unit; if it is right, measure again nearer to room temperature",
        )
