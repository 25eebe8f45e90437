"""Temperatures lie where the corrections hold: densities from 0 to 60 °C, an alcoholic titrant from 0 to 40 °C."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import chain
from typing import Any

from generator.ledger.amounts import amounts
from generator.ledger.basis import substance_of
from generator.ledger.bench import is_temperature_corrected
from generator.ledger.ledgers import Ledgers
from generator.log import At, Entry, Log
from generator.problems import Place, Problem
from generator.records import Oil, Rinse, Titration
from generator.units import Quantity

DENSITY_C = (0.0, 60.0)
TITRANT_C = (0.0, 40.0)
LINES = "the densities are straight lines"
AGAIN = "check the temperature and its unit; if it is right, measure again nearer to room temperature"
SETTING = "check the temperature and its unit; 15 °C is usual for a reference, and that of the shed where none is written"
Found = tuple[Quantity | None, Entry[Any], At]


def check(ledgers: Ledgers) -> Iterator[Problem]:
    """Look at the workshop's own temperatures, every volume that a density carries, and every titration."""
    log = ledgers.log
    settings = log.settings
    for name in ("reference_temperature", "assumed_temperature"):
        at_c = getattr(settings, name).value
        yield from _outside(at_c, DENSITY_C, log.workshop.at(name), LINES, SETTING)
    for quantity, entry, path in chain(_of_batches(log), _of_stock(log), _of_tanks(log)):
        if quantity is not None and quantity.kind != "mass" and quantity.at_c is not None:
            yield from _outside(quantity.at_c, DENSITY_C, entry.at(*path), LINES)
    for titration, record, path, _ in log.titrations():
        yield from _titration(titration, record, *path)


def _of_batches(log: Log) -> Iterator[Found]:
    for entry in log.written_batches():
        for written in amounts(entry.record):
            if written.of:
                yield written.quantity, entry, written.place


def _of_stock(log: Log) -> Iterator[Found]:
    """Materials, lots, offers, and methanol for the columns."""
    for material in log.materials.values():
        if isinstance(material.record, Oil):
            yield material.record.density, material, ("density",)
    for lot in log.lots.values():
        if _carried(log, lot.record.material):
            yield lot.record.quantity, lot, ("quantity",)
            for key in ("filled", "losses", "returns", "counts"):
                for number, item in enumerate(getattr(lot.record, key)):
                    yield item.volume, lot, (key, number, "volume")
    for offer in log.offers.values():
        if _carried(log, offer.record.material):
            yield offer.record.quantity, offer, ("quantity",)
    for purifier in log.purifiers.values():
        for number, event in enumerate(purifier.record.history):
            if isinstance(event, Rinse) and event.used is not None:
                yield event.used.volume, purifier, ("history", number, "with", "volume")


def _carried(log: Log, material: str) -> bool:
    """Whether a density carries volumes of a material to the reference temperature."""
    entry = log.materials.get(material)
    return entry is not None and substance_of(entry.record.kind) is not None


def _of_tanks(log: Log) -> Iterator[Found]:
    for entry in log.tanks.values():
        for number, event in enumerate(entry.record.history):
            yield event.draw, entry, ("history", number, "draw")
            yield event.fill, entry, ("history", number, "fill")
            yield event.temperature, entry, ("history", number, "temperature")


def _titration(titration: Titration, entry: Entry[Any], *path: str | int) -> Iterator[Problem]:
    sample, own = titration.sample, titration.temperature
    if sample.kind == "volume" and sample.at_c is not None:
        yield from _outside(sample.at_c, DENSITY_C, entry.at(*path, "sample"), LINES)
    if not is_temperature_corrected(titration):
        if sample.kind == "volume" and sample.at_c is None and own is not None:  # then the sample had it too
            yield from _outside(own.value, DENSITY_C, entry.at(*path, "temperature"), LINES)
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


def _outside(
    at_c: float, limits_c: tuple[float, float], place: Place, told: str, hint: str = AGAIN
) -> Iterator[Problem]:
    low, high = limits_c
    if not low <= at_c <= high:
        yield Problem(
            "temperature-range",
            place,
            f"{at_c:.0f} °C lies outside {low:.0f} to {high:.0f} °C, where {told}",
            hint,
        )
