"""Oil: what is in stock, what each lot turned out to cost, and what the offers are worth."""

from __future__ import annotations

from collections.abc import Sequence

from generator.compute.results import Results
from generator.language import said, say, term
from generator.pages.acid_yield import acid_chart, slopes_table
from generator.pages.lots import lots_table, ways_table
from generator.pages.lots_compared import compared_chart, compared_tables
from generator.pages.offer_figures import CAUTIONS, offer_figures
from generator.pages.offer_score import parts_table, score_table
from generator.pages.parts import (
    Row,
    Show,
    acid_value_show,
    figures,
    lot_link,
    offer_link,
    plain,
    prices,
    sizes,
    table_view,
    volumes,
    worded,
)
from generator.pages.places import placed
from generator.pages.vats import vat_figures, vat_tables
from generator.pages.view import Chart, Figure, Page, TableView
from generator.pages.words import Shown, count, shown
from generator.tables import OFFERS

OPEN, SETTLED = "offers-table", "offers-settled"
CAPTIONS = {OPEN: term("Open offers"), SETTLED: term("Offers that were bought, declined or ran out")}
ALL = term("Offers")


def page(results: Results) -> Page:
    """The page of oil: offers first, for that is what is decided here."""
    offers, lots, view = results.rows("offers"), results.rows("lots"), shown(results)
    standing = [row for row in offers if row["state"] == "open"]
    settled = [row for row in offers if row["state"] not in ("open", "to come")]
    return placed(
        "oil",
        finding=finding(offers, view),
        content={
            "figures": {
                **{say("Offer {offer}", offer=row["offer"]): offer_figures(row, view) for row in standing},
                say("In stock"): _stock(results.rows("stock"), view),
                **vat_figures(results, view),
            },
            "charts": [
                chart
                for chart in (
                    offers_chart(offers, view),
                    compared_chart(lots, view),
                    acid_chart(results),
                )
                if chart is not None
            ],
            "first": [offers_table(standing, view)] if standing else [],
            "tables": [
                *(
                    found
                    for found in (score_table(offers, view), parts_table(offers, view))
                    if found is not None
                ),
                *([offers_table(settled, view, SETTLED)] if settled else []),
                *compared_tables(lots, view),
                *slopes_table(results),
                lots_table(lots, view, results),
                *ways_table(lots, view),
                *vat_tables(results.rows("vats"), view),
            ],
            "intro": say(
                "An offer is judged by this workshop's own record. The highest price is where fuel with media costs the target at the middle yield; it says nothing about whether a price will hold."
            ),
            "cautions": [say(text) for text in CAUTIONS],
        },
    )


def finding(offers: Sequence[Row], view: Shown) -> str:
    """The open offers against their highest price."""
    standing = [row for row in offers if row["state"] == "open"]
    if not standing:
        return say("No offer is open.")
    judged = [
        row for row in standing if row["highest_price_per_l"] is not None and row["asked_per_l"] is not None
    ]
    if not judged:
        return say("{offer} open; none can be judged yet.", offer=count(len(standing), "offer", "offers"))
    below = [row for row in judged if row["asked_per_l"] <= row["highest_price_per_l"]]
    fit = [row for row in judged if not row["advice"]]
    if not fit:
        return say(
            "{offer} open; each that can be judged wants drying or pre-treatment first.",
            offer=count(len(standing), "offer", "offers"),
        )
    counted = [row for row in fit if row["haulage"] is not None]  # what its way costs would come on top
    best = min(counted or fit, key=lambda row: row["asked_per_l"] - row["highest_price_per_l"])
    gap = best["highest_price_per_l"] - best["asked_per_l"]
    told = (
        term(
            "{offer} open, {below} asked at or below the highest price at the target; of those that want no drying or pre-treatment {best} stands best, {gap} below it."
        )
        if gap >= 0
        else term(
            "{offer} open, {below} asked at or below the highest price at the target; of those that want no drying or pre-treatment {best} stands best, {gap} above it."
        )
    )
    without = len(fit) - len(counted)
    sentence = say(
        told,
        offer=count(len(standing), "offer", "offers"),
        below=len(below) or say("none"),
        best=best["offer"],
        gap=view.per_volume(abs(gap), 2),
    )
    if not without:
        return sentence
    return f"{sentence} " + (
        say("What its way costs is not known, and not counted.")
        if not counted
        else say("Left out for a way of unknown cost: {offers}.", offers=count(without, "offer", "offers"))
    )


