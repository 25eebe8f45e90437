"""Offers are bought as a lot of their own, and lie within a way that someone would drive for oil."""

from __future__ import annotations

from collections.abc import Iterator

from generator.ledger.ledgers import Ledgers
from generator.log import Entry
from generator.problems import Place, Problem
from generator.records import Offer
from generator.units import Quantity

FAR_KM = 500.0  # of one way, or of all ways for one lot; a decision


def check(ledgers: Ledgers) -> Iterator[Problem]:
    """Name a lot that two offers became, and distances that nobody drives for a tank of oil."""
    log, bought = ledgers.log, dict[str, Entry[Offer]]()
    for entry in log.offers.values():
        offer = entry.record
        if offer.bought_as is not None:
            first = bought.setdefault(offer.bought_as, entry)
            if first is not entry:
                yield Problem(
                    "bought-twice",
                    entry.at("bought_as"),
                    f"offers '{first.id}' and '{entry.id}' are both said to be bought as lot '{offer.bought_as}'",
                    "name the lot that came of this offer; what came of two offers wants a lot each",
                    (first.at("bought_as"),),
                )
        if offer.distance is not None:
            yield from _far(offer.distance, entry.at("distance"), f"offer '{entry.id}' lies")
    for lot in log.lots.values():
        for number, way in enumerate(lot.record.collected):
            if way.distance is not None:
                yield from _far(
                    way.distance, lot.at("collected", number, "distance"), f"lot '{lot.id}' was fetched"
                )


def _far(distance: Quantity, place: Place, told: str) -> Iterator[Problem]:
    if distance.value > FAR_KM:
        yield Problem(
            "distance-odd",
            place,
            f"{told} {distance.value:.0f} km away, and over {FAR_KM:.0f} km is seldom driven for oil",
            "check the number and its unit; an offer has one way, a lot all that was driven",
        )
