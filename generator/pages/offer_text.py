"""An offer on stated terms as plain text: no line longer than 80 signs."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator, Mapping
from typing import Any

from generator.compute.offer_parts import parts_of
from generator.compute.offers import Judged
from generator.compute.worth import Terms
from generator.pages.offer_breakdown import breakdown
from generator.pages.offer_figures import CAUTIONS, offer_figures, oil_digits, oil_unit, verdict
from generator.pages.words import NARROW, Shown, unknown, with_unit

WIDTH, LABEL, AMOUNT = 80, 22, 24
DIGITS = 3


def offer_text(one: Judged, terms: Terms, values: Mapping[str, Any], view: Shown) -> str:
    """The terms, those that were moved beside what is written, and what the offer is worth on them."""
    state = f"bought as {values['lot']}" if values["lot"] else one.state
    per = one.entry.record.asked.per
    unit, digits = oil_unit(per, view), oil_digits(per, DIGITS)
    lines = textwrap.wrap(f"Offer {values['offer']}, {state}: {verdict(values, view)}", WIDTH)
    lines += ["", "TERMS"]
    for label, text, written in _terms(terms, one.on_offer.terms(), unit, digits, view):
        lines += _line(label, text, "" if text == written else f"written: {written}")
    lines += ["", "WORTH"]
    for figure in offer_figures(values, view, DIGITS):
        lines += _line(figure.label, figure.text, figure.missing or figure.basis)
    rated = one.entry.record.asked.rated
    basis = f"in the logbook's currency at the rate of {rated}" if rated else "in the unit of the price asked"
    for name, label in (
        ("highest_price_as_asked", "Highest, as asked"),
        ("highest_at_pump_as_asked", "Pump, as asked"),
    ):
        lines += _line(label, view.rate(values[name], unit, digits), basis)
    lines += _line(
        "Saved by the litre",
        view.per_volume(values["saving_per_l"], DIGITS),
        "against the pump, no labour counted",
    )
    parts = breakdown(parts_of(one.on_offer, one.on_offer.worth(terms)), view)
    lines += (
        ["", "BY PART", *(text for each in parts for text in _line(each.label, each.text, each.basis))]
        if parts
        else []
    )
    lines += ["", "CAUTIONS"]
    for caution in CAUTIONS:
        lines += textwrap.wrap(caution, WIDTH, initial_indent="  ! ", subsequent_indent="    ")
    return "\n".join(line.rstrip() for line in lines).replace(NARROW, " ") + "\n"


def _terms(
    moved: Terms, written: Terms, unit: str, digits: int, view: Shown
) -> Iterator[tuple[str, str, str]]:
    """Label, term, and what is written in its place."""
    for one in zip(_told(moved, unit, digits, view), _told(written, unit, digits, view), strict=True):
        (label, text), (_, before) = one
        yield label, text.replace(unknown(), "not known"), before.replace(unknown(), "not known")


def _told(terms: Terms, unit: str, digits: int, view: Shown) -> Iterator[tuple[str, str]]:
    yield "Acid value", with_unit(terms.acid_value_mg_koh_per_g, "mg KOH/g", 2)
    yield "Water", with_unit(terms.water_mg_per_kg, "mg/kg")
    yield "Price asked", view.rate(terms.asked, unit, digits)
    yield "Diesel at the pump", view.per_volume(terms.diesel_per_l, DIGITS)


def _line(label: str, text: str, detail: str) -> list[str]:
    """One figure: label, amount, and what it rests on; an amount too long for its column stands with the rest."""
    if len(text) > AMOUNT:
        text, detail = "", f"{text}; {detail}" if detail else text
    right = WIDTH - LABEL - AMOUNT - 4
    details = textwrap.wrap(detail.replace(NARROW, " "), right) or [""]
    first = f"  {label:<{LABEL}}{text:<{AMOUNT}}  {details[0]}"
    return [first, *(" " * (LABEL + AMOUNT + 4) + more for more in details[1:])]
