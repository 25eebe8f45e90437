"""What a litre of the fuel of an offer is expected to cost, part by part, with what each part rests on."""

from __future__ import annotations

from collections.abc import Mapping

from generator.compute.offer_parts import ROUNDING
from generator.language import say, term
from generator.pages.cost_names import NAMES
from generator.pages.view import Figure
from generator.pages.words import Shown

LABELS = {**NAMES, "haulage": term("Haulage"), ROUNDING: term("Middle, not mean")}
RESTS_ON = {
    "oil": term("as it is asked, over the fuel to expect"),
    "haulage": term("the way there and back at the workshop's rate"),
    "catalyst": term("by this oil's dose, or of recent batches where it is not titrated"),
    ROUNDING: term(
        "the cost to expect goes by the usual batch, the middle one of the recent; the parts above are means, which a few dear batches lift"
    ),
    "labour": term("on top of the cost with media; mean of recent batches"),
}


def breakdown(parts: Mapping[str, float] | None, view: Shown) -> list[Figure]:
    """A figure for every part that is not nothing; they add up to the cost to expect, labour apart."""
    least = 10 ** -(view.money_digits() + 1) / 2
    return [
        Figure(
            say(LABELS[part]),
            view.per_volume(value, 3),
            say(RESTS_ON[part]) if part in RESTS_ON else say("mean of recent batches"),
            "cost-per-litre",
        )
        for part, value in (parts or {}).items()
        if abs(value) >= least
    ]
