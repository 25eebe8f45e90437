"""How good the forecasts of offers were: what was told on the day of buying, what came, and what so few can tell."""

from __future__ import annotations

from collections.abc import Sequence

from generator.formulas.agreement import count_p, sign_test_p
from generator.language import say
from generator.pages.parts import Row, Show, figures, lot_link, offer_link, plain, prices, table_view
from generator.pages.view import TableView
from generator.pages.words import Shown, count, number, shown_change
from generator.tables import OFFERS

SELDOM = 0.05  # how likely chance makes it before it is taken for more than chance; common practice
FEWEST = 6  # with fewer no sign test comes below that, whatever came


def score_table(offers: Sequence[Row], view: Shown) -> TableView | None:
    """What was told of offers that were bought, and what came of them; nothing before one of them was used."""
    rows = [row for row in offers if row["missed_by_per_l"] is not None]
    if not rows:
        return None
    return table_view(
        OFFERS,
        "score",
        score(rows, view),
        sorted(rows, key=lambda row: row["offered"], reverse=True),
        [
            Show("offer", say("Offer"), plain("offer"), href=lambda row: offer_link(row["offer"])),
            Show("lot", say("Lot"), plain("lot"), href=lambda row: lot_link(row["lot"])),
            Show("cost_low_per_l", say("Told, from"), prices(view, "cost_low_per_l", 2), view.per_unit),
            Show("cost_per_l", say("To expect"), prices(view, "cost_per_l", 2), view.per_unit),
            Show("cost_high_per_l", say("To"), prices(view, "cost_high_per_l", 2), view.per_unit),
            Show("came_cost_per_l", say("Came"), prices(view, "came_cost_per_l", 2), view.per_unit),
            Show(
                "missed_by_per_l",
                say("Off by"),
                lambda row: shown_change(view.per_volume_number(row["missed_by_per_l"]), 2),
                view.per_unit,
            ),
            Show("within", say("Within"), lambda row: say(row["within"]) if row["within"] else "–"),
            Show("came_yield_pct", say("Yield"), figures("came_yield_pct", 1), "%"),
        ],
    )


def score(rows: Sequence[Row], view: Shown) -> str:
    """Forecasts against what came, in sentences; what so few of them cannot tell is said."""
    ranged = [row for row in rows if row["within"] is not None and row["holds_pct"] is not None]
    hits, misses = (sum(row["within"] == word for row in ranged) for word in ("yes", "no"))
    due = sum(row["holds_pct"] for row in ranged) / 100
    off = [row["missed_by_per_l"] for row in rows]
    dearer, cheaper = sum(each > 0 for each in off), sum(each < 0 for each in off)
    found = [
        say(
            "{offers} bought and used: what was told on the day and what came.",
            offers=count(len(rows), "offer", "offers"),
        ),
        say(
            "{hits} of {ranged} came within the range, where by what each range was to hold about {due} should be; {dearer} came dearer than what was to expect and {cheaper} cheaper, by {mean} on average, {either} either way.",
            hits=hits,
            ranged=hits + misses,
            due=number(due),
            dearer=dearer,
            cheaper=cheaper,
            mean=shown_change(view.per_volume_number(sum(off) / len(off)), 3),
            either=view.per_volume(sum(abs(each) for each in off) / len(off), 3),
        ),
    ]
    if min(hits + misses, dearer + cheaper) < FEWEST:
        found.append(say("So few can tell nothing of how good the forecasts are."))
    else:
        found += [_range_told(hits, misses, due), _middle_told(dearer, cheaper)]
    return " ".join(found)


def _range_told(hits: int, misses: int, due: float) -> str:
    p = count_p(hits, misses, due / (hits + misses))
    if p >= SELDOM:
        return say(
            "Whether the ranges are too narrow or too wide so few cannot tell (binomial test, p = {p}).",
            p=number(p, 2),
        )
    if hits < due:
        return say("The ranges are too narrow (binomial test, p = {p}).", p=number(p, 3))
    return say("The ranges are too wide (binomial test, p = {p}).", p=number(p, 3))


def _middle_told(dearer: int, cheaper: int) -> str:
    p = sign_test_p(dearer, cheaper)
    if p >= SELDOM:
        return say(
            "Whether forecasts lie too low or too high so few cannot tell (sign test, p = {p}).",
            p=number(p, 2),
        )
    if dearer > cheaper:
        return say("Forecasts lie too low (sign test, p = {p}).", p=number(p, 3))
    return say("Forecasts lie too high (sign test, p = {p}).", p=number(p, 3))
