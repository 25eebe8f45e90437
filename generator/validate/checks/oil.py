"""An oil can be titrated as written: no negative demand, no replicate far off, a dose the logbook can compute."""

from __future__ import annotations

from collections.abc import Iterator

from generator.fields import plainly
from generator.formulas.acidity import acid_value_mg_koh_per_g, spread_pct
from generator.ledger.basis import material_density_line
from generator.ledger.bench import Acidity, acidity
from generator.ledger.ledgers import Ledgers
from generator.ledger.pretreatment import treated
from generator.ledger.results import written_step
from generator.log import Entry, OilTitration
from generator.problems import Place, Problem
from generator.records import Batch, Material, Oil, Titration

MOST_SPREAD_PCT = 5.0
DIVISION_L = 1e-4  # no burette for this is divided more coarsely; ISO 385, from memory
ENOUGH = 1.001  # of a division: what is left of a decimal fraction in a float is less
HIGH_FFA_PCT = 15.0  # of kitchen oil
HIGH_TREATED_FFA_PCT = 50.0  # of oil that an acid pre-treatment is to lower; both common practice, no source


def check(ledgers: Ledgers) -> Iterator[Problem]:
    """Check every titration of an oil."""
    log = ledgers.log
    for batch in log.written_batches():
        if batch.record.titration is None:
            yield Problem(
                "no-titration",
                batch.at("batch"),
                f"batch {batch.id} has no titration, so its dose cannot be judged",
                "add 'titration:' if it was done",
            )
    doubted: set[str] = set()
    drop_l = log.settings.instruments.burette.value
    for one in log.titrations():
        readings = one.entry.at(*one.path, "readings")
        yield from _titration(one.titration, readings, one.entry.at(*one.path, "blank"), drop_l)
        found = acidity(log, one.titration, material_density_line(log, "oil", one.material))
        if found is not None and found.ffa_oleic_pct > _most_pct(one):
            doubted.add(one.entry.id)
            yield _acidity(found, readings, log.materials.get(one.material or ""))
    for batch in log.written_batches():
        if batch.id not in doubted:
            yield from _pretreated(ledgers, batch)


def _most_pct(one: OilTitration) -> float:
    """Up to where a titration is believed; an oil that is pre-treated may be sourer."""
    record = one.entry.record
    plan = isinstance(record, Batch) and record.plan is not None and record.plan.pretreatment is not None
    treated_after = isinstance(record, Batch) and (plan or record.pretreatment is not None)
    return HIGH_TREATED_FFA_PCT if treated_after and one.path == ("titration",) else HIGH_FFA_PCT


def _pretreated(ledgers: Ledgers, batch: Entry[Batch]) -> Iterator[Problem]:
    """A pre-treatment lowers the free fatty acid; where it did not, one of the two titrations is off."""
    if batch.record.pretreatment is None:
        return
    done = treated(ledgers.log, batch.record, ledgers.facts_of(batch))
    if done is None or done.before_mol_per_kg is None or done.free_after_mol_per_kg is None:
        return
    if done.free_after_mol_per_kg > done.before_mol_per_kg:
        before, after = (
            acid_value_mg_koh_per_g(demand) for demand in (done.before_mol_per_kg, done.free_after_mol_per_kg)
        )
        yield Problem(
            "acid-not-lowered",
            batch.at("pretreatment", "titration", "readings"),
            f"free fatty acid of {after:.2f} mg KOH/g after the pre-treatment, and {before:.2f} before it",
            "check both titrations: readings, sample and titrant; and whether the acid was drained",
            (batch.at("titration"),),
        )


def _acidity(found: Acidity, place: Place, material: Entry[Material] | None) -> Problem:
    whole = material.record.saponification_value if material and isinstance(material.record, Oil) else None
    if whole is not None and found.acid_value_mg_koh_per_g >= whole.value and material is not None:
        return Problem(
            "acidity-impossible",
            place,
            f"the titration gives an acid value of {found.acid_value_mg_koh_per_g:.0f} mg KOH/g, and free and bound acid together are {whole.text}",
            "check the units of readings, blank and sample, the strength of the titrant, and the saponification value",
            (material.at("saponification value"),),
        )
    told = f"the titration gives {plainly(found.ffa_oleic_pct, 3)} % free fatty acid as oleic acid"
    if found.ffa_oleic_pct > 100:
        return Problem(
            "acidity-impossible",
            place,
            f"{told}, more than there can be",
            "check the units of readings, blank and sample (mL, not L), and the strength of the titrant",
        )
    return Problem(
        "acidity-high",
        place,
        f"{told}, more than kitchen oil usually has",
        "check readings, sample and titrant for a factor of ten; an oil like this is no oil for alkali alone",
    )


def _titration(titration: Titration, readings: Place, blank: Place, drop_l: float) -> Iterator[Problem]:
    values = [reading.value for reading in titration.readings]
    mean = sum(values) / len(values)
    if mean < titration.blank.value:
        yield Problem(
            "blank-above-reading",
            readings,
            f"the readings ({titration.readings[0].text} ...) lie below the blank ({titration.blank.text})",
            "check which of the two was typed where",
            (blank,),
        )
        return
    written_l = min(written_step(reading) for reading in titration.readings)
    apart_l = max(values) - min(values)  # by one division they may differ at any time
    beyond = apart_l > ENOUGH * max(drop_l, min(written_l, DIVISION_L))
    if mean > 0 and beyond and spread_pct(values) > MOST_SPREAD_PCT:
        outlier = max(titration.readings, key=lambda reading: abs(reading.value - mean))
        yield Problem(
            "replicate-spread",
            readings,
            f"the readings spread over {spread_pct(values):.0f} % of their mean; {outlier.text} is farthest off",
            "titrate once more and leave the odd one out, with a note",
        )
