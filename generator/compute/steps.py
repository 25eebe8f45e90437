"""A step of a working: what is found, how, from which numbers. Numbers only, no sentence."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from generator.language import tell
from generator.ledger.basis import amount, density_line
from generator.log import Log
from generator.units import Quantity


@dataclass(frozen=True, slots=True)
class Term:
    """A number in a working, with its unit."""

    value: float
    unit: str = ""


Terms = tuple[Term, ...]


@dataclass(frozen=True, slots=True)
class Step:
    """One step: what is found, the working with its terms in place of `{}`, the result; `column` is the figure it gives."""

    what: str
    working: str
    terms: Terms
    result: Term
    column: str = ""


@dataclass(frozen=True, slots=True)
class Worked:
    """The steps towards one group of figures."""

    title: str
    steps: tuple[Step, ...]


def carried(log: Log, quantity: Quantity, of: str, lot: str | None, what: str) -> Iterator[Step]:
    """An amount to kilograms, and a volume to litres at the reference temperature."""
    line = density_line(log, of, lot)
    part, reference = amount(log, quantity, line), line.at(log.reference_c)
    if quantity.kind == "mass":
        terms: Terms = (Term(part.kg, "kg"), Term(reference, "kg/m³"))
        yield Step(tell("{what}, volume", what=what), "1000 · {} / {}", terms, Term(part.litres, "L"))
        return
    at_c = log.settings.assumed_temperature.value if quantity.at_c is None else quantity.at_c
    density = Term(line.at(at_c), "kg/m³")
    yield Step(
        tell("{what}, mass", what=what),
        "{} · {} / 1000",
        (Term(quantity.value, "L"), density),
        Term(part.kg, "kg"),
    )
    terms = (Term(quantity.value, "L"), density, Term(reference, "kg/m³"))
    yield Step(
        tell("{what}, volume at the reference temperature", what=what),
        "{} · {} / {}",
        terms,
        Term(part.litres, "L"),
    )
