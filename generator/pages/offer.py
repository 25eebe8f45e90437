"""One offer: what it is worth as it stands, and on other terms, which the reader moves."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from generator.compute.moves import Moves, Plane, Step, moves_of, planes
from generator.compute.own_record import LIKE_MG_KOH_PER_G
from generator.compute.results import Results
from generator.language import spoken
from generator.pages.bed_ahead import ranged
from generator.pages.offer_figures import CAUTIONS, offer_figures, oil_unit
from generator.pages.parts import (
    Row,
    Show,
    charge_link,
    figures,
    grouped,
    offer_link,
    plain,
    prices,
    table_view,
    volumes,
)
from generator.pages.view import Figure, Page, TableView
from generator.pages.words import UNKNOWN, Shown, number, shown, with_unit
from generator.tables import OFFER_BEDS, OFFERS
from generator.units import convert

DIGITS = 3
SIGNIFICANT = 10  # of a number that a script adds up
NOT_TESTED = "not tested"
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
    decimal: str
    group: str
    first: dict[str, str]  # what stands in each place until something is moved, so that the page stands still
    data: dict[str, Any]


def pages(results: Results) -> Iterator[Page]:
    """The page of every offer; one that is settled has nothing to move."""
    view, beds = shown(results), grouped(results.rows("offer_beds"), "offer")
    for row in results.rows("offers"):
        moves = moves_of(results.judged[row["offer"]]) if row["state"] == "open" else None
        yield Page(
            path=offer_link(row["offer"]),
            title=f"Offer {row['offer']}",
            template="offer.html",
            section="oil",
            finding=finding(row, view),
            content={
                "figures": {
                    "As it is offered": offer_figures(row, view),
                    "What came of it": _came(row, view),
                },
                "mover": mover(moves, view) if moves is not None else None,
                "tables": [
                    *_beds(beds.get(row["offer"], []), view),
                    *(_tables(moves, view) if moves is not None else ()),
                ],
                "command": f"esterday offer {row['offer']}",
                "like": f"{LIKE_MG_KOH_PER_G:.0f} mg KOH/g",
                "cautions": list(CAUTIONS),
            },
        )


def finding(row: Row, view: Shown) -> str:
    """The price asked against the highest worth paying, in a sentence."""
    state = f"bought as {row['lot']}" if row["lot"] else row["state"]
    start = f"{view.volume(row['quantity_l'])} of {row['material']}, offered on {row['offered']}, {state}"
    asked, highest = row["asked_per_l"], row["highest_price_per_l"]
    if asked is None or highest is None:
        return f"{start}; its highest price cannot be told."
    side = "below" if highest >= asked else "above"
    return (
        f"{start}: asked {view.per_volume(abs(highest - asked), 2)} {side} the highest price at the target."
    )


def mover(moves: Moves, view: Shown) -> Mover:
    """The steps of an offer as they are shown."""
    terms, per_oil, fuel_unit = moves.terms, oil_unit(moves.per, view), view.per_unit
    diesel = view.per_volume_number(terms.diesel_per_l)
    steps = [_told(step, view) for step in moves.steps]
    here = steps[moves.at[moves.start[0] * len(moves.waters) + moves.start[1]]]
    return Mover(
        slides=(
            Slide(
                "acid",
                "Acid value",
                tuple(_steps(moves.acids, moves.start[0], "mg KOH/g", 1)),
                moves.start[0],
            ),
            Slide("water", "Water", tuple(_steps(moves.waters, moves.start[1], "mg/kg", 0)), moves.start[1]),
        ),
        typed=(
            Typed("asked", "Price asked", per_oil, "" if terms.asked is None else f"{terms.asked:.10g}"),
            Typed("diesel", "Diesel at the pump", fuel_unit, "" if diesel is None else f"{diesel:.10g}"),
        ),
        fuel_unit=fuel_unit,
        oil_unit=per_oil,
        volume=f"{view.volume_word} {view.basis}",
        digits=DIGITS,
        decimal=spoken().decimal,
        group=spoken().group,
        first={
            **here["texts"],
            **{
                name: _first(numbers, terms.asked, diesel, _unit(name, fuel_unit, per_oil))
                for name, numbers in here["planes"].items()
            },
        },
        data={
            "waters": len(moves.waters),
            "at": list(moves.at),
            "steps": steps,
        },
    )


def _steps(values: Sequence[float | None], own: int, unit: str, digits: int) -> Iterator[str]:
    for place, value in enumerate(values):
        if value is None:
            yield NOT_TESTED
        else:
            finer = digits + 1 if place == own and digits else digits
            text = with_unit(value, unit, finer)
            yield f"{text}, as tested" if place == own else text


def _told(step: Step, view: Shown) -> dict[str, Any]:
    """The texts of a step and the three numbers of each of its amounts of money, in the units that are shown."""
    low, high = (view.volume(step.fuel_l[end]) for end in (0, 2))
    fuel = f"at most {high}" if step.fuel_l[0] is None and step.fuel_l[2] is not None else f"{low} to {high}"
    return {
        "texts": {
            "dose": with_unit(step.dose_g_per_l, "g/L of pure base", 1),
            "fuel": UNKNOWN if step.fuel_l[2] is None else fuel,
            "basis": step.yield_basis,
            "advice": step.advice or "nothing by the workshop's lines",
        },
        "planes": {name: _numbers(name, plane, view) for name, plane in planes(step)},
    }


def _unit(name: str, per_fuel: str, per_oil: str) -> str:
    """The unit of an amount as the page shows it; the low end of a range has its unit at the other end."""
    if name == "cost_low":
        return ""
    return per_fuel if name in OF_FUEL else per_oil


def _first(numbers: Sequence[float] | None, asked: float | None, diesel: float | None, unit: str) -> str:
    """An amount at the prices of the offer, as the script writes it; a price that has no part in it may be unknown."""
    if numbers is None:
        return UNKNOWN
    parts = [(numbers[1], asked), (numbers[2], diesel)]
    if any(each and price is None for each, price in parts):
        return UNKNOWN
    value = numbers[0] + sum(each * price for each, price in parts if price is not None)
    return with_unit(value, unit, DIGITS)


def _numbers(name: str, plane: Plane | None, view: Shown) -> list[float] | None:
    if plane is None:
        return None
    litres = 1 / convert(1.0, "volume", view.display["volume"])  # of the unit that diesel is typed per
    out = litres if name in OF_FUEL else 1.0
    parts = (plane.at_zero * out, plane.per_asked * out, plane.per_diesel * out / litres)
    return [float(f"{part:.{SIGNIFICANT}g}") for part in parts]


def _tables(moves: Moves, view: Shown) -> Iterator[TableView]:
    """The same for a reader without scripts: by acid value and by water, the rest as it is offered."""
    acid = Show(
        "acid_value_mg_koh_per_g",
        "Acid value",
        lambda row: _or_not(row["acid_value_mg_koh_per_g"], 1),
        "mg KOH/g",
    )
    water = Show("water_mg_per_kg", "Water", lambda row: _or_not(row["water_mg_per_kg"], 0), "mg/kg")
    yield table_view(
        OFFERS,
        "by-acid",
        "By acid value, all else as it is offered",
        moves.by_acid,
        [acid, *_shows(view)],
    )
    yield table_view(
        OFFERS, "by-water", "By water, all else as it is offered", moves.by_water, [water, *_shows(view)]
    )


def _beds(rows: Sequence[Row], view: Shown) -> Iterator[TableView]:
    """The part of every bed that the fuel of the offer would take."""
    if not rows:
        return
    yield table_view(
        OFFER_BEDS,
        "beds",
        "What the columns would take of it, by their last batches and its volume, not its acidity",
        rows,
        [
            Show("vessel", "Vessel", lambda row: f"{row['vessel']}, {row['position']}"),
            Show("charge", "Charge", plain("charge"), href=lambda row: charge_link(row["charge"], "../")),
            Show(
                "litres_left_middle",
                "Can still treat",
                volumes(view, "litres_left_middle"),
                view.display["volume"],
            ),
            Show("share_pct_middle", "Part of that", lambda row: ranged(row, "share_pct"), "%"),
            Show("charge_share_pct", "Of a whole charge", figures("charge_share_pct"), "%"),
            Show("cost", "Medium for it", lambda row: number(row["cost"], 2), view.currency),
        ],
    )


def _or_not(value: float | None, digits: int) -> str:
    return NOT_TESTED if value is None else number(value, digits)


def _shows(view: Shown) -> list[Show]:
    return [
        Show("dose_g_per_l", "Dose", figures("dose_g_per_l", 1), "g/L"),
        Show("fuel_l", "Fuel to expect", volumes(view, "fuel_l"), view.display["volume"]),
        Show("cost_low_per_l", "Cost, from", prices(view, "cost_low_per_l", 2), view.per_unit),
        Show("cost_per_l", "To expect", prices(view, "cost_per_l", 2), view.per_unit),
        Show("cost_high_per_l", "To", prices(view, "cost_high_per_l", 2), view.per_unit),
        Show("highest_price_per_l", "Highest price", prices(view, "highest_price_per_l", 2), view.per_unit),
        Show(
            "highest_at_pump_per_l",
            "Against the pump",
            prices(view, "highest_at_pump_per_l", 2),
            view.per_unit,
        ),
        Show("yield_basis", "By", plain("yield_basis")),
        Show("advice", "Before it is used", plain("advice")),
    ]


def _came(row: Row, view: Shown) -> list[Figure]:
    """What the fuel made of it did cost; nothing where it was not bought, or not used yet."""
    if row["came_cost_per_l"] is None:
        return []
    return [
        Figure(
            "Cost of the fuel", view.per_volume(row["came_cost_per_l"], 2), "with media", "cost-per-litre"
        ),
        Figure(
            "Off the forecast by",
            view.per_volume(row["missed_by_per_l"], 2),
            f"within its range, the middle half of what was to expect: {row['within']}",
            "offer",
        ),
        Figure("Yield", with_unit(row["came_yield_pct"], "%", 1), "by volume", "yield"),
    ]
