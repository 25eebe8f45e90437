"""How the figures of a batch were worked out and how sure they are, as tables."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from generator.compute.steps import Step, Term, Worked
from generator.language import said, say, spoken, term
from generator.pages.parts import Row
from generator.pages.view import Cell, Head, TableView
from generator.pages.words import NARROW, plus_minus, significant, with_unit
from generator.tables import BATCHES

DIGITS = 4
MOST_PARTS = 4

# the figures whose budget a reader may ask for, as they are called on the page
_LABELS = {
    "oil_kg": term("Oil"),
    "acid_value_mg_koh_per_g": term("Acid value of the oil"),
    "dose_neutralising_g": term("Dose: to neutralise"),
    "dose_base_g": term("Dose: base rate"),
    "dose_g": term("Dose: both terms"),
    "methanol_molar_ratio": term("Methanol to oil"),
    "ester_theory_kg": term("Ester in theory"),
    "yield_volume_pct": term("Yield by volume of oil"),
    "yield_mass_pct": term("Yield by mass of oil"),
    "yield_theory_pct": term("Yield against theory"),
    "heel_l": term("Left in the columns"),
    "closure_pct": term("Mass closure"),
    "soap_feed_mg_per_kg": term("Soap in the feed"),
    "soap_between_mg_per_kg": term("Soap between the columns"),
    "soap_product_mg_per_kg": term("Soap in the product"),
    "catalyst_feed_mg_per_kg": term("Catalyst left in the feed"),
    "catalyst_product_mg_per_kg": term("Catalyst left in the product"),
}


@dataclass(frozen=True, slots=True)
class Working:
    """One group of steps as shown."""

    title: str
    rows: tuple[tuple[Cell, ...], ...]


def workings(groups: Sequence[Worked], root: str) -> list[Working]:
    """The steps of a batch, group by group: what, how, result; the result links to its formula."""
    return [
        Working(
            said(group.title),
            tuple(
                (Cell(said(step.what)), Cell(_text(step)), Cell(_term(step.result), href=_method(step, root)))
                for step in group.steps
            ),
        )
        for group in groups
    ]


def _text(step: Step) -> str:
    return said(step.working).format(*(_plainly(term) for term in step.terms))


def _term(term: Term) -> str:
    return significant(term.value, term.unit, DIGITS)


def _plainly(term: Term) -> str:
    """A number that goes in: as it is, without the zeros that stand for no digit."""
    text = significant(term.value, "", DIGITS)
    decimal = spoken().signs.decimal
    text = text.rstrip("0").rstrip(decimal) if decimal in text else text
    return f"{text}{NARROW}{term.unit}" if term.unit else text


def _method(step: Step, root: str) -> str:
    method = BATCHES.column(step.column).method if step.column else ""
    return f"{root}methods.html#{method}" if method else ""


def budget_table(row: Row, budgets: Mapping[str, Mapping[str, float]]) -> TableView:
    """Each figure with its ±, and the inputs most of it comes from."""
    heads = (Head(say("Figure")), Head(say("Value")), Head(say("Mostly from")))
    rows = [
        tuple(Cell(text, text) for text in (say(label), _value(row, column), _parts(budgets[column])))
        for column, label in _LABELS.items()
        if column in budgets and row[f"u_{column}"] is not None
    ]
    return TableView("how-sure", say("How sure these figures are"), heads, tuple(rows))


def _value(row: Row, column: str) -> str:
    return plus_minus(row[column], row[f"u_{column}"], BATCHES.column(column).unit)


def _parts(budget: Mapping[str, float]) -> str:
    shares = list(budget.items())
    named = [f"{said(name)}{NARROW}{with_unit(share_pct, '%')}" for name, share_pct in shares[:MOST_PARTS]]
    rest = sum(share_pct for _, share_pct in shares[MOST_PARTS:])
    others = say("others")
    return ", ".join([*named, f"{others}{NARROW}{with_unit(rest, '%')}"] if rest >= 1 else named)
