"""The second half of a working: what came out, whether the mass closes, soap and catalyst."""

from __future__ import annotations

from collections.abc import Iterator

from generator.compute.steps import Step, Term, Terms, carried
from generator.language import tell
from generator.ledger.basis import FUEL, LAYER
from generator.ledger.batch_facts import Facts
from generator.ledger.soap import AT_LEAST, AT_MOST, BETWEEN, Soap
from generator.log import Log
from generator.records import Batch


def yield_steps(log: Log, batch: Batch, facts: Facts) -> Iterator[Step]:
    """What came out, and the three yields."""
    for run in batch.first_passes:
        if run.volume is not None:
            yield from carried(log, run.volume, FUEL, None, tell("fuel fed to the columns"))
    if batch.fuel is not None:
        yield from carried(log, batch.fuel.amount, FUEL, None, tell("finished fuel"))
    pairs = (
        (tell("by volume"), facts.fuel_l, facts.oil_l, "L", "yield_volume_pct"),
        (tell("by mass"), facts.made_kg, facts.oil_kg, "kg", "yield_mass_pct"),
        (tell("against theory"), facts.made_kg, facts.ester_theory_kg, "kg", "yield_theory_pct"),
    )
    for what, part, whole, unit, column in pairs:
        if part is not None and whole is not None:
            terms: Terms = (Term(part, unit), Term(whole, unit))
            yield Step(what, "100 · {} / {}", terms, Term(getattr(facts, column), "%"), column)


def balance_steps(log: Log, batch: Batch, facts: Facts) -> Iterator[Step]:
    """Mass in, mass out, closure; flows of nothing are left out of the lines."""
    layer = batch.settled.glycerol if batch.settled is not None else None
    if layer is not None and layer.volume is not None:
        yield from carried(log, layer.volume, LAYER, None, tell("layer drawn off"))
    into = {
        tell("oil {}"): facts.oil_kg,
        tell("methanol {}"): facts.methanol_kg,
        tell("catalyst {}"): facts.catalyst_g / 1000 if facts.catalyst_g is not None else None,
        tell("acid {}"): facts.acid_kg,
    }
    out = {
        tell("fuel {}"): facts.made_kg,
        tell("layer {}"): facts.glycerol_layer_kg,
        tell("acid layer {}"): facts.treated_layer_kg,
        tell("methanol taken back {}"): facts.methanol_recovered_kg,
    }
    for what, flows, total in (
        (tell("mass in"), into, facts.mass_in_kg),
        (tell("mass out"), out, facts.mass_out_kg),
    ):
        if total is not None:
            there = {name: kg for name, kg in flows.items() if kg}
            terms: Terms = tuple(Term(kg, "kg") for kg in there.values())
            yield Step(what, " + ".join(there), terms, Term(total, "kg"))
    if facts.closure_pct is not None and facts.mass_in_kg is not None and facts.mass_out_kg is not None:
        terms = (Term(facts.mass_out_kg, "kg"), Term(facts.mass_in_kg, "kg"))
        yield Step(tell("closure"), "100 · {} / {}", terms, Term(facts.closure_pct, "%"), "closure_pct")


def soap_steps(facts: Facts) -> Iterator[Step]:
    """Every titration of the run with acid."""
    points = (
        (tell("soap in the feed"), facts.soap_feed, "soap_feed_mg_per_kg"),
        (tell("soap between the columns"), facts.soap_between, "soap_between_mg_per_kg"),
        (tell("soap in the product"), facts.soap_product, "soap_product_mg_per_kg"),
        (tell("catalyst left in the feed"), facts.catalyst_feed, "catalyst_feed_mg_per_kg"),
        (tell("catalyst left in the product"), facts.catalyst_product, "catalyst_product_mg_per_kg"),
    )
    for what, found, column in points:
        if found is not None:
            yield _titrated(_known(what, found), found, column)


def _known(what: str, found: Soap) -> str:
    if found.known in (AT_LEAST, AT_MOST):
        return f"{what}, {found.known}"
    return tell("{what}, with bounds as if they were readings", what=what) if found.known == BETWEEN else what


def _titrated(what: str, found: Soap, column: str) -> Step:
    terms: Terms = (
        Term(found.acid_ml, "mL"),
        Term(found.blank_ml, "mL"),
        Term(found.acid_mol_per_l, "mol/L"),
        Term(found.counted_g_per_mol, "g/mol"),
        Term(found.sample_g, "g"),
    )
    return Step(
        what,
        "1000 · ({} − {}) · {} · {} / {}",
        terms,
        Term(found.mg_per_kg, "mg/kg"),
        column if found.detected else "",
    )
