"""What an offer is worth, figure by figure: for its page, the page of oil and the command."""

from __future__ import annotations

from collections.abc import Iterator

from generator.language import said, say, term
from generator.pages.cost_figures import aged
from generator.pages.parts import Row
from generator.pages.view import Figure
from generator.pages.words import Shown, count, listed, number, unknown, with_unit
from generator.units import Unit

# What is done to the oil before a batch, and what a dose is weighed out of.
CAUTIONS = (
    term("Hot wet oil erupts: settle and dry it slowly, and watch it."),
    term(
        "Alkali in methanol runs hot, and methoxide burns skin; the dose here is arithmetic on the workshop's own rule."
    ),
)


def verdict(row: Row, view: Shown) -> str:
    """The price asked against the highest worth paying at the workshop's target."""
    asked, highest = row["asked_per_l"], row["highest_price_per_l"]
    if asked is None or highest is None:
        most = row["highest_high_per_l"]
        if asked is not None and most is not None and asked > most:
            return say(
                "asked above the highest price with the most fuel that chemistry allows, {most}",
                most=view.per_volume(most),
            )
        return say("its highest price cannot be told")
    gap = view.per_volume(abs(highest - asked))
    if highest >= asked:
        return say("asked {gap} below the highest price at the target", gap=gap)
    return say("asked {gap} above the highest price at the target", gap=gap)


def offer_figures(row: Row, view: Shown, digits: int = 2) -> list[Figure]:
    """What an offer is worth; an unknown figure says what it lacks."""
    return [
        *_prices(row, view, digits),
        Figure(
            say("Fuel to expect"),
            fuel_range(row["fuel_low_l"], row["fuel_high_l"], view),
            said(row["yield_basis"]),
            "offer",
            _lack(row["fuel_high_l"], say("five finished batches, or the fatty acids of the oil")),
        ),
        _cost(row, view, digits),
        *_tiers(row, view, digits),
        *_fit(row, view),
        *_by_measure(row, view, digits),
        *_of_oil(row, view),
        *([Figure(say("Before it is used"), said(row["advice"]))] if row["advice"] else []),
        *([Figure(say("Not tested"), said(row["unknown"]), _testing(row))] if row["unknown"] else []),
    ]


def _prices(row: Row, view: Shown, digits: int) -> Iterator[Figure]:
    """What is asked, and the highest prices worth paying."""
    quantity = view.volume(row["quantity_l"])
    yield Figure(
        say("Asked"),
        view.per_volume(row["asked_per_l"], digits),
        aged(
            say("{quantity}, stands until {day}", quantity=quantity, day=row["valid_until"])
            if row["valid_until"]
            else say("{quantity}; how long it stands is not written", quantity=quantity),
            say("rate of exchange"),
            row["rate_days"],
        ),
    )
    yield _highest(row, view, digits)
    yield Figure(
        say("Highest price, pump"),
        view.per_volume(row["highest_at_pump_per_l"], digits),
        aged(
            say(
                "the fuel costs what diesel of the same net heat does, at {price}",
                price=view.per_volume(row["diesel_per_l"], digits),
            ),
            say("price of diesel"),
            row["diesel_days"],
        ),
        "highest-price",
        _lack(row["highest_at_pump_per_l"], _wanting(row, view, "diesel_per_l")),
    )


def _highest(row: Row, view: Shown, digits: int) -> Figure:
    """The highest price with its range; where only chemistry speaks, what it surely is not above."""
    highest, most = row["highest_price_per_l"], row["highest_high_per_l"]
    at_target = say("at the target, {haulage}", haulage=_haulage(row))
    if highest is None and most is not None:
        text = say("at most {high}", high=view.per_volume(most, digits))
        basis = say("{at_target}; with the most fuel that chemistry allows", at_target=at_target)
        return Figure(say("Highest price"), text, basis, "highest-price")
    basis = at_target + _highest_range(row, view, digits)
    lack = _lack(highest, _wanting(row, view, "target_per_l"))
    return Figure(say("Highest price"), view.per_volume(highest, digits), basis, "highest-price", lack)


def _cost(row: Row, view: Shown, digits: int) -> Figure:
    """The cost with its range; where only chemistry speaks, its low end."""
    cost, low = row["cost_per_l"], row["cost_low_per_l"]
    if cost is None and low is not None:
        text, basis = (
            price_range(low, None, view, digits),
            say("with the most fuel that chemistry allows; the high end is not known"),
        )
        return Figure(say("Cost of the fuel"), text, basis, "offer-range")
    basis, lack = _cost_range(row, view, digits), _lack(cost, _wanting(row, view))
    return Figure(say("Cost of the fuel"), view.per_volume(cost, digits), basis, "offer-range", lack)


def _by_measure(row: Row, view: Shown, digits: int) -> Iterator[Figure]:
    """The cost by its heat, and the price of the oil by what of it can be used."""
    yield Figure(
        say("Diesel equivalent"),
        view.per_volume(row["cost_per_diesel_l"], digits),
        say(
            "with the net heat of a {volume} of diesel; {price} per MJ",
            volume=view.volume_word,
            price=view.rate(row["cost_per_mj"], view.currency, 4),
        ),
        "diesel-equivalent",
        _lack(row["cost_per_diesel_l"], _wanting(row, view)),
    )
    usable = say(
        "{usable} of {quantity}, {lost}",
        usable=view.volume(row["usable_l"]),
        quantity=view.volume(row["quantity_l"]),
        lost=said(row["lost_by"]),
    )
    yield Figure(
        say("Usable oil"),
        view.per_mass(row["per_usable_kg"], digits),
        say("for {usable}, with haulage", usable=usable)
        if row["haulage"] is not None
        else say("for {usable}, without haulage", usable=usable),
        "offer",
        _lack(row["per_usable_kg"], say("a price")),
    )


