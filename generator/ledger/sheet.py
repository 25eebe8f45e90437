"""All that a weigh sheet tells of one batch, planned or recorded: its dose with uncertainty, the settings, the names of lots."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from generator.ledger.dose import Dose, dose_of
from generator.ledger.facts import facts_of
from generator.ledger.uncertain import Uncertain
from generator.log import Entry, Log
from generator.records import Batch, Workshop


@dataclass(frozen=True, slots=True)
class ToWeigh:
    """Everything a weigh sheet tells: the batch as it is written, its dose with uncertainty, settings, names of lots."""

    batch: Batch
    dose: Dose
    settings: Workshop
    names: Mapping[str, str]


def to_weigh(log: Log, entry: Entry[Batch]) -> ToWeigh:
    """Reckon the sheet of one batch, planned or recorded, with the uncertainty of its readings."""
    readings = Uncertain(log.settings.instruments)
    dose = dose_of(log, entry, facts_of(log, entry, readings), readings)
    return ToWeigh(entry.record, dose, log.settings, {name: _named(log, name) for name in log.lots})


def _named(log: Log, lot: str) -> str:
    """The material of a lot as its label would name it."""
    material = log.material_of(lot)
    return (material.record.name or material.id) if material is not None else ""
