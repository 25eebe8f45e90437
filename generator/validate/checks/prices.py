"""Prices fit what they are for: a unit in which the amount can be counted, a total where a total is meant."""

from __future__ import annotations

from collections.abc import Iterator
from statistics import median

from generator.ledger.basis import substance_of
from generator.ledger.ledgers import Ledgers
from generator.ledger.money import ReferencePrices, paid_total, refund_of, total_of
from generator.log import Entry, Log
from generator.problems import Problem
from generator.records import Lot, PriceSeries

LEAST_LOTS = 3
ODD_FACTOR = 5.0
LITTLE = 0.0001  # less of a price is not written out
KIND_OF = {"L": "volume", "kg": "mass"}


def check(ledgers: Ledgers) -> Iterator[Problem]:
    """Name prices whose unit does not fit, and lots without any price."""
    log = ledgers.log
    for entry in log.lots.values():
        lot = entry.record
        yield from _unpriced(ledgers, entry)
        yield from _refunded(log, entry)
        material = log.materials.get(lot.material)
        dense = material is not None and substance_of(material.record.kind) is not None
        for key, price, kind in (
            ("paid", lot.paid, lot.quantity.kind if lot.quantity else "volume"),
            ("value", lot.value, "volume"),
        ):
            if price is None or (price.per is None and key == "paid"):
                continue
            if price.per is None:
                yield Problem(
                    "price-unit",
                    entry.at(key),
                    f"the value of a recovered lot is per unit, and '{price.text}' is not",
                    f"write it like 0.50 {price.currency}/L",
                )
                continue
            if price.per.kind == kind:
                continue
            if price.per.kind not in ("volume", "mass") or not dense:
                yield Problem(
                    "price-unit",
                    entry.at(key),
                    f"'{price.text}' is per {price.per.kind}, the lot is counted by {kind}",
                    f"write it per unit of {kind}, or as a total",
                    (entry.at("quantity"),),
                )
    yield from _odd(ledgers)
    for offer in log.offers.values():
        asked = offer.record.asked
        if asked.per is not None and asked.per.kind not in ("volume", "mass"):
            yield Problem(
                "price-unit",
                offer.at("asked"),
                f"'{asked.text}' is not a price of oil",
                f"write it like 0.50 {asked.currency}/L",
            )
    for series in log.prices.values():
        wanted = {"diesel": "volume", "electricity": "energy"}[series.id]
        for number, point in enumerate(series.record.series):
            if point.value.per is None or point.value.per.kind != wanted:
                yield Problem(
                    "price-unit",
                    series.at("series", number, "value"),
                    f"'{point.value.text}' is not a price of {series.id}",
                    f"write it per unit of {wanted}",
                )
            elif series.id == "diesel" and not point.value.amount:
                yield Problem(
                    "out-of-range",
                    series.at("series", number, "value"),
                    f"'{point.value.text}' is no price at the pump, and all fuel would be held against it",
                    "write the price of that day, or take the line out: what is not written is unknown",
                )
        yield from _odd_points(log, series)
    yield from _unpriced_energy(ledgers)


def _unpriced(ledgers: Ledgers, entry: Entry[Lot]) -> Iterator[Problem]:
    """A lot without a price, or fetched over a way without a rate."""
    lot = entry.record
    if lot.paid is None and not lot.recovered and not lot.vat:
        yield Problem(
            "no-price",
            entry.at("lot"),
            f"lot '{entry.id}' has no price, so its batches have no cost",
            f"add 'paid: ...'; write '0 {ledgers.log.settings.currency}' if it was free",
        )
    way = ledgers.fetching.get(entry.id)
    if way is not None and way.driving is None:
        yield Problem(
            "no-price",
            entry.at("collected"),
            f"lot '{entry.id}' was fetched over {way.km.normalize():f} km, and no rate by the kilometre holds on that day, so its batches have no cost",
            f"add 'collection_rate: ...' to logbook.yaml; 0 {ledgers.log.settings.currency}/km where driving is to count nothing",
        )


def _unpriced_energy(ledgers: Ledgers) -> Iterator[Problem]:
    """Batches that took electricity on days without a price of it; told once, at the first of them."""
    prices = ReferencePrices(ledgers.log)
    found = [
        entry
        for entry in ledgers.log.batches_in_time()
        if entry.record.energy is not None and prices.on("electricity", entry.record.date) is None
    ]
    if not found:
        return
    first, more = found[0], len(found) - 1
    others = "" if not more else f" and {more} more" if more > 1 else f" and '{found[1].id}'"
    yield Problem(
        "no-price",
        first.at("energy"),
        f"batch '{first.id}'{others} took electricity, and no price of it is written for that day, so the cost is unknown",
        f"run 'esterday new price electricity' with the day {first.record.date} or an earlier one",
    )


