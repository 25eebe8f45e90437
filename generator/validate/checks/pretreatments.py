"""An acid pre-treatment fits its oil: acid as much as is usual, a titration after it that agrees, methanol enough."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from generator.fields import plainly
from generator.formulas.acidity import acid_value_mg_koh_per_g
from generator.formulas.pretreatment import per_free_acid_kg
from generator.formulas.uncertainty import expanded
from generator.ledger.batch_facts import Facts, known
from generator.ledger.facts import facts_of
from generator.ledger.ledgers import Ledgers
from generator.ledger.pretreatment import Treated, treated
from generator.ledger.readings import plain
from generator.ledger.spoken import mass
from generator.ledger.uncertain import Uncertain, standard_uncertainty
from generator.log import Entry, Log
from generator.problems import Problem
from generator.records import Batch
from generator.validate.checks.oil import HIGH_TREATED_FFA_PCT

# pure sulfuric acid by mass of oil, %: 0.2 to 2 is in use, and a moved point leaves this band; common practice, no source
USUAL_ACID_PCT = (0.05, 3.0)
RULE_TIMES = 5.0  # how far a mass of acid may be from the workshop's own rule; common practice, no source


def check(ledgers: Ledgers) -> Iterator[Problem]:
    """Check every pre-treatment, planned or done."""
    log = ledgers.log
    for entry in log.written_batches():
        dose = ledgers.doses.get(entry.id)
        facts = ledgers.facts_of(entry)
        before = treated(log, entry.record, facts) if dose is None else dose.pretreatment
        if before is None:
            continue
        odd = [*_acid(log, entry, facts, before)]  # its mass is in all that follows
        yield from odd or _told_by_titration(log, entry, before)


def _acid(log: Log, entry: Entry[Batch], facts: Facts, before: Treated) -> Iterator[Problem]:
    if before.acid_pure_kg is None or not facts.oil_kg:
        return
    pct = 100 * before.acid_pure_kg / facts.oil_kg
    low, high = USUAL_ACID_PCT
    wanted_kg = _by_rule_kg(log, facts) if before.done else None
    rule = log.workshop.at("dose", "pretreatment", "acid")
    if not low <= pct <= high:
        message = (
            f"{plainly(pct, 2)} % of pure sulfuric acid by mass of oil, and {low:g} to {high:g} % is usual"
        )
        related = () if before.done else (rule,)
    elif wanted_kg and not 1 / RULE_TIMES <= before.acid_pure_kg / wanted_kg <= RULE_TIMES:
        message = f"{mass(log, before.acid_pure_kg, 2)} of pure sulfuric acid, and the workshop's rule gives {mass(log, wanted_kg, 2)}"
        related = (rule,)
    else:
        return
    yield Problem(
        "acid-odd",
        entry.at("pretreatment", "acid") if before.done else entry.at("plan", "pretreatment"),
        message,
        "check the acid and its unit, the oil, and the workshop's rule for a factor of ten"
        if before.done
        else "check 'acid' under 'pretreatment' in logbook.yaml, the oil and its titration for a factor of ten",
        related,
    )


def _by_rule_kg(log: Log, facts: Facts) -> float | None:
    """Pure acid by the workshop's rule; None without one, or where the titration is doubted already."""
    rule = log.settings.dose.pretreatment if log.settings.dose is not None else None
    acid = facts.acidity
    if rule is None or acid is None or not 0 < acid.ffa_pct <= HIGH_TREATED_FFA_PCT:
        return None
    return known(lambda kg: per_free_acid_kg(kg, acid.ffa_oleic_pct, rule.acid.value), facts.oil_kg)


def _told_by_titration(log: Log, entry: Entry[Batch], before: Treated) -> Iterator[Problem]:
    """Contents that come out below zero, beyond what the readings leave open."""
    readings = entry.at("pretreatment", "titration", "readings")
    after, free = before.after_mol_per_kg, before.free_after_mol_per_kg
    titrated = before.after_basis == "titrated" and after is not None and free is not None
    if titrated and _below_zero(log, entry, before, lambda item: item.free_after_mol_per_kg):
        assert after is not None and free is not None
        yield Problem(
            "pretreatment-titration",
            readings,
            f"the titration after the pre-treatment finds {_acid_value(after)}, less than the {_acid_value(after - free)} of mineral acid put in",
            "write 'acid_drained: true' if that acid left with its layer; if not, check readings, sample and acid",
            (entry.at("pretreatment", "acid"),),
        )
    elif _below_zero(log, entry, before, lambda item: item.methanol_left_kg):
        assert before.methanol_pure_kg is not None and before.methanol_left_kg is not None
        needed_kg = before.methanol_pure_kg - before.methanol_left_kg
        yield Problem(
            "methanol-short",
            entry.at("pretreatment", "methanol") if before.done else entry.at("plan", "pretreatment"),
            f"the acid that the pre-treatment turns to ester takes {mass(log, needed_kg, 2)} of methanol, and it has {mass(log, before.methanol_pure_kg, 2)}",
            "check methanol and oil, both acid values, and 'pretreatment' under 'dose' in logbook.yaml",
            (entry.at("oil"),),
        )


def _below_zero(
    log: Log, entry: Entry[Batch], before: Treated, figure: Callable[[Treated], float | None]
) -> bool:
    """Whether a figure lies below zero with the whole of its interval."""
    value = figure(before)
    if value is None or value >= 0:
        return False
    readings = Uncertain(log.settings.instruments)
    measured = treated(log, entry.record, facts_of(log, entry, readings), readings)
    number = figure(measured) if measured is not None else None
    return number is not None and plain(number) + expanded(standard_uncertainty(number)) < 0


def _acid_value(mol_per_kg: float) -> str:
    return f"{acid_value_mg_koh_per_g(mol_per_kg):.1f} mg KOH/g"
