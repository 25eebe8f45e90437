"""What went into a batch and what came out, entry by entry, for judging a mass balance that does not close."""

from __future__ import annotations

from collections.abc import Iterator

from generator.formulas.uncertainty import expanded
from generator.ledger.amounts import ACID, ACID_LAYER, FINISHED, Written, amounts
from generator.ledger.basis import amount, density_line
from generator.ledger.batch_facts import USUAL_CLOSURE_PCT, Facts
from generator.ledger.closure import Explanation, explanations
from generator.ledger.parts import as_mass
from generator.ledger.readings import plain
from generator.ledger.slips import BACK, CATALYST, FUEL, LAYER, METHANOL, OIL, Flow
from generator.ledger.uncertain import Uncertain, standard_uncertainty
from generator.log import Entry, Log
from generator.records import Batch

ENTERING = (OIL, METHANOL, CATALYST, ACID)
BALANCED = (*ENTERING, LAYER, ACID_LAYER, BACK, FUEL, FINISHED)


def is_open(measured: Facts) -> bool:
    """Whether the whole of closure ± U lies outside the usual band; `measured` carries its uncertainty.

    Not below it where a batch failed, 0 L of fuel: what was thrown away has no entry to be written in.
    """
    if measured.closure_pct is None:
        return False
    closure = plain(measured.closure_pct)
    reach = expanded(standard_uncertainty(measured.closure_pct))
    failed = measured.made_kg is not None and plain(measured.made_kg) == 0
    short = closure + reach < USUAL_CLOSURE_PCT[0] and not failed
    return short or closure - reach > USUAL_CLOSURE_PCT[1]


def explained(log: Log, entry: Entry[Batch], facts: Facts) -> tuple[Explanation, ...]:
    """The entries whose mistake would best explain an open balance, best first."""
    return explanations(
        flows(log, entry),
        oil_l=facts.oil_l,
        triglyceride_g_per_mol=facts.triglyceride_g_per_mol,
        reference_c=log.reference_c,
        ffa_pct=facts.acidity.ffa_oleic_pct if facts.acidity is not None else 0.0,
    )


def flows(log: Log, entry: Entry[Batch]) -> Iterator[Flow]:
    """Every entry of the balance; the layer and the methanol taken back also where they were not written."""
    batch = entry.record
    fed = bool(batch.first_passes) and all(run.volume is not None for run in batch.first_passes)
    for written in amounts(batch):
        if written.name in BALANCED and written.name != (FINISHED if fed else FUEL):
            yield _flow(log, written)


def _flow(log: Log, written: Written) -> Flow:
    quantity, name = written.quantity, FUEL if written.name == FINISHED else written.name
    line = density_line(log, written.of, written.lot) if written.of else None
    if quantity is not None and line is None:  # acid has a density of its own, a catalyst none
        weighed = as_mass(log, written.lot or "", quantity)
        quantity = weighed if weighed.kind == "mass" else None
    assumed_c = log.settings.assumed_temperature.value
    at_c = assumed_c if quantity is None or quantity.at_c is None else quantity.at_c
    readings, entering = Uncertain(log.settings.instruments), name in ENTERING
    if quantity is None:
        return Flow(name, entering, None, 0.0, None, line, at_c, written.path)
    if line is None:
        kg = readings.mass_kg(quantity, name)
    else:
        kg = amount(log, quantity, readings.density(line, written.of), readings, name).kg
    return Flow(name, entering, plain(kg), standard_uncertainty(kg), quantity, line, at_c, written.path)
