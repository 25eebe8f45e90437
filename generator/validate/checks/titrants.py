"""A titrant that was standardised is as strong as its label says, within 15 %; one of the two is wrong otherwise."""

from __future__ import annotations

from collections.abc import Iterator

from generator.fields import plainly
from generator.formulas.constants import molar_mass
from generator.ledger.bench import measured_mol_per_l
from generator.ledger.ledgers import Ledgers
from generator.problems import Problem
from generator.records import Titrant

MOST_PCT = 15.0  # a weighed base is 85 % pure or better; common practice, no source


def check(ledgers: Ledgers) -> Iterator[Problem]:
    """Hold what every standardised titrant was measured to be to what it was made to be."""
    for titration, entry, path, _ in ledgers.log.titrations():
        titrant = titration.titrant
        if titrant.standardised is None:
            continue
        place = entry.at(*path, "titrant", "standardised", "titrant")
        found, made = measured_mol_per_l(titrant), written_mol_per_l(titrant)
        if found is None:
            yield Problem(
                "blank-above-reading",
                place,
                f"the titrant used ({titrant.standardised.titrant.text}) is no more than the blank ({titrant.standardised.blank.text})",
                "check which of the two was typed where",
            )
        elif abs(found / made - 1) * 100 > MOST_PCT:
            yield Problem(
                "strength-differs",
                place,
                f"standardised, the titrant holds {plainly(found, 3)} mol/L, and {titrant.strength.text} would be {plainly(made, 3)} mol/L",
                "the measured strength counts; check the phthalate weighed, the millilitres and the strength",
                (entry.at(*path, "titrant", "strength"),),
            )


def written_mol_per_l(titrant: Titrant) -> float:
    """The strength as written, taken as pure base."""
    strength = titrant.strength.value
    return strength if titrant.strength.kind == "amount concentration" else strength / molar_mass(titrant.of)