KINDS = {
    "oil": term("Oil"),
    "alcohol": term("Methanol"),
    "catalyst": term("Catalyst"),
    "acid": term("Acid"),
    "medium": term("Media"),
    "fuel": term("Fuel in tanks"),
    "oil and fuel": term("Oil and fuel"),
}


def _room(litres: float, view: Shown) -> str:
    text = view.volume(abs(litres))
    return (
        say("room for {text} more", text=text)
        if litres >= 0
        else say("{text} more than its vessels hold", text=text)
    )


def _stock(rows: Sequence[Row], view: Shown) -> list[Figure]:
    """What is there of each kind, how long it lasts and how old it is."""
    out = []
    for row in rows:
        both = len({other["unit"] for other in rows if other["kind"] == row["kind"]}) == 2
        kept = (say(", by volume") if row["unit"] == "L" else say(", by mass")) if both else ""
        text = sizes(view, "left")(row)
        told = [say("by the book")]
        if row["cover_days"] is not None and row["kind"] != "medium":
            told.append(
                say(
                    "{day} at the use of the last 90 days, or of all since the first batch",
                    day=count(round(row["cover_days"]), "day", "days"),
                )
            )
        if row["room_l"] is not None:
            told.append(_room(row["room_l"], view))
        if row["vessels_l"] is not None:
            told.append(say("its vessels hold {volume} in all", volume=view.volume(row["vessels_l"])))
        if row["oldest_days"]:
            told.append(
                say(
                    "the oldest, {oldest}, {day} here",
                    oldest=row["oldest"],
                    day=count(row["oldest_days"], "day", "days"),
                )
            )
        out.append(Figure(f"{say(KINDS[row['kind']])}{kept}", text, "; ".join(told), "cover"))
    return out


def offers_chart(offers: Sequence[Row], view: Shown) -> Chart | None:
    """What a litre of fuel from each offer would cost, as a range."""
    rows = [row for row in offers if row["cost_per_l"] is not None]
    if not rows:
        return None
    values = tuple(
        {
            "offer": row["offer"],
            "low": view.per_volume_number(row["cost_low_per_l"]),
            "mid": view.per_volume_number(row["cost_per_l"]),
            "high": view.per_volume_number(row["cost_high_per_l"]),
            "state": said(row["state"]),
        }
        for row in rows
    )
    target = view.per_volume_number(rows[0]["target_per_l"])
    sentence = say(
        "Cost of fuel with media from each offer; the bar reaches as far as such forecasts of this workshop were off, and each offer says how often it should hold."
    )
    return Chart(
        "offers",
        say("What the offers would make a {volume_word} cost", volume_word=view.volume_word),
        sentence,
        "offer_range",
        values,
        offers_table(rows, view, "offers-chart-table"),
        {"target": target, "currency": view.per_unit, "diesel": None},
    )


def offers_table(offers: Sequence[Row], view: Shown, id_: str = OPEN) -> TableView:
    """The open offers, those that are open no longer, or all beside the chart of them."""
    return table_view(
        OFFERS,
        id_,
        say(CAPTIONS.get(id_, ALL)),
        offers,
        [
            Show(
                "offer",
                say("Offer"),
                plain("offer"),
                href=lambda row: offer_link(row["offer"]),
                anchor=(lambda row: f"offer-{row['offer']}") if id_ in (OPEN, SETTLED) else None,
            ),
            Show(
                "state",
                say("State"),
                lambda row: say("bought as {lot}", lot=row["lot"]) if row["lot"] else said(row["state"]),
                href=lambda row: lot_link(row["lot"]) if row["lot"] else "",
            ),
            Show("valid_until", say("Until"), plain("valid_until")),
            Show(
                "quantity_l",
                say("Offered"),
                volumes(view, "quantity_l"),
                view.display["volume"],
            ),
            Show(
                "asked_per_l",
                say("Asked"),
                prices(view, "asked_per_l", 2),
                view.per_unit,
            ),
            Show(
                "highest_price_per_l",
                say("Highest price"),
                prices(view, "highest_price_per_l", 2),
                view.per_unit,
            ),
            acid_value_show(),
            Show("water_mg_per_kg", say("Water"), figures("water_mg_per_kg"), "mg/kg"),
            Show(
                "fuel_l",
                say("Fuel to expect"),
                volumes(view, "fuel_l"),
                view.display["volume"],
            ),
            Show(
                "cost_per_l",
                say("Cost of the fuel"),
                prices(view, "cost_per_l", 2),
                view.per_unit,
            ),
            Show("unknown", say("Not tested"), worded("unknown")),
        ],
    )
