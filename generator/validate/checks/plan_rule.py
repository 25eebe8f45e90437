"""A plan can be reckoned: the rules it needs are written, methanol suffices, a pre-treatment lowers the acid."""

from __future__ import annotations

from collections.abc import Iterator

from generator.ledger.dose import Dose
from generator.ledger.ledgers import Ledgers
from generator.ledger.spoken import mass
from generator.log import Entry, Log
from generator.problems import Problem
from generator.records import Batch
from generator.validate.checks.figures import LEAST_MOLES

SHORT_PCT = 5.0  # what readings of volumes and a purity leave open; common practice, no source


def check(ledgers: Ledgers) -> Iterator[Problem]:
    """Check every planned batch against the workshop's rule."""
    for entry in ledgers.log.planned.values():
        dose = ledgers.doses[entry.id]
        yield from _rules(ledgers.log, entry)
        yield from _methanol(ledgers.log, entry, dose)
        yield from _target(entry, dose)


def _rules(log: Log, entry: Entry[Batch]) -> Iterator[Problem]:
    plan, rule = entry.record.plan, log.settings.dose
    assert plan is not None
    if rule is None:
        hint = (
            "write 'dose: {base: ... g/L, of: KOH, methanol: ... %}' in logbook.yaml with your own figures; "
            "in a logbook of 'esterday begin' the line stands there behind a '#': take that away"
        )
        yield _no_rule(entry, "a base rate", hint, "plan")
        return
    if rule.methanol is None and any(item.amount is None for item in plan.methanol):
        hint = "write 'methanol' under 'dose', such as 6 mol/mol or 22 %, or an amount for every lot"
        yield _no_rule(entry, "methanol", hint, "plan", "methanol")
    if plan.pretreatment is not None and entry.record.pretreatment is None and rule.pretreatment is None:
        hint = "write 'pretreatment: {methanol: ... g/g, acid: ... g/g}' under 'dose'"
        yield _no_rule(entry, "a pre-treatment", hint, "plan", "pretreatment")


def _no_rule(entry: Entry[Batch], of: str, hint: str, *path: str) -> Problem:
    message = f"batch {entry.id} is planned with {of}, and logbook.yaml holds no rule for it"
    return Problem("no-rule", entry.at(*path, key=True), message, hint)


def _methanol(log: Log, entry: Entry[Batch], dose: Dose) -> Iterator[Problem]:
    ratio = dose.methanol.molar_ratio
    if ratio is not None and ratio < LEAST_MOLES:
        yield Problem(
            "methanol-short",
            entry.at("plan", "methanol"),
            f"{ratio:.1f} mol of methanol per mol of oil, and the reaction takes {LEAST_MOLES:.0f}",
            "check the amounts of methanol and oil, and 'methanol' under 'dose' in logbook.yaml",
            (entry.at("oil"),),
        )
    else:
        yield from _short_of_rule(log, entry, dose)


def _short_of_rule(log: Log, entry: Entry[Batch], dose: Dose) -> Iterator[Problem]:
    """Amounts written for every lot of methanol hold less of it than the rule asks."""
    pure, rule = dose.methanol.pure_kg, dose.methanol.rule_kg
    if pure is None or rule is None or pure >= rule * (1 - SHORT_PCT / 100):
        return
    yield Problem(
        "methanol-below-rule",
        entry.at("plan", "methanol"),
        f"{mass(log, pure)} of pure methanol planned, {100 * (1 - pure / rule):.0f} % less than the workshop's rule of {mass(log, rule)}",
        "check the amounts and their units, or leave one lot without an amount: it takes the rest",
        (entry.at("oil"),),
    )


def _target(entry: Entry[Batch], dose: Dose) -> Iterator[Problem]:
    plan, acidity = entry.record.plan, dose.facts.acidity
    target = plan.pretreatment.target if plan is not None and plan.pretreatment is not None else None
    if target is not None and acidity is not None and target.value > acidity.acid_value_mg_koh_per_g:
        yield Problem(
            "out-of-range",
            entry.at("plan", "pretreatment", "target"),
            f"a target of {target.text} lies above the oil's own {acidity.acid_value_mg_koh_per_g:.2f} mg KOH/g",
            "write the acid value that the pre-treatment is to reach, or leave it out",
            (entry.at("titration"),),
        )