def _of_oil(row: Row, view: Shown) -> Iterator[Figure]:
    """What its acid will ask for."""
    yield Figure(
        say("Soap to come"),
        view.mass(row["soap_kg"]),
        say("from its free acid, in all layers"),
        "soap-from-acid",
        _lack(row["soap_kg"], say("a titration")),
    )
    yield Figure(
        say("Dose"),
        with_unit(row["dose_g_per_l"], say("g/L of pure base"), 1),
        say("the maker's own rule"),
        "dose",
        _lack(row["dose_g_per_l"], say("a titration")),
    )


def _testing(row: Row) -> str:
    """What testing would change, by what was not tested."""
    found = []
    if row["acid_value_mg_koh_per_g"] is None:
        found.append(
            say(
                "without a titration all recent batches count alike, and dose and soap stay unknown; one narrows the yield to like oil"
            )
        )
    if row["water_mg_per_kg"] is None:
        found.append(say("water decides about drying, and counts where it is more than the usual loss"))
    return "; ".join(found)


def fuel_range(low: float | None, high: float | None, view: Shown) -> str:
    """Fuel to expect from low to high; the high end alone where only chemistry speaks."""
    if high is None:
        return unknown()
    if low is None:
        return say("at most {high}", high=view.volume(high))
    return say("{low} to {high}", low=view.volume(low), high=view.volume(high))


def price_range(low: float | None, high: float | None, view: Shown, digits: int) -> str:
    """A price from low to high; the low end alone where only chemistry speaks, nothing where no end is known."""
    if low is None:
        return ""
    if high is None:
        return say("at least {low}", low=view.per_volume(low, digits))
    return say("{low} to {high}", low=view.per_volume(low, digits), high=view.per_volume(high, digits))


def _cost_range(row: Row, view: Shown, digits: int) -> str:
    """The range of the cost, and how often it should hold."""
    text = price_range(row["cost_low_per_l"], row["cost_high_per_l"], view, digits)
    if row["cost_high_per_l"] is None:
        return text
    if row["holds_pct"] is None:
        return say("{range} by single batches; too few lots to say how often it holds", range=text)
    return say("{range}; should hold for {pct} of 100", range=text, pct=number(row["holds_pct"]))


def _tiers(row: Row, view: Shown, digits: int) -> Iterator[Figure]:
    """The same cost with less and with more in it."""
    for tier, label, lack in (
        ("cash", say("Without media"), ""),
        (
            "labour",
            say("With labour"),
            say("a line in logbook.yaml, labour_rate: ... {currency}/h", currency=view.currency),
        ),
    ):
        low, middle, high = (row[f"{tier}{end}_per_l"] for end in ("_low", "", "_high"))
        if middle is None and row["cost_per_l"] is None:
            continue
        yield Figure(
            label,
            view.per_volume(middle, digits),
            price_range(low, high, view, digits),
            "offer",
            _lack(middle, lack or _wanting(row, view)),
        )


def _fit(row: Row, view: Shown) -> Iterator[Figure]:
    """Of an open offer: how long the oil would last with it, and whether there are vessels for it."""
    if row["lasts_days"] is not None:
        yield Figure(
            say("Oil would last"),
            count(round(row["lasts_days"]), "day", "days"),
            say("with it, at the use of the last 90 days, or of all since the first batch"),
            "cover",
        )
    if row["room_l"] is not None:
        yield Figure(
            say("Room left") if row["room_l"] >= 0 else say("Too much by"),
            view.volume(abs(row["room_l"])),
            say("in the vessels for oil, with all of the offer before any is lost"),
            "cover",
        )


def oil_unit(per: Unit | None, view: Shown) -> str:
    """The unit of the price that is asked."""
    return (
        f"{view.currency}/{per.symbol}"
        if per is not None
        else say("{currency} for all of it", currency=view.currency)
    )


def oil_digits(per: Unit | None, digits: int) -> int:
    """How many decimals a price of the oil has, where one by the litre has `digits`: a sum for all of it is money."""
    return 2 if per is None else digits


def _highest_range(row: Row, view: Shown, digits: int) -> str:
    """The same at both ends of the cost."""
    low, high = row["highest_low_per_l"], row["highest_high_per_l"]
    if low is None or high is None:
        return ""
    ends = {"low": view.per_volume(low, digits), "high": view.per_volume(high, digits)}
    return say("; {low} where the cost comes as high as its range, {high} where as low", **ends)


def _haulage(row: Row) -> str:
    """Whether the way to fetch it is in the price."""
    if row["haulage"] is not None:
        return say("after haulage")
    return say("haulage not counted: needs its distance, one way, and collection_rate in logbook.yaml")


def _wanting(row: Row, view: Shown, *more: str) -> str:
    """What an offer's cost or price cannot be computed without, and is not there."""
    names = {
        "fuel_l": say("five finished batches with oil like this"),
        "other_cost_per_l": say("five batches whose cost with media is known"),
        "target_per_l": say("a line in logbook.yaml, target_cost: ... {unit}", unit=view.per_unit),
        "diesel_per_l": say("a price of diesel: esterday new price diesel --ask"),
        "asked_per_l": say("a price"),
    }
    return listed(
        [
            text
            for name, text in names.items()
            if (name in more or name not in ("target_per_l", "diesel_per_l")) and row[name] is None
        ]
    )


def _lack(value: object, need: str) -> str:
    return say("needs {need}", need=need) if value is None else ""
