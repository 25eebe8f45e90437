"""One row per batch: its facts as columns of `tables.BATCHES`."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

import pandas as pd

from generator.compute.results import frame
from generator.formulas.constants import SOAP_G_PER_MOL
from generator.formulas.soap import acid_rise_mg_koh_per_g
from generator.ledger.bench import Soap, alkali
from generator.ledger.charges import Columns
from generator.ledger.facts import Facts, known
from generator.log import Entry, Log
from generator.records import Batch
from generator.tables import BATCHES


def batches(log: Log, facts: Mapping[str, Facts], columns: Columns) -> pd.DataFrame:
    """All batches by date; one row each."""
    return frame(BATCHES, list(_rows(log, facts, columns)))


def _rows(log: Log, facts: Mapping[str, Facts], columns: Columns) -> Iterator[dict[str, Any]]:
    exchanged = columns.exchanged_mg_per_kg()
    for entry in log.batches_in_time():
        yield {
            **_written(entry),
            **_figures(facts[entry.id]),
            **_acid_rise(log, entry, exchanged.get(entry.id)),
        }


def _written(entry: Entry[Batch]) -> dict[str, Any]:
    batch = entry.record
    checks = [check for stage in batch.reaction for check in stage.conversion]
    return {
        "batch": entry.id,
        "date": batch.date.isoformat(),
        "oil_lots": ", ".join(dict.fromkeys(use.lot for use in batch.oil)),
        "oil_water_mg_per_kg": batch.water.value.value if batch.water is not None else None,
        "stages": len(batch.reaction) or None,
        "first_dropout_ml": checks[0].dropout.value * 1000 if checks else None,
        "last_dropout_ml": checks[-1].dropout.value * 1000 if checks else None,
        "emulsion": None if batch.settled is None else "yes" if batch.settled.emulsion else "no",
        "tank": batch.fuel.tank if batch.fuel is not None else None,
        "energy_kwh": batch.energy.value if batch.energy is not None else None,
        "labour_h": batch.labour.value if batch.labour is not None else None,
        "public_note": batch.public_note,
        "note": batch.note,
    }


def _figures(facts: Facts) -> dict[str, Any]:
    acid = facts.acidity
    return {
        "acid_value_mg_koh_per_g": acid.acid_value_mg_koh_per_g if acid else None,
        "ffa_pct": acid.ffa_pct if acid else None,
        "titration_spread_pct": acid.spread_pct if acid else None,
        **{name: getattr(facts, name) for name in _SAME},
        **_soap("feed", facts.soap_feed),
        **_soap("between", facts.soap_between),
        **_soap("product", facts.soap_product),
        "assumed_temperatures": ", ".join(facts.assumed) or None,
    }


# columns that have the name of a fact
_SAME = tuple(
    name
    for name in BATCHES.names
    if hasattr(Facts, name) and name not in ("batch",) and not name.startswith("soap_")
)


def _acid_rise(log: Log, entry: Entry[Batch], exchanged: float | None) -> dict[str, float | None]:
    base = alkali(log, entry.record)
    rise = (
        None
        if base is None
        else known(lambda soap: acid_rise_mg_koh_per_g(soap, SOAP_G_PER_MOL[base]), exchanged)
    )
    return {"acid_rise_mg_koh_per_g": rise}


def _soap(point: str, result: Soap | None) -> dict[str, Any]:
    value = None
    if result is not None:
        value = result.mg_per_kg if result.detected else result.limit_mg_per_kg
    return {
        f"soap_{point}_mg_per_kg": value,
        f"soap_{point}_limit_mg_per_kg": result.limit_mg_per_kg if result else None,
        f"soap_{point}_detected": None if result is None else "yes" if result.detected else "no",
    }
