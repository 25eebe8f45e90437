"""One row per batch: its facts as columns of `tables.BATCHES`, each measured figure with its uncertainty and budget."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any

import pandas as pd

from generator.compute.figures import Budgets, Sure, figures, sureness
from generator.compute.frames import frame
from generator.formulas.columns import media_kg_per_1000_l
from generator.kept import APART, Gathered
from generator.ledger.acid import Acid, acid_of
from generator.ledger.batch_facts import Facts, known
from generator.ledger.media import Spread
from generator.ledger.passes import Columns
from generator.ledger.whole import Whole, wholes
from generator.log import Entry, Log
from generator.records import Batch
from generator.tables import BATCHES


@dataclass(slots=True)
class Batches:
    """The table of batches, and what of each batch is no column: which input an uncertainty comes from, what would close its mass."""

    frame: pd.DataFrame
    budgets: dict[str, Budgets] = field(default_factory=dict)
    explained: dict[str, tuple[str, ...]] = field(default_factory=dict)


def batches(
    log: Log,
    facts: Mapping[str, Facts],
    columns: Columns,
    media: Mapping[str, Spread],
    before: Gathered = APART,
) -> Batches:
    """All batches by date, one row each; `before` may hold how sure the figures of some are."""
    found = Batches(frame(BATCHES, []))
    sure = sureness(log, before)
    found.frame = frame(BATCHES, list(_rows(log, facts, columns, media, sure, found)))
    return found


def _rows(
    log: Log,
    facts: Mapping[str, Facts],
    columns: Columns,
    media: Mapping[str, Spread],
    sure_of: Mapping[str, Sure],
    found: Batches,
) -> Iterator[dict[str, Any]]:
    exchanged, fresh, before = columns.exchanged_mg_per_kg(), columns.fresh_heel_l(), columns.stood_before()
    medium, whole = _medium_kg(columns, media), wholes(columns.passes)
    for entry in log.batches_in_time():
        exact, sure = facts[entry.id], sure_of[entry.id]
        found.budgets[entry.id] = sure.budgets
        if sure.explained is not None:
            found.explained[entry.id] = sure.explained
        yield {
            **_written(log, entry),
            **figures(exact),
            **{f"u_{name}": each.u or None for name, each in sure.spreads.items()},
            **_acid(acid_of(log, entry, exact.feed_acid_value_mg_koh_per_g, exchanged.get(entry.id))),
            "heel_fresh_l": fresh.get(entry.id),
            **_before(before.get(entry.id, {})),
            **_whole(whole.get(entry.id)),
            "media_kg_per_1000_l": known(media_kg_per_1000_l, medium.get(entry.id), exact.fed_l or None),
        }


def _before(before: Mapping[str, float | None]) -> dict[str, Any]:
    """The fuel that stood in the beds when the batch came, and whose it was; nothing where they were fresh."""
    return {
        "heel_before_l": known(lambda *litres: sum(litres), *before.values()) if before else None,
        "heel_before_of": ", ".join(before) or None,
    }


def _whole(whole: Whole | None) -> dict[str, Any]:
    """Soap in all of the fuel, with what went round the line."""
    soap = whole.soap if whole is not None else None
    return {
        "round_kg": whole.round_kg if whole is not None else None,
        "soap_whole_low_mg_per_kg": soap.low if soap is not None else None,
        "soap_whole_high_mg_per_kg": soap.high if soap is not None else None,
    }


def _medium_kg(columns: Columns, media: Mapping[str, Spread]) -> dict[str, float | None]:
    """By batch, the medium that its runs used, by the fuel each charge was expected to treat."""
    out: dict[str, float | None] = {}
    for charge in columns.charges:
        for run, booking in zip(charge.runs, media[charge.id].bookings, strict=True):
            out[run.batch] = known(lambda so_far, kg: so_far + kg, out.get(run.batch, 0.0), booking.medium_kg)
    return out


def _written(log: Log, entry: Entry[Batch]) -> dict[str, Any]:
    batch = entry.record
    lots = [log.lots[use.lot].record for use in batch.oil]
    checks = [check for stage in batch.reaction for check in stage.conversion]
    return {
        "batch": entry.id,
        "date": batch.date.isoformat(),
        "oil_lots": ", ".join(dict.fromkeys(use.lot for use in batch.oil)),
        "oil_sources": ", ".join(dict.fromkeys(lot.code for lot in lots if lot.code)) or None,
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


def _acid(acid: Acid) -> dict[str, Any]:
    return {
        "acid_before_mg_koh_per_g": acid.before,
        "u_acid_before_mg_koh_per_g": acid.u_each if acid.before is not None else None,
        "acid_rise_low_mg_koh_per_g": acid.rise_low,
        "acid_rise_high_mg_koh_per_g": acid.rise_high,
        "acid_predicted_low_mg_koh_per_g": acid.expected_low,
        "acid_predicted_high_mg_koh_per_g": acid.expected_high,
        "acid_measured_mg_koh_per_g": acid.measured,
        "u_acid_measured_mg_koh_per_g": acid.u_each if acid.measured is not None else None,
        "acid_agreement": acid.agreement,
    }
