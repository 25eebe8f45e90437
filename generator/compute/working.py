"""How the figures of a batch were worked out: measured values, each step, its result. Numbers only, no sentence.

The steps repeat what `ledger/facts.py` did on plain numbers; a test holds each result to the figure it explains.
"""

from __future__ import annotations

from collections.abc import Iterator

from generator.compute.steps import Step, Term, Terms, Worked, carried
from generator.compute.working_after import balance_steps, soap_steps, yield_steps
from generator.formulas.acidity import TITRANT_EXPANSION_PER_K
from generator.formulas.constants import FREE_ACID_G_PER_MOL, KOH_CONVENTION_G_PER_MOL, molar_mass
from generator.formulas.stoichiometry import ester_g_per_mol, fatty_acid_from_triglyceride_g_per_mol
from generator.language import tell
from generator.ledger.basis import amount, density_line
from generator.ledger.batch_facts import Facts
from generator.ledger.bench import Acidity, is_temperature_corrected, purity_pct
from generator.log import Log
from generator.records import Batch, Titrant, Titration


def working(log: Log, batch: Batch, facts: Facts) -> list[Worked]:
    """All workings of a batch in the order of the work; a group without any known step is left out."""
    groups = {
        tell("Oil"): _oil(log, batch, facts),
        tell("Acidity"): _acidity(log, batch, facts.acidity),
        tell("Dose"): _dose(log, facts),
        tell("Methanol"): _methanol(log, batch, facts),
        tell("In theory"): _theory(facts),
        tell("Yield"): yield_steps(log, batch, facts),
        tell("Mass balance"): balance_steps(log, batch, facts),
        tell("Soap and catalyst"): soap_steps(facts),
    }
    found = [Worked(title, tuple(steps)) for title, steps in groups.items()]
    return [group for group in found if group.steps]


def _oil(log: Log, batch: Batch, facts: Facts) -> Iterator[Step]:
    many = len(batch.oil) > 1
    for number, use in enumerate(batch.oil, 1):
        yield from carried(
            log, use.amount, "oil", use.lot, tell("oil {number}", number=number) if many else tell("oil")
        )
    if many and facts.oil_kg is not None and facts.oil_l is not None:
        yield Step(tell("all oil, mass"), tell("the sum"), (), Term(facts.oil_kg, "kg"), "oil_kg")
        yield Step(tell("all oil, volume"), tell("the sum"), (), Term(facts.oil_l, "L"), "oil_l")


def _acidity(log: Log, batch: Batch, acid: Acidity | None) -> Iterator[Step]:
    titration = batch.titration
    if titration is None or acid is None:
        return
    yield from _titrant(log, titration.titrant, acid)
    yield from _readings(titration, acid)
    if titration.sample.kind == "volume":
        grams_per_ml = Term(acid.sample_g / (titration.sample.value * 1000), "g/mL")
        terms: Terms = (Term(titration.sample.value * 1000, "mL"), grams_per_ml)
        yield Step(tell("sample"), "{} · {}", terms, Term(acid.sample_g, "g"))
    terms = (
        Term(acid.titrant_ml, "mL"),
        Term(acid.blank_ml, "mL"),
        Term(acid.titrant_mol_per_l, "mol/L"),
        Term(acid.sample_g, "g"),
    )
    yield Step(tell("demand for base"), "({} − {}) · {} / {}", terms, Term(acid.demand_mol_per_kg, "mol/kg"))
    demand = Term(acid.demand_mol_per_kg, "mol/kg")
    yield Step(
        tell("acid value"),
        "{} · {}",
        (Term(KOH_CONVENTION_G_PER_MOL, "g/mol"), demand),
        Term(acid.acid_value_mg_koh_per_g, "mg KOH/g"),
        "acid_value_mg_koh_per_g",
    )
    counted = Term(FREE_ACID_G_PER_MOL[log.settings.ffa_as], "g/mol")
    yield Step(
        tell("free fatty acid, as {acid} acid", acid=log.settings.ffa_as),
        "{} · {} / 10",
        (counted, demand),
        Term(acid.ffa_pct, "%"),
        "ffa_pct",
    )


