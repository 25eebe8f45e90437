"""One offer on terms of one's choice, by the same reckoning as its page."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Any

from generator.kept import NOTHING, Kept
from generator.language import numbering
from generator.ledger.bench import acidity
from generator.ledger.money import rate_on, total_of
from generator.log import Log
from generator.pricing import without_rate
from generator.problems import Problem, did_you_mean, visible
from generator.program import FEW, figures_before
from generator.read.folder import Folder
from generator.records import Titration
from generator.units import NotAQuantity, Price, Quantity, price, quantity
from generator.validate.logbook import checked_folder

if TYPE_CHECKING:
    from generator.compute.offers import Judged
    from generator.compute.worth import Terms

ODD_FACTOR = 5.0  # as the check has it for a price that is written
MOST_ACID_MG_KOH_PER_G = 200.0  # an oil that is all free fatty acid has about as much


@dataclass(frozen=True, slots=True)
class Offering:
    """An offer told as text and as plain values; or what keeps it back: problems, or words that cannot be read."""

    folder: Folder
    text: str | None = None
    values: Mapping[str, Any] = field(default_factory=dict)
    problems: list[Problem] = field(default_factory=list)
    refused: tuple[tuple[str, str], ...] = ()


def offering(
    logbook: Path, offer: str, said: Mapping[str, str], as_of: date | None = None, kept: Kept = NOTHING
) -> Offering:
    """Judge one offer on the terms that were said: `acid_value` or `titration`, `water`, `price`, `diesel`.

    What is dear and `kept` from a build is not reckoned again.
    """
    folder, checked = checked_folder(logbook, as_of, kept=kept)
    ledgers = checked.ledgers
    if ledgers is None or not checked.fit:
        return Offering(folder, problems=[problem for problem in checked.problems if problem.is_error])
    log = ledgers.log
    if offer not in log.offers:
        known = ", ".join(sorted(log.offers)) or "none is written"
        told = f"there is no offer '{visible(offer)[:64]}' in {logbook}"
        return Offering(folder, refused=((told, did_you_mean(offer, log.offers) or f"offers: {known}"),))
    made = log.offers[offer].record.offered
    if as_of is not None and as_of < made:
        told = f"offer '{offer}' was made on {made}, after the day that was asked for ({as_of})"
        return Offering(folder, refused=((told, f"give --as-of {made} or a later day, or leave it out"),))
    # slow to import, and not needed to tell a mistake
    from generator.compute.tally import tally  # noqa: PLC0415
    from generator.pages.offer_text import offer_text  # noqa: PLC0415
    from generator.pages.words import shown  # noqa: PLC0415

    dear = figures_before(kept, logbook, "workshop")
    results = tally(ledgers, dear)
    dear.keep(FEW, rest=True)
    one = results.judged[offer]
    terms, refused = _moved(log, one, said)
    if refused:
        return Offering(folder, refused=refused)
    held, worth = one.on_offer, one.on_offer.worth(terms)
    values = {
        **one.row(worth),
        "asked": terms.asked,
        "highest_price_as_asked": held.as_asked(worth.highest_per_l),
        "highest_at_pump_as_asked": held.as_asked(worth.highest_at_pump_per_l),
    }
    with numbering(log.settings.locale):
        return Offering(folder, offer_text(one, terms, values, shown(results)), values)


def _moved(log: Log, one: Judged, said: Mapping[str, str]) -> tuple[Terms, tuple[tuple[str, str], ...]]:
    """The terms with what was said in their place, and what could not be read, with its remedy."""
    readers: dict[str, tuple[str, Callable[[str], float]]] = {
        "acid_value": ("acid_value_mg_koh_per_g", lambda text: _acid_value(text, log)),
        "titration": ("acid_value_mg_koh_per_g", lambda text: _titrated(text, log, one)),
        "water": ("water_mg_per_kg", lambda text: _plain(text, "content", log).value),
        "price": ("asked", lambda text: _asked(text, log, one)),
        "diesel": ("diesel_per_l", lambda text: _diesel(text, log)),
    }
    found: dict[str, float] = {}
    refused = []
    for name, text in said.items():
        term, read = readers[name]
        try:
            found[term] = read(text)
        except NotAQuantity as error:
            refused.append((f"--{name.replace('_', '-')}: {error.message}", error.hint))
    return replace(one.on_offer.terms(), **found), tuple(refused)


def _plain(text: str, kind: str, log: Log, usual: str = "") -> Quantity:
    found = quantity(text, (kind,), log.settings.gallon, usual)
    if found.sign or found.value < 0:
        raise NotAQuantity(
            "out-of-range", f"'{found.text}' cannot be reckoned with", "write one number, 0 or above"
        )
    return found


def _acid_value(text: str, log: Log) -> float:
    return _possible(_plain(text, "acid value", log).value, text)


def _possible(acid_value: float, text: str) -> float:
    if not 0 <= acid_value <= MOST_ACID_MG_KOH_PER_G:
        told = f"'{text}' gives an acid value of {acid_value:.1f} mg KOH/g"
        raise NotAQuantity("out-of-range", told, f"no oil lies outside of 0 to {MOST_ACID_MG_KOH_PER_G:.0f}")
    return acid_value


def _titrated(text: str, log: Log, one: Judged) -> float:
    """The acid value by one reading, all else as in the offer's own titration, or as in the last of a batch."""
    reading = _plain(text, "volume", log, "mL")
    like = like_titration(log, one)
    found = None
    if like is not None:
        found = acidity(log, like.model_copy(update={"readings": (reading,)}), one.on_offer.line)
    if found is None:
        told = "no titration in the offer or in a batch says which titrant, sample and blank"
        raise NotAQuantity("no-titration", told, "give --acid-value instead")
    return _possible(found.acid_value_mg_koh_per_g, text)


