"""One row per offer: the fuel to expect, what a litre of it would cost, the highest price at the workshop's target.

An offer is judged in `worth`; here stands on which day, in which order, and in which state. What came of those that were bought is in `score`.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from functools import cache, partial
from typing import Any

import pandas as pd

from generator.compute.back_then import BackThen
from generator.compute.frames import frame
from generator.compute.on_offer import on_offer
from generator.compute.own_record import Guess, own_record
from generator.compute.score import Came, score
from generator.compute.when_asked import WhenAsked
from generator.compute.worth import OnOffer, Worth
from generator.kept import APART, Gathered
from generator.ledger.ledgers import Ledgers
from generator.ledger.money import ReferencePrices, rate_days
from generator.log import Entry, Log
from generator.records import Offer
from generator.tables import OFFERS


@dataclass(frozen=True, slots=True)
class Judged:
    """An offer, its state, and all that its worth is reckoned from."""

    entry: Entry[Offer]
    state: str
    on_offer: OnOffer
    diesel_days: int | None  # how old the price of diesel is by which it is judged

    def row(self, worth: Worth) -> dict[str, Any]:
        """The offer as a row of its table, on the terms that `worth` was reckoned for."""
        offer, held, terms = self.entry.record, self.on_offer, worth.terms
        return {
            "offer": self.entry.id,
            "material": offer.material,
            "offered": offer.offered.isoformat(),
            "valid_until": offer.valid_until.isoformat() if offer.valid_until else None,
            "state": self.state,
            "lot": offer.bought_as,
            "quantity_l": held.litres,
            "asked_per_l": worth.asked_per_l,
            "haulage": held.haulage,
            "acid_value_mg_koh_per_g": terms.acid_value_mg_koh_per_g,
            "ffa_pct": worth.ffa_pct,
            "water_mg_per_kg": terms.water_mg_per_kg,
            "usable_l": worth.usable_l,
            "lost_by": worth.lost_by,
            "per_usable_kg": worth.per_usable_kg,
            "soap_kg": worth.soap_kg,
            "dose_g_per_l": worth.dose_g_per_l,
            "fuel_low_l": worth.fuel_l[0],
            "fuel_l": worth.fuel_l[1],
            "fuel_high_l": worth.fuel_l[2],
            "yield_basis": worth.yield_basis,
            "other_cost_per_l": worth.other_per_l,
            "cost_low_per_l": worth.cost_per_l[0],
            "cost_per_l": worth.cost_per_l[1],
            "cost_high_per_l": worth.cost_per_l[2],
            "holds_pct": worth.holds_pct,
            "cash_low_per_l": worth.cash_per_l[0],
            "cash_per_l": worth.cash_per_l[1],
            "cash_high_per_l": worth.cash_per_l[2],
            "labour_low_per_l": worth.labour_per_l[0],
            "labour_per_l": worth.labour_per_l[1],
            "labour_high_per_l": worth.labour_per_l[2],
            "lasts_days": held.lasts_days(worth.usable_l),
            "room_l": held.room_l,
            "cost_per_mj": worth.cost_per_mj,
            "cost_per_diesel_l": worth.cost_per_diesel_l,
            "target_per_l": held.target_per_l,
            "highest_price_per_l": worth.highest_per_l,
            "highest_low_per_l": worth.highest_range_per_l[0],
            "highest_high_per_l": worth.highest_range_per_l[1],
            "diesel_per_l": terms.diesel_per_l,
            "diesel_days": self.diesel_days if terms.diesel_per_l == held.terms().diesel_per_l else None,
            "rate_days": rate_days(offer.offered, offer.asked) if terms.asked == held.terms().asked else None,
            "highest_at_pump_per_l": worth.highest_at_pump_per_l,
            "saving_per_l": worth.saving_per_l,
            "advice": worth.advice,
            "unknown": worth.unknown,
            **_guessed(held.own.guess),
        }


def _guessed(guess: Guess | None) -> dict[str, float | None]:
    mean, median, without = (None, None, None) if guess is None else (guess.mean, guess.median, guess.without)
    return {"guess_per_l": mean, "guess_median_per_l": median, "guess_without_per_l": without}


def judged(
    ledgers: Ledgers, costs: Callable[[], pd.DataFrame], before: Gathered = APART
) -> Mapping[str, Judged]:
    """Every offer by id with the record of its day, each judged when it is asked for; `costs` gives the table of costs.

    One that is settled is judged by what the workshop knew on that day, so that its forecast can be held against what came.
    `before` may hold records of such days as they were reckoned for an earlier build.
    """
    log = ledgers.log
    prices, back_then = ReferencePrices(log), BackThen(log, before)
    now = cache(lambda: own_record(ledgers, costs()))

    def judge(entry: Entry[Offer]) -> Judged:
        offer, day = entry.record, _settled(log, entry.record)
        diesel = prices.on("diesel", day or log.now())
        held = (
            on_offer(log, offer, now(), diesel, ledgers.oil_store)
            if day is None
            else on_offer(log, _tested_until(offer, day), back_then.on(day), diesel, None)
        )
        return Judged(entry, _state(log, offer), held, prices.days("diesel", day or log.now()))

    return WhenAsked({name: partial(judge, entry) for name, entry in log.offers.items()})


def _tested_until(offer: Offer, day: date) -> Offer:
    """An offer without the results that came after it was settled."""
    tests = tuple(test for test in offer.tests if test.date is None or test.date <= day)
    return offer.model_copy(update={"tests": tests})


def offers(found: Iterable[Judged], came: Mapping[str, Came]) -> pd.DataFrame:
    """All offers, open ones first by cost, then by day, with what came of the lots that were bought; one row each."""
    rows = [(one.row(one.on_offer.worth(one.on_offer.terms())), one.on_offer.own) for one in found]
    data = frame(OFFERS, [{**row, **score(row, own, came.get(row["lot"] or ""))} for row, own in rows])
    rank = data["state"].map({"open": 0, "to come": 1, "bought": 2, "declined": 3, "expired": 4})
    keys = data.assign(rank=rank, cost=pd.to_numeric(data["cost_per_l"]))
    order = keys.sort_values(["rank", "cost", "offered", "offer"], na_position="last").index
    return data.loc[order].reset_index(drop=True)


def _settled(log: Log, offer: Offer) -> date | None:
    """The day on which it was bought, declined or left; None while it is open."""
    bought = log.lots.get(offer.bought_as) if offer.bought_as is not None else None
    state = _state(log, offer)
    return {
        "bought": bought.record.received if bought is not None else offer.offered,
        "declined": offer.declined,
        "expired": offer.valid_until,
    }.get(state)


def _state(log: Log, offer: Offer) -> str:
    if offer.bought_as is not None:
        return "bought"
    if offer.declined is not None:
        return "declined"
    if offer.offered > log.now():
        return "to come"  # the pages count from an earlier day
    return "expired" if offer.valid_until is not None and offer.valid_until < log.now() else "open"
