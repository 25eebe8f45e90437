"""What an offer is worth, figure by figure: for its page, the page of oil and the command."""

from __future__ import annotations

from collections.abc import Iterator

from generator.pages.parts import Row
from generator.pages.view import Figure
from generator.pages.words import UNKNOWN, Shown, count, listed, with_unit
from generator.units import Unit

# What is done to the oil before a batch, and what a dose is weighed out of.
CAUTIONS = (
    "Hot wet oil erupts: settle and dry it slowly, and watch it.",
    "Alkali in methanol runs hot, and methoxide burns skin; the dose here is arithmetic on the workshop's own rule.",
)


def offer_figures(row: Row, view: Shown, digits: int = 2) -> list[Figure]:
    """What an offer is worth; an unknown figure says what it lacks."""
    low, high = (
        view.per_volume(row["cost_low_per_l"], digits),
        view.per_volume(row["cost_high_per_l"], digits),
    )
    spread = f"{low} to {high}" if UNKNOWN not in (low, high) else ""
    fuel = (
        f"{view.volume(row['fuel_low_l'])} to {view.volume(row['fuel_high_l'])}"
        if row["fuel_low_l"] is not None
        else f"at most {view.volume(row['fuel_high_l'])}"
    )
    return [
        Figure(
            "Asked",
            view.per_volume(row["asked_per_l"], digits),
            f"{view.volume(row['quantity_l'])}, until {row['valid_until'] or 'not said'}",
        ),
        Figure(
            "Highest price",
            view.per_volume(row["highest_price_per_l"], digits),
            f"at the target, {_haulage(row)}",
            "highest-price",
            _lack(row["highest_price_per_l"], _wanting(row, "target_per_l")),
        ),
        Figure(
            "Highest price, pump",
            view.per_volume(row["highest_at_pump_per_l"], digits),
            f"diesel at {view.per_volume(row['diesel_per_l'], digits)}, heat for heat",
            "highest-price",
            _lack(row["highest_at_pump_per_l"], _wanting(row, "diesel_per_l")),
        ),
        Figure(
            "Fuel to expect",
            fuel if row["fuel_high_l"] is not None else UNKNOWN,
            row["yield_basis"],
            "offer",
            _lack(row["fuel_high_l"], "five finished batches, or a titration and a fatty-acid profile"),
        ),
        Figure(
            "Cost of the fuel",
            view.per_volume(row["cost_per_l"], digits),
            spread,
            "offer",
            _lack(row["cost_per_l"], _wanting(row)),
        ),
        *_tiers(row, view, digits),
        *_fit(row, view),
        Figure(
            "Diesel equivalent",
            view.per_volume(row["cost_per_diesel_l"], digits),
            f"with the net heat of a {view.volume_word} of diesel; {view.money(row['cost_per_mj'], 4)} per MJ",
            "diesel-equivalent",
            _lack(row["cost_per_diesel_l"], _wanting(row)),
        ),
        Figure(
            "Usable oil",
            view.per_mass(row["per_usable_kg"], digits),
            f"for {view.volume(row['usable_l'])}, {'with' if row['haulage'] is not None else 'without'} haulage",
            "offer",
            _lack(row["per_usable_kg"], "a price"),
        ),
        Figure(
            "Soap to come",
            view.mass(row["soap_kg"]),
            "from its free acid, in all layers",
            "soap-from-acid",
            _lack(row["soap_kg"], "a titration"),
        ),
        Figure(
            "Dose",
            with_unit(row["dose_g_per_l"], "g/L of pure base", 1),
            "the maker's own rule",
            "dose",
            _lack(row["dose_g_per_l"], "a titration"),
        ),
        *([Figure("Before it is used", row["advice"])] if row["advice"] else []),
        *(
            [
                Figure(
                    "Not tested",
                    row["unknown"],
                    "a titration finds batches of like oil; water decides about drying",
                )
            ]
            if row["unknown"]
            else []
        ),
    ]


def _tiers(row: Row, view: Shown, digits: int) -> Iterator[Figure]:
    """The same cost with less and with more in it."""
    for tier, label, lack in (("cash", "Without media", ""), ("labour", "With labour", "labour_rate")):
        low, middle, high = (row[f"{tier}{end}_per_l"] for end in ("_low", "", "_high"))
        if middle is None and row["cost_per_l"] is None:
            continue
        spread = [view.per_volume(end, digits) for end in (low, high)]
        yield Figure(
            label,
            view.per_volume(middle, digits),
            "" if UNKNOWN in spread else f"{spread[0]} to {spread[1]}",
            "offer",
            _lack(middle, lack or _wanting(row)),
        )


def _fit(row: Row, view: Shown) -> Iterator[Figure]:
    """Of an open offer: how long the oil would last with it, and whether there are vessels for it."""
    if row["lasts_days"] is not None:
        yield Figure(
            "Oil would last",
            count(round(row["lasts_days"]), "day"),
            "with it, at the use of the last 90",
            "cover",
        )
    if row["room_l"] is not None:
        fits = row["room_l"] >= 0
        text = view.volume(abs(row["room_l"]))
        yield Figure(
            "Room left" if fits else "Too much by", text, "of the vessels for oil, as it comes", "cover"
        )


def oil_unit(per: Unit | None, view: Shown) -> str:
    """The unit of the price that is asked."""
    return f"{view.currency}/{per.symbol}" if per is not None else f"{view.currency} for all of it"


def _haulage(row: Row) -> str:
    """Whether the way to fetch it is in the price."""
    return (
        "after haulage"
        if row["haulage"] is not None
        else "haulage not counted: needs a distance and collection_rate"
    )


def _wanting(row: Row, *more: str) -> str:
    """What an offer's cost or price cannot be computed without, and is not there."""
    names = {
        "fuel_l": "five finished batches with oil like this",
        "other_cost_per_l": "five batches whose cost with media is known",
        "target_per_l": "target_cost in logbook.yaml",
        "diesel_per_l": "a price of diesel in prices/",
        "asked_per_l": "a price",
    }
    return listed(
        [
            text
            for name, text in names.items()
            if (name in more or name not in ("target_per_l", "diesel_per_l")) and row[name] is None
        ]
    )


def _lack(value: object, need: str) -> str:
    return f"needs {need}" if value is None else ""