def like_titration(log: Log, one: Judged) -> Titration | None:
    """The titration whose titrant, sample and blank stand for one that is said by its reading alone."""
    own = [test.titration for test in one.entry.record.tests if test.titration is not None]
    done = [entry.record.titration for entry in log.batches_in_time() if entry.record.titration is not None]
    return next(iter((*own[::-1], *done[::-1])), None)


def _asked(text: str, log: Log, one: Judged) -> float:
    """A price in any unit as one in the unit of the price that is asked."""
    found, offer, units = _price(text, log), one.entry.record, one.on_offer.units
    is_of_oil = found.per is None or found.per.kind in ("volume", "mass")
    whole = total_of(log, found, offer.quantity, offer.material) if is_of_oil else None
    if whole is None or not units:
        raise NotAQuantity("price-unit", f"'{text}' is no price of oil", f"write it like {offer.asked.text}")
    if found.per == offer.asked.per:
        return float(found.amount)
    each = float(whole) / units
    if found.per is None and offer.asked.per is not None and each < float(offer.asked.amount) / ODD_FACTOR:
        told = f"'{text}' is for all {offer.quantity.text}, less than a fifth of what is asked"
        raise NotAQuantity(
            "price-odd", told, f"write {text}/{offer.asked.per.symbol}, or what all of it would cost"
        )
    return each


def _diesel(text: str, log: Log) -> float:
    found = _price(text, log)
    if found.per is None or found.per.kind != "volume":
        hint = f"write it like 1.70 {log.settings.currency}/L"
        raise NotAQuantity("price-unit", f"'{text}' is no price of diesel", hint)
    return float(found.amount / found.per.factor)


def _price(text: str, log: Log) -> Price:
    found, currency = price(text, log.settings.gallon, log.settings.currency), log.settings.currency
    rate = rate_on(log.settings, found.currency, log.now()) if found.currency != currency else None
    if rate is None and found.currency != currency:
        told = f"'{text}' is in {found.currency}, the logbook is kept in {currency}"
        raise NotAQuantity(
            "price-currency", told, without_rate(found.currency, currency, log.now().isoformat())
        )
    if found.amount < 0:
        raise NotAQuantity("out-of-range", f"'{text}' is below zero", "write what would be paid")
    if rate is None:
        return found
    return replace(found, amount=found.amount * rate.value.amount, currency=currency, rated=rate.since)
