"""What went into a batch and what came out, entry by entry, for judging a mass balance that does not close."""

from __future__ import annotations

from collections.abc import Iterator

from generator.formulas.uncertainty import expanded
from generator.ledger.basis import FUEL as FUEL_DENSITY
from generator.ledger.basis import LAYER as LAYER_DENSITY
from generator.ledger.basis import amount, density_line
from generator.ledger.batch_facts import USUAL_CLOSURE_PCT, Facts
from generator.ledger.closure import Explanation, explanations
from generator.ledger.parts import as_mass
from generator.ledger.readings import plain
from generator.ledger.slips import BACK, CATALYST, FUEL, LAYER, METHANOL, OIL, Flow
from generator.ledger.uncertain import Uncertain, standard_uncertainty
from generator.log import Entry, Log
from generator.records import Batch
from generator.units import Quantity

ACID, ACID_LAYER = "acid", "layer drawn off after the pre-treatment"
Path = tuple[str | int, ...]


def is_open(measured: Facts) -> bool:
    """Whether the whole of closure ± U lies outside the usual band; `measured` carries its uncertainty."""
    if measured.closure_pct is None:
        return False
    closure = plain(measured.closure_pct)
    reach = expanded(standard_uncertainty(measured.closure_pct))
    return closure + reach < USUAL_CLOSURE_PCT[0] or closure - reach > USUAL_CLOSURE_PCT[1]


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
    for number, use in enumerate(batch.oil):
        yield _flow(log, OIL, True, use.amount, "oil", use.lot, ("oil", number))
    for stage_number, stage in enumerate(batch.reaction):
        for number, use in enumerate(stage.methanol):
            path: Path = ("reaction", stage_number, "methanol", number)
            yield _flow(log, METHANOL, True, use.amount, "methanol", use.lot, path)
        for number, use in enumerate(stage.catalyst):
            path = ("reaction", stage_number, "catalyst", number)
            yield _flow(log, CATALYST, True, use.mass, "", use.lot, path)
    yield from _pretreatment(log, batch)
    layer = batch.settled.glycerol if batch.settled is not None else None
    written = layer.amount if layer is not None else None
    yield _flow(log, LAYER, False, written, LAYER_DENSITY, None, ("settled", "glycerol"))
    back = batch.methanol_recovered.volume if batch.methanol_recovered is not None else None
    yield _flow(log, BACK, False, back, "methanol", None, ("methanol_recovered",))
    runs = batch.first_passes
    if runs and all(run.volume is not None for run in runs):
        for number, run in enumerate(batch.polish):
            if not run.again:
                yield _flow(log, FUEL, False, run.volume, FUEL_DENSITY, None, ("polish", number, "volume"))
    elif batch.fuel is not None:
        yield _flow(log, FUEL, False, batch.fuel.amount, FUEL_DENSITY, None, ("fuel",))


def _pretreatment(log: Log, batch: Batch) -> Iterator[Flow]:
    """Acid and methanol of a pre-treatment, and the layer that was drawn off after it."""
    done = batch.pretreatment
    if done is None:
        return
    for number, use in enumerate(done.acid):
        mass = as_mass(log, use.lot, use.amount)
        known_mass = mass if mass.kind == "mass" else None
        yield _flow(log, ACID, True, known_mass, "", use.lot, ("pretreatment", "acid", number))
    for number, use in enumerate(done.methanol):
        path: Path = ("pretreatment", "methanol", number)
        yield _flow(log, METHANOL, True, use.amount, "methanol", use.lot, path)
    yield _flow(log, ACID_LAYER, False, done.drained, "", None, ("pretreatment", "drained"))


def _flow(
    log: Log, name: str, entering: bool, quantity: Quantity | None, of: str, lot: str | None, path: Path
) -> Flow:
    line = density_line(log, of, lot) if of else None
    assumed_c = log.settings.assumed_temperature.value
    at_c = assumed_c if quantity is None or quantity.at_c is None else quantity.at_c
    readings = Uncertain(log.settings.instruments)
    if quantity is None:
        return Flow(name, entering, None, 0.0, None, line, at_c, path)
    if line is None:
        kg = readings.mass_kg(quantity, name)
    else:
        kg = amount(log, quantity, readings.density(line, of), readings, name).kg
    return Flow(name, entering, plain(kg), standard_uncertainty(kg), quantity, line, at_c, path)
