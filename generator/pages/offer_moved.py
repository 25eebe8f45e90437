"""What can be moved of an open offer, and the figures it moves: plain values for a script that looks up and adds."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from generator.compute.moves import Moves, Plane, Step, planes
from generator.language import said, say, spoken, term
from generator.pages.offer_figures import fuel_range, oil_digits, oil_unit
from generator.pages.words import NARROW, Shown, unknown, with_unit
from generator.units import convert

DIGITS = 3
SIGNIFICANT = 10  # of a number that a script adds up
NOT_TESTED = term("not tested")
# amounts per unit of fuel; the others are per unit of oil
OF_FUEL = ("cost_low", "cost", "cost_high", "saving")


@dataclass(frozen=True, slots=True)
class Slide:
    """What is moved in steps: id, label, the text of every step, where it starts."""

    id: str
    label: str
    texts: tuple[str, ...]
    start: int


@dataclass(frozen=True, slots=True)
class Typed:
    """A price that is typed: id, label, unit, the text it starts with."""

    id: str
    label: str
    unit: str
    start: str


@dataclass(frozen=True, slots=True)
class Mover:
    """What can be moved, and the figures it moves: plain values for a script that looks up and adds, and reckons no more."""

    slides: tuple[Slide, ...]
    typed: tuple[Typed, ...]
    fuel_unit: str
    oil_unit: str
    volume: str
    digits: int
    oil_digits: int
    decimal: str
    group: str
    sizes: tuple[int, ...]  # how many digits stand in the group on the right, and in each before it
    ranges: dict[str, str]  # how a range is written: with both ends, with the low one alone, with none
    first: dict[str, str]  # what stands in each place until something is moved, so that the page stands still
    data: dict[str, Any]


def mover(moves: Moves, view: Shown) -> Mover:
    """The steps of an offer as they are shown."""
    terms, per_oil, fuel_unit = moves.terms, oil_unit(moves.per, view), view.per_unit
    diesel = view.per_volume_number(terms.diesel_per_l)
    steps = [_told(step, view) for step in moves.steps]
    here = steps[moves.at[moves.start[0] * len(moves.waters) + moves.start[1]]]
    first = {
        name: _first(
            numbers,
            terms.asked,
            diesel,
            (_unit(name, fuel_unit, per_oil), DIGITS if name in OF_FUEL else oil_digits(moves.per, DIGITS)),
            view,
        )
        for name, numbers in here["planes"].items()
    }
    return Mover(
        slides=(
            Slide(
                "acid",
                say("Acid value"),
                tuple(_steps(moves.acids, moves.start[0], "mg KOH/g", 1)),
                moves.start[0],
            ),
            Slide(
                "water", say("Water"), tuple(_steps(moves.waters, moves.start[1], "mg/kg", 0)), moves.start[1]
            ),
        ),
        typed=(
            Typed("asked", say("Price asked"), per_oil, _start(terms.asked)),
            Typed("diesel", say("Diesel at the pump"), fuel_unit, _start(diesel)),
        ),
        fuel_unit=fuel_unit,
        oil_unit=per_oil,
        volume=f"{view.volume_word} {view.basis}",
        digits=view.money_digits(DIGITS),
        oil_digits=view.money_digits(oil_digits(moves.per, DIGITS)),
        decimal=spoken().signs.decimal,
        group=spoken().signs.group,
        sizes=(spoken().signs.grouping * 2)[:2],
        ranges=ranges(),
        first={
            **here["texts"],
            **first,
            "cost_range": _range(first["cost_low"], first["cost_high"], fuel_unit),
        },
        data={
            "waters": len(moves.waters),
            "at": list(moves.at),
            "steps": steps,
        },
    )


def _start(price: float | None) -> str:
    """A price as it would be typed."""
    return "" if price is None else f"{price:.10g}".replace(".", spoken().signs.decimal)


def ranges() -> dict[str, str]:
    """How a range is written, with a place for each end that is known."""
    return {"both": say("{low} to {high}"), "least": say("at least {low}"), "none": unknown()}


def _range(low: str, high: str, unit: str) -> str:
    """A range at the prices of the offer, as the script writes it."""
    written = ranges()
    if low == unknown():
        return written["none"]
    if high == unknown():
        return written["least"].format(low=f"{low}{NARROW}{unit}")
    return written["both"].format(low=low, high=high)


def _steps(values: Sequence[float | None], own: int, unit: str, digits: int) -> Iterator[str]:
    for place, value in enumerate(values):
        if value is None:
            yield say(NOT_TESTED)
        else:
            finer = digits + 1 if place == own and digits else digits
            text = with_unit(value, unit, finer)
            yield say("{value}, as tested", value=text) if place == own else text


def _told(step: Step, view: Shown) -> dict[str, Any]:
    """The texts of a step and the three numbers of each of its amounts of money, in the units that are shown."""
    return {
        "texts": {
            "dose": with_unit(step.dose_g_per_l, say("g/L of pure base"), 1),
            "fuel": fuel_range(step.fuel_l[0], step.fuel_l[2], view),
            "basis": said(step.yield_basis),
            "advice": said(step.advice) if step.advice else say("nothing by the workshop's lines"),
        },
        "planes": {name: _numbers(name, plane, view) for name, plane in planes(step)},
    }


def _unit(name: str, per_fuel: str, per_oil: str) -> str:
    """The unit of an amount as the page shows it; the low end of a range has its unit at the other end."""
    if name == "cost_low":
        return ""
    return per_fuel if name in OF_FUEL else per_oil


def _first(
    numbers: Sequence[float] | None,
    asked: float | None,
    diesel: float | None,
    shown: tuple[str, int],
    view: Shown,
) -> str:
    """An amount at the prices of the offer, in its unit and decimals, as the script writes it.

    A price that has no part in it may be unknown.
    """
    if numbers is None:
        return unknown()
    parts = [(numbers[1], asked), (numbers[2], diesel)]
    if any(each and price is None for each, price in parts):
        return unknown()
    value = numbers[0] + sum(each * price for each, price in parts if price is not None)
    return view.rate(value, *shown)


def _numbers(name: str, plane: Plane | None, view: Shown) -> list[float] | None:
    if plane is None:
        return None
    litres = 1 / convert(1.0, "volume", view.display["volume"])  # of the unit that diesel is typed per
    out = litres if name in OF_FUEL else 1.0
    parts = (plane.at_zero * out, plane.per_asked * out, plane.per_diesel * out / litres)
    return [float(f"{part:.{SIGNIFICANT}g}") for part in parts]
