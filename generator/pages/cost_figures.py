"""The cost of one batch, tier by tier; an unknown tier says what it lacks."""

from __future__ import annotations

from generator.language import said, say
from generator.pages.parts import Row
from generator.pages.view import Figure
from generator.pages.words import Shown, count
from generator.tables import COSTS

OLD_DAYS = 90  # a price that is older is told on pages of batches; common practice, no source


def cost_figures(cost: Row, view: Shown) -> list[Figure]:
    """Cost per litre by tier."""
    return [
        cost_figure(cost, "cash_per_l", say("Cash"), view, _cash_basis(cost)),
        cost_figure(cost, "with_media_per_l", say("With media"), view, media_basis(cost)),
        cost_figure(cost, "with_labour_per_l", say("With labour"), view, fetching_basis(cost, view)),
        cost_figure(
            cost,
            "per_diesel_l",
            say("Per {volume_word} of diesel equivalent", volume_word=view.volume_word),
            view,
            say("with media, by net heat"),
        ),
        *(
            [
                Figure(
                    say("To look at"),
                    said(cost["odd_parts"]),
                    say("of the cost with media: check unit, amount and price"),
                )
            ]
            if cost["odd_parts"]
            else []
        ),
    ]


def _cash_basis(cost: Row) -> str:
    """What the cash went for, and whether something came in."""
    text = say("oil, methanol, catalyst, energy, other")
    if cost["credits"]:
        text = say("oil, methanol, catalyst, energy, other, less credits")
    return aged(text, say("price of electricity"), cost["electricity_days"], OLD_DAYS)


def media_basis(cost: Row) -> str:
    """Whether the share of media is final."""
    return say("an estimate while a bed is in service") if cost["media_estimated"] == "yes" else ""


def fetching_basis(cost: Row, view: Shown) -> str:
    """What of the labour went into fetching what the batch drew."""
    if not cost["fetching"] or not cost["fuel_l"]:
        return ""
    return say("of it {money} for fetching", money=view.per_volume(cost["fetching"] / cost["fuel_l"], 3))


def cost_figure(cost: Row, column: str, label: str, view: Shown, basis: str = "", digits: int = 3) -> Figure:
    """One tier of the cost of a batch; an unknown one says what it lacks, not what it is made of."""
    value = cost[column]
    text = view.per_volume(value, digits)
    lacks = [
        item
        for item in (cost["missing"] or "").split(", ")
        if item and not item.startswith(_BEYOND.get(column, ()))
    ]
    missing = say("needs {join}", join=", ".join(map(said, lacks))) if value is None else ""
    return Figure(label, text, basis, COSTS.column(column).method, missing)


# what a tier does not need, by how its words begin
_LABOUR = ("hours worked", "labour rate")
_BEYOND = {
    "cash_per_l": (*_LABOUR, "cost and expected life", "volume fed", "run through"),
    "with_media_per_l": _LABOUR,
    "per_diesel_l": _LABOUR,
}


def aged(text: str, what: str, days: float | None, least: int = 0) -> str:
    """What a figure rests on, and how old the price or rate behind it is, where it is so old."""
    return (
        text
        if days is None or days < least
        else say("{text}; {what} {days} old", text=text, what=what, days=count(int(days), "day"))
    )
