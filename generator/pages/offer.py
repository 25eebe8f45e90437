"""One offer: what it is worth as it stands, and on other terms, which the reader moves."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from functools import cache, partial

from generator.compute.moves import Moves, moves_of
from generator.compute.offer_parts import parts_of
from generator.compute.own_record import LIKE_MG_KOH_PER_G
from generator.compute.results import Results
from generator.language import said, say
from generator.pages.bed_ahead import ranged
from generator.pages.offer_breakdown import breakdown
from generator.pages.offer_figures import CAUTIONS, offer_figures, verdict
from generator.pages.offer_moved import NOT_TESTED, mover
from generator.pages.offer_score import missed_parts
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
    vessel_text,
    volumes,
)
from generator.pages.view import Figure, Page, TableView, Unmade
from generator.pages.words import NARROW, Shown, number, shown, shown_change, with_unit
from generator.tables import OFFER_BEDS, OFFERS


def pages(results: Results) -> Iterator[Unmade]:
    """The page of every offer."""
    rows = cache(lambda: {row["offer"]: row for row in results.rows("offers")})
    beds = cache(lambda: grouped(results.rows("offer_beds"), "offer"))
    for name in results.judged:
        yield Unmade(offer_link(name), partial(_page, results, name, rows, beds))


def _page(
    results: Results,
    name: str,
    rows: Callable[[], Mapping[str, Row]],
    beds: Callable[[], Mapping[str, Sequence[Row]]],
) -> Page:
    """One that is settled has nothing to move."""
    row = rows()[name]
    view = shown(results)
    held = results.judged[name].on_offer
    parts = parts_of(held, held.worth(held.terms()))
    moves = moves_of(results.judged[name]) if row["state"] == "open" else None
    return Page(
        path=offer_link(row["offer"]),
        title=say("Offer {offer}", offer=row["offer"]),
        template="offer.html",
        section="oil",
        finding=finding(row, view),
        content={
            "figures": {
                say("As it is offered"): offer_figures(row, view),
                say("What a litre of its fuel would cost, by part"): breakdown(parts, view),
                say("What came of it"): _came(row, view),
            },
            "mover": mover(moves, view) if moves is not None else None,
            "tables": [
                *_beds(beds().get(name, []), view),
                *(_tables(moves, view) if moves is not None else ()),
            ],
            "command": f"esterday offer {row['offer']}",
            "like": f"{LIKE_MG_KOH_PER_G:.0f} mg KOH/g",
            "cautions": [say(text) for text in CAUTIONS],
        },
    )


def finding(row: Row, view: Shown) -> str:
    """The price asked against the highest worth paying, in a sentence; of one that is settled, what came of it."""
    start = say(
        "{quantity} of {material}, offered on {day}, {state}",
        quantity=view.volume(row["quantity_l"]),
        material=view.of_material(row["material"]),
        day=row["offered"],
        state=state(row),
    )
    return say("{start}: {verdict}.", start=start, verdict=verdict(row, view))


def state(row: Row) -> str:
    """Where an offer stands, in the words of its page."""
    words = {
        "open": say("open"),
        "declined": say("declined"),
        "expired": say("expired"),
        "to come": say("to come"),
    }
    return say("bought as {lot}", lot=row["lot"]) if row["lot"] else words[str(row["state"])]


def _tables(moves: Moves, view: Shown) -> Iterator[TableView]:
    """The same for a reader without scripts: by acid value and by water, the rest as it is offered."""
    acid = Show(
        "acid_value_mg_koh_per_g",
        say("Acid value"),
        lambda row: _or_not(row["acid_value_mg_koh_per_g"], 1),
        "mg KOH/g",
    )
    water = Show("water_mg_per_kg", say("Water"), lambda row: _or_not(row["water_mg_per_kg"], 0), "mg/kg")
    yield table_view(
        OFFERS,
        "by-acid",
        say("By acid value, all else as it is offered"),
        moves.by_acid,
        [acid, *_shows(view)],
    )
    yield table_view(
        OFFERS, "by-water", say("By water, all else as it is offered"), moves.by_water, [water, *_shows(view)]
    )


def _beds(rows: Sequence[Row], view: Shown) -> Iterator[TableView]:
    """The part of every bed that the fuel of the offer would take."""
    if not rows:
        return
    yield table_view(
        OFFER_BEDS,
        "beds",
        say("What the columns would take of it, by their last batches and its volume, not its acidity"),
        rows,
        [
            Show("vessel", say("Vessel"), vessel_text),
            Show(
                "charge", say("Charge"), plain("charge"), href=lambda row: charge_link(row["charge"], "../")
            ),
            Show(
                "litres_left_middle",
                say("Can still treat"),
                volumes(view, "litres_left_middle"),
                view.display["volume"],
            ),
            Show("share_pct_middle", say("Part of that"), lambda row: ranged(row, "share_pct"), "%"),
            Show("charge_share_pct", say("Of a whole charge"), figures("charge_share_pct"), "%"),
            Show(
                "cost",
                say("Medium for it"),
                lambda row: number(row["cost"], view.money_digits()),
                view.currency,
            ),
        ],
    )


def _or_not(value: float | None, digits: int) -> str:
    return say(NOT_TESTED) if value is None else number(value, digits)


def _shows(view: Shown) -> list[Show]:
    return [
        Show("dose_g_per_l", say("Dose"), figures("dose_g_per_l", 1), "g/L"),
        Show("fuel_l", say("Fuel to expect"), volumes(view, "fuel_l"), view.display["volume"]),
        Show("cost_low_per_l", say("Cost, from"), prices(view, "cost_low_per_l", 2), view.per_unit),
        Show("cost_per_l", say("To expect"), prices(view, "cost_per_l", 2), view.per_unit),
        Show("cost_high_per_l", say("To"), prices(view, "cost_high_per_l", 2), view.per_unit),
        Show(
            "highest_price_per_l", say("Highest price"), prices(view, "highest_price_per_l", 2), view.per_unit
        ),
        Show(
            "highest_at_pump_per_l",
            say("Against the pump"),
            prices(view, "highest_at_pump_per_l", 2),
            view.per_unit,
        ),
        Show("yield_basis", say("By"), lambda row: said(row["yield_basis"])),
        Show("advice", say("Before it is used"), lambda row: said(row["advice"]) if row["advice"] else "–"),
    ]


def _came(row: Row, view: Shown) -> list[Figure]:
    """What the fuel made of it did cost; nothing where it was not bought, or not used yet."""
    if row["came_cost_per_l"] is None:
        return []
    return [
        Figure(
            say("Cost of the fuel"),
            view.per_volume(row["came_cost_per_l"], 2),
            say("with media"),
            "cost-per-litre",
        ),
        Figure(
            say("Off the forecast by"),
            shown_change_per_volume(row["missed_by_per_l"], view),
            within_text(row),
            "offer",
        ),
        *missed_parts(row, view),
        Figure(say("Yield"), with_unit(row["came_yield_pct"], "%", 1), say("by volume"), "yield"),
    ]


def shown_change_per_volume(per_l: float | None, view: Shown) -> str:
    """A difference of prices with its sign and unit."""
    text = shown_change(view.per_volume_number(per_l), 2)
    return text if per_l is None else f"{text}{NARROW}{view.per_unit}"


def within_text(row: Row) -> str:
    """Whether what came lay in the range that was told."""
    if row["within"] == "yes":
        return say("within the range that was told")
    if row["within"] == "no":
        return say("outside of the range that was told")
    return say("no range was told on that day")
