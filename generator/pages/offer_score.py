"""How good the forecasts of offers were: what was told on the day of buying, what came, and what so few can tell."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from functools import partial

from generator.formulas.agreement import count_p, sign_test_p
from generator.language import said, say, term
from generator.pages.parts import Row, Show, figures, lot_link, offer_link, plain, prices, table_view
from generator.pages.view import Figure, TableView
from generator.pages.words import NARROW, Shown, count, number, shown_change, unknown
from generator.tables import OFFERS

SELDOM = 0.05  # how likely chance makes it before it is taken for more than chance; common practice
FEWEST = 6  # with fewer no sign test comes below that, whatever came


# the miss of a forecast, by part; together they are the whole of it
PARTS = {
    "missed_price_per_l": term("Off by price, way and loss"),
    "missed_yield_per_l": term("Off by yield"),
    "missed_others_per_l": term("Off by other oil"),
    "missed_beside_per_l": term("Off by all but the oil"),
    "missed_single_per_l": term("Off by single bills"),
}
MEANS = ("price", "yields", "others", "beside", "single")


def _part(view: Shown, name: str, row: Row) -> str:
    return shown_change(view.per_volume_number(row[name]), 2)


def _either_way(rows: Sequence[Row], name: str) -> float:
    """How large a part of the miss is on average, above or below."""
    return float(sum(abs(row[name]) for row in rows)) / len(rows)


def missed_parts(row: Row, view: Shown) -> Iterator[Figure]:
    """The parts of a miss, and what the two sides do not share."""
    if row["missed_by_per_l"] is None:
        return
    for name, label in PARTS.items():
        text = unknown() if row[name] is None else f"{_part(view, name, row)}{NARROW}{view.per_unit}"
        yield Figure(say(label), text, "", "offer")
    if row["unlike"]:
        yield Figure(say("Not alike"), said(row["unlike"]))


def score_table(offers: Sequence[Row], view: Shown) -> TableView | None:
    """What was told of offers that were bought, and what came of them; nothing before one of them was used."""
    rows = [row for row in offers if row["missed_by_per_l"] is not None]
    if not rows:
        return None
    found = table_view(
        OFFERS,
        "score",
        say("Forecasts of offers, and what came"),
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
            Show("guess_per_l", say("Plain guess"), prices(view, "guess_per_l", 2), view.per_unit),
            Show("within", say("Within"), lambda row: say(row["within"]) if row["within"] else "–"),
            Show("came_yield_pct", say("Yield"), figures("came_yield_pct", 1), "%"),
        ],
    )
    return replace(found, told=score(rows, view))


def parts_table(offers: Sequence[Row], view: Shown) -> TableView | None:
    """By what every forecast was off: four parts that add up to it, and what the two sides do not share."""
    rows = [row for row in offers if row["missed_price_per_l"] is not None]
    if not rows:
        return None
    shows = [
        Show("offer", say("Offer"), plain("offer"), href=lambda row: offer_link(row["offer"])),
        Show("missed_by_per_l", say("Off by"), partial(_part, view, "missed_by_per_l"), view.per_unit),
        *(Show(name, say(label), partial(_part, view, name), view.per_unit) for name, label in PARTS.items()),
        Show("unlike", say("Not alike"), lambda row: said(row["unlike"]) if row["unlike"] else "–"),
    ]
    told = say(
        "Parts that add up to what a forecast was off by. A forecast is for fuel of that oil alone; what came holds all other oil of its batches, at what it cost by the method chosen for it. A single bill, as a laboratory's, is told by the mean of recent batches and comes in whole with the batch that it meets."
    )
    mean = say(
        " On average either way: price, way and loss {price}, yield {yields}, other oil {others}, all but the oil {beside}, single bills {single}.",
        **{
            name: view.per_volume(_either_way(rows, part), 3) for name, part in zip(MEANS, PARTS, strict=True)
        },
    )
    newest = sorted(rows, key=lambda row: row["offered"], reverse=True)
    found = table_view(OFFERS, "score-parts", say("By what forecasts were off"), newest, shows)
    return replace(found, told=told + mean)


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
    found += _against_guess(rows, view)
    if min(hits + misses, dearer + cheaper) < FEWEST:
        found.append(say("So few can tell nothing of how good the forecasts are."))
    else:
        found += [_range_told(hits, misses, due), _middle_told(dearer, cheaper)]
    return " ".join(found)


def _against_guess(rows: Sequence[Row], view: Shown) -> Iterator[str]:
    """Whether the forecasts erred less than a guess that looks at no oil, knowable on the same day; and both without single bills."""
    both = [row for row in rows if row["guess_per_l"] is not None]
    if not both:
        return
    off = [abs(row["missed_by_per_l"]) for row in both]
    guessed = [abs(row["came_cost_per_l"] - row["guess_per_l"]) for row in both]
    median = [abs(row["came_cost_per_l"] - row["guess_median_per_l"]) for row in both]
    nearer = sum(one < other for one, other in zip(off, guessed, strict=True))
    farther = sum(one > other for one, other in zip(off, guessed, strict=True))
    ends = {"mean": _mean(guessed, view), "median": _mean(median, view), "off": _mean(off, view)}
    yield say(
        "A plain guess of the same day, the mean cost of all batches before it whatever the oil, was off by {mean} either way, their median by {median}, the forecasts by {off}.",
        **ends,
    )
    yield _erred(sum(off) - sum(guessed), nearer, farther)
    parted = [row for row in both if row["missed_single_per_l"] is not None]
    if parted:
        yield say(
            "Without single bills on either side, which no oil decides, the forecasts were off by {off} and that mean by {mean}.",
            off=_mean([abs(row["missed_by_per_l"] - row["missed_single_per_l"]) for row in parted], view),
            mean=_mean(
                [
                    abs(row["came_cost_per_l"] - row["came_single_per_l"] - row["guess_without_per_l"])
                    for row in parted
                ],
                view,
            ),
        )


def _mean(values: Sequence[float], view: Shown) -> str:
    return view.per_volume(sum(values) / len(values), 3)


def _erred(more: float, nearer: int, farther: int) -> str:
    """Which of the two erred less on average, and how often."""
    texts = {"nearer": nearer, "all": nearer + farther, "p": number(sign_test_p(nearer, farther), 2)}
    if more < 0:
        return say(
            "The forecasts erred less than that mean on average, and were nearer in {nearer} of {all} (sign test, p = {p}).",
            **texts,
        )
    return say(
        "That mean erred no more than the forecasts on average, which were nearer in {nearer} of {all} (sign test, p = {p}).",
        **texts,
    )


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