def _titrant(log: Log, titrant: Titrant, acid: Acidity) -> Iterator[Step]:
    result = Term(acid.titrant_mol_per_l, "mol/L")
    if titrant.standardised is not None:
        phthalate = Term(titrant.standardised.phthalate.value * 1000, "g")
        yield Step(
            tell("titrant, standardised"),
            tell("from {} of hydrogen phthalate over {}"),
            (phthalate, Term(molar_mass("KHP"), "g/mol")),
            result,
        )
        return
    pure = 100.0 if titrant.lot is None else purity_pct(log, titrant.lot)
    if pure is None:
        return
    strength = titrant.strength
    made = Term(strength.value, "g/L" if strength.kind == "mass concentration" else "mol/L")
    if strength.kind == "mass concentration":
        terms: Terms = (made, Term(pure, "%"), Term(molar_mass(titrant.of), "g/mol"))
        yield Step(tell("titrant"), "{} · {} / {}", terms, result)
    else:
        yield Step(tell("titrant"), "{} · {}", (made, Term(pure, "%")), result)


def _readings(titration: Titration, acid: Acidity) -> Iterator[Step]:
    read: Terms = tuple(Term(reading.value * 1000, "mL") for reading in titration.readings)
    mean = sum(term.value for term in read) / len(read)
    if len(read) > 1:
        yield Step(
            tell("titrant used"),
            tell("mean of {readings}", readings=", ".join("{}" for _ in read)),
            read,
            Term(mean, "mL"),
        )
    if is_temperature_corrected(titration):
        assert titration.temperature is not None and titration.titrant.at is not None
        held, at = Term(titration.titrant.at.value, "°C"), Term(titration.temperature.value, "°C")
        for what, used, found in (
            (tell("titrant used"), mean, acid.titrant_ml),
            (tell("blank"), titration.blank.value * 1000, acid.blank_ml),
        ):
            terms = (Term(used, "mL"), Term(TITRANT_EXPANSION_PER_K, "1/K"), at, held)
            yield Step(
                tell("{what}, where its strength holds", what=what),
                "{} · (1 − {} · ({} − {}))",
                terms,
                Term(found, "mL"),
            )


def _dose(log: Log, facts: Facts) -> Iterator[Step]:
    demand, oil, purity = facts.dose_demand_mol_per_kg, facts.oil_kg, facts.catalyst_purity_pct
    if facts.catalyst_of is None or purity is None:
        return
    molar = Term(molar_mass(facts.catalyst_of), "g/mol")
    if facts.treated_acid_value_mg_koh_per_g is not None and demand is not None:
        terms: Terms = (
            Term(facts.treated_acid_value_mg_koh_per_g, "mg KOH/g"),
            Term(KOH_CONVENTION_G_PER_MOL, "g/mol"),
        )
        yield Step(tell("demand after the pre-treatment"), "{} / {}", terms, Term(demand, "mol/kg"))
    if demand is not None and oil is not None and facts.dose_neutralising_g is not None:
        terms = (Term(demand, "mol/kg"), Term(oil, "kg"), molar, Term(purity, "%"))
        result = Term(facts.dose_neutralising_g, "g")
        yield Step(
            tell("to neutralise, as weighed"), "{} · {} · {} / {}", terms, result, "dose_neutralising_g"
        )
    rule = log.settings.dose
    if rule is not None and facts.dose_base_g is not None and facts.oil_l is not None:
        rate = Term(rule.base.value, "g/L")
        terms = (rate, Term(molar_mass(rule.of), "g/mol"), Term(facts.oil_l, "L"), molar, Term(purity, "%"))
        result = Term(facts.dose_base_g, "g")
        yield Step(tell("base rate, as weighed"), "{} / {} · {} · {} / {}", terms, result, "dose_base_g")
    if facts.dose_neutralising_g is not None and facts.dose_base_g is not None and facts.dose_g is not None:
        terms = (Term(facts.dose_neutralising_g, "g"), Term(facts.dose_base_g, "g"))
        yield Step(tell("both terms"), "{} + {}", terms, Term(facts.dose_g, "g"), "dose_g")