def _refunded(log: Log, entry: Entry[Lot]) -> Iterator[Problem]:
    """A lot for which more came back than was ever paid."""
    lot = entry.record
    paid, back = paid_total(log, entry), refund_of(lot)
    if paid is None or back <= paid:
        return
    number = max(place for place, one in enumerate(lot.returns) if one.refund is not None)
    yield Problem(
        "refund-odd",
        entry.at("returns", number, "refund"),
        f"{back:.2f} {log.settings.currency} came back for lot '{entry.id}', and {paid:.2f} {log.settings.currency} were paid for it",
        "check the refund, and what was paid with its unit",
        (entry.at("paid"),) if lot.paid is not None else (),
    )


def _odd(ledgers: Ledgers) -> Iterator[Problem]:
    """Name lots whose cost per unit is far from the others of their material; nothing paid is nothing odd."""
    log = ledgers.log
    costs: dict[tuple[str, str], list[tuple[Entry[Lot], float]]] = {}
    for name, entry in log.lots.items():
        account = ledgers.accounts[name]
        each = ledgers.unit_costs[name]
        if each:
            costs.setdefault((entry.record.material, account.unit), []).append((entry, float(each)))
    for (material, unit), found in costs.items():
        usual = median(cost for _, cost in found)
        for entry, cost in found:
            if len(found) >= LEAST_LOTS and _is_odd(cost, usual):
                told, middle = (_written(one, log, unit) for one in (cost, usual))
                message = f"lot '{entry.id}' costs {told}, and the middle of {len(found)} lots of {material} is {middle}"
                hint = "check the price, its unit (the whole, or per unit) and the quantity"
                yield Problem("price-odd", entry.at("paid"), message, hint, (entry.at("quantity"),))
        if len(found) >= LEAST_LOTS:
            yield from _odd_offers(log, material, unit, usual)


def _odd_offers(log: Log, material: str, unit: str, usual: float) -> Iterator[Problem]:
    """Name offers that ask far more or less than lots of their material cost: often a price for all that is meant by the litre."""
    for entry in log.offers.values():
        offer = entry.record
        asked = total_of(log, offer.asked, offer.quantity, material)
        each = float(asked / offer.quantity.exact) if asked and offer.quantity.exact else None
        if offer.material != material or each is None or offer.quantity.kind != KIND_OF[unit]:
            continue
        if _is_odd(each, usual):
            told, middle = (_written(one, log, unit) for one in (each, usual))
            message = f"offer '{entry.id}' asks {told}, and the middle of the lots of {material} is {middle}"
            hint = "check the price, its unit (the whole, or per unit) and the quantity"
            yield Problem("price-odd", entry.at("asked"), message, hint, (entry.at("quantity"),))


def _odd_points(log: Log, series: Entry[PriceSeries]) -> Iterator[Problem]:
    """Name prices far from the middle of their series; of two alone the one that is written second."""
    priced = [
        (number, point.value.text, per, float(point.value.amount / per.factor))
        for number, point in enumerate(series.record.series)
        if (per := point.value.per) is not None and point.value.amount > 0
    ]
    if len(priced) < 2:
        return
    usual = priced[0][-1] if len(priced) == 2 else median(each for *_, each in priced)
    for number, text, per, each in priced:
        if _is_odd(each, usual):
            middle = _written(usual * float(per.factor), log, per.symbol)
            message = f"{series.id} for {text}, and {'the one before' if len(priced) == 2 else f'the middle of {len(priced)}'} is {middle}"
            hint = "check the price and its unit; all of its days are reckoned with it"
            yield Problem("price-odd", series.at("series", number, "value"), message, hint)


def _is_odd(each: float, usual: float) -> bool:
    return not usual / ODD_FACTOR <= each <= usual * ODD_FACTOR


def _written(each: float, log: Log, unit: str) -> str:
    """A price as a message has it."""
    number = f"{each:.2f}" if each >= 0.1 else f"{each:.4f}" if each >= LITTLE else f"less than {LITTLE}"
    return f"{number} {log.settings.currency}/{unit}"