def _methanol(log: Log, batch: Batch, facts: Facts) -> Iterator[Step]:
    uses = [use for stage in batch.reaction for use in stage.methanol]
    pure: list[Term] = []
    for number, use in enumerate(uses, 1):
        name = tell("methanol {number}", number=number) if len(uses) > 1 else tell("methanol")
        yield from carried(log, use.amount, "methanol", use.lot, name)
        kg, purity = (
            amount(log, use.amount, density_line(log, "methanol", use.lot)).kg,
            purity_pct(log, use.lot),
        )
        pure += [Term(kg, "kg"), Term(purity, "%")] if purity is not None else []
    if (
        facts.methanol_pct_v_v is not None
        and facts.reaction_methanol_l is not None
        and facts.oil_l is not None
    ):
        terms: Terms = (Term(facts.reaction_methanol_l, "L"), Term(facts.oil_l, "L"))
        result = Term(facts.methanol_pct_v_v, "%")
        yield Step(tell("methanol by volume of oil"), "100 · {} / {}", terms, result, "methanol_pct_v_v")
    ratio, molar, oil = facts.methanol_molar_ratio, facts.triglyceride_g_per_mol, facts.oil_kg
    all_pure = facts.reaction_methanol_pure_kg
    if ratio is None or molar is None or oil is None or all_pure is None:
        return
    there = all_pure - sum(kg.value * pct.value / 100 for kg, pct in zip(pure[::2], pure[1::2], strict=True))
    if abs(there) > 1e-9:  # a solution of the catalyst in methanol brings the rest
        pure += [Term(there, "kg"), Term(100.0, "%")]
    places = " + ".join("{} · {}" for _ in pure[::2])
    yield Step(tell("pure methanol"), places, tuple(pure), Term(all_pure, "kg"))
    terms = (
        Term(all_pure, "kg"),
        Term(molar_mass("methanol"), "g/mol"),
        Term(oil, "kg"),
        Term(molar, "g/mol"),
    )
    result = Term(ratio, "mol/mol")
    yield Step(
        tell("methanol to oil, by moles"), "({} / {}) / ({} / {})", terms, result, "methanol_molar_ratio"
    )


def _theory(facts: Facts) -> Iterator[Step]:
    molar, oil, acid = facts.triglyceride_g_per_mol, facts.oil_kg, facts.acidity
    if molar is None or oil is None or acid is None:
        return
    neutral = Term(oil * (1 - acid.ffa_oleic_pct / 100), "kg")
    terms: Terms = (Term(oil, "kg"), Term(acid.ffa_oleic_pct, "%"))
    yield Step(tell("neutral oil"), "{} · (100 % − {})", terms, neutral)
    ester = ester_g_per_mol(fatty_acid_from_triglyceride_g_per_mol(molar))
    rows = (
        (tell("ester"), 3, ester, facts.neutral_ester_kg, facts.esterified_kg, "ester_theory_kg"),
        (tell("glycerol"), 1, molar_mass("glycerol"), facts.glycerol_theory_kg, 0.0, "glycerol_theory_kg"),
        (
            tell("methanol consumed"),
            3,
            molar_mass("methanol"),
            facts.neutral_methanol_kg,
            facts.esterified_methanol_kg,
            "methanol_consumed_kg",
        ),
    )
    for what, moles, each, found, treated, column in rows:
        if found is not None and treated is not None:
            terms = (neutral, Term(each, "g/mol"), Term(molar, "g/mol"))
            times = f"{{}} · {moles} · {{}} / {{}}" if moles > 1 else "{} · {} / {}"
            if treated:
                terms, times = (
                    (*terms, Term(treated, "kg")),
                    tell("{times} + {{}} of the acid that was treated", times=times),
                )
            yield Step(what, times, terms, Term(found + treated, "kg"), column)
