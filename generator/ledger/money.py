"""What a unit of every lot cost, and what a price per any unit is at the reference temperature. Exact decimals."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from generator.formulas import economics
from generator.ledger.basis import material_density_line, substance_of
from generator.ledger.stock import ZERO, Account
from generator.log import Entry, Log
from generator.records import Lot, OwnRate, Rate, Workshop
from generator.units import Price, Quantity, to_exact


def paid_total(log: Log, entry: Entry[Lot]) -> Decimal | None:
    """What was paid for a lot without freight: the total written, or the price times the quantity as invoiced."""
    lot = entry.record
    if lot.paid is None or lot.quantity is None:
        return None
    return total_of(log, lot.paid, lot.quantity, lot.material)


def total_of(log: Log, price: Price, quantity: Quantity, material: str) -> Decimal | None:
    """A price times a quantity; crossing from volume to mass takes the density at the reference temperature."""
    if price.per is None:
        return price.amount
    per_base = price.amount / price.per.factor
    if price.per.kind == quantity.kind:
        return per_base * quantity.exact
    entry = log.materials.get(material)
    substance = substance_of(entry.record.kind) if entry is not None else None
    if substance is None:
        return None
    kg_per_l = to_exact(material_density_line(log, substance, material).at(log.reference_c) / 1000)
    return per_base * (quantity.exact * kg_per_l if price.per.kind == "mass" else quantity.exact / kg_per_l)


@dataclass(frozen=True, slots=True)
class Fetching:
    """What the workshop's own way for a lot took: kilometres, what they cost, hours, what they are worth; None is unknown."""

    km: Decimal = ZERO
    driving: Decimal | None = ZERO
    hours: Decimal = ZERO
    wages: Decimal | None = ZERO


def fetching(log: Log, lot: Lot) -> Fetching:
    """All ways of a lot, each at the rates of its day; a lot that was brought took none."""
    settings, found = log.settings, Fetching()
    for way in lot.collected:
        day = way.date or lot.received
        km = way.distance.exact if way.distance is not None else ZERO
        hours = way.time.exact if way.time is not None else ZERO
        found = Fetching(
            found.km + km,
            _and(found.driving, own_rate_on(settings.collection_rate, day), km),
            found.hours + hours,
            _and(found.wages, own_rate_on(settings.labour_rate, day), hours),
        )
    return found


def _and(sum_: Decimal | None, rate: Decimal | None, amount: Decimal) -> Decimal | None:
    """A sum and what an amount costs at a rate; nothing costs nothing without one."""
    if not amount:
        return sum_
    return sum_ + rate * amount if sum_ is not None and rate is not None else None


def own_rate_on(rates: Sequence[OwnRate], day: date) -> Decimal | None:
    """What an hour or a kilometre counted as on a day: the last rate from that day or before, or the one without a day."""
    before = [rate for rate in rates if rate.since is None or rate.since <= day]
    if not before:
        return None
    value = max(before, key=lambda rate: rate.since or date.min).value
    return value.amount / value.per.factor if value.per is not None else None


def whole_cost(log: Log, entry: Entry[Lot]) -> Decimal | None:
    """What a purchase cost in money until it was here: paid, freight, and the workshop's own driving."""
    paid, driving = paid_total(log, entry), fetching(log, entry.record).driving
    freight = entry.record.freight
    if paid is None or driving is None:
        return None
    return paid + (freight.amount if freight is not None else ZERO) + driving


def refund_of(lot: Lot) -> Decimal:
    """What came back in money for what went back to the seller."""
    return sum((back.refund.amount for back in lot.returns if back.refund is not None), ZERO)


def unit_cost(log: Log, entry: Entry[Lot], account: Account) -> Decimal | None:
    """All that a lot cost over what was usable, per unit it is kept in; what went back to the seller was usable.

    A recovered lot costs its stated value (zero where none is stated), by which the batches that filled it cost less: never free and credited at once.
    """
    lot = entry.record
    if lot.recovered:
        if lot.value is None or lot.value.per is None:
            return ZERO
        return lot.value.amount / lot.value.per.factor
    cost = whole_cost(log, entry)
    return economics.unit_cost(cost, account.usable) if cost is not None and account.usable > 0 else None


def rate_on(settings: Workshop, currency: str, day: date) -> Rate | None:
    """What a unit of a currency was worth: the last rate dated on or before the day; None where none is."""
    before = [rate for rate in settings.rates if rate.currency == currency and rate.since <= day]
    return max(before, key=lambda rate: rate.since, default=None)


def rate_days(day: date, *prices: Price | None) -> int | None:
    """How old the oldest rate was on a day at which one of these prices was carried; None where none was."""
    return max(
        ((day - price.rated).days for price in prices if price is not None and price.rated), default=None
    )


class ReferencePrices:
    """The dated reference prices of a log; each series is put in order once, however many days are asked for."""

    def __init__(self, log: Log) -> None:
        """Put every series in order; of two prices of one day the one that is written first holds."""
        self.series: dict[str, list[tuple[date, Decimal]]] = {}
        for name, entry in log.prices.items():
            found: dict[date, Decimal] = {}
            for point in entry.record.series:
                if point.value.per is not None:
                    found.setdefault(point.date, point.value.amount / point.value.per.factor)
            self.series[name] = sorted(found.items())

    def on(self, series: str, day: date) -> Decimal | None:
        """The price in force: the last one dated on or before the day; None before the first, or without the series."""
        found = self._in_force(series, day)
        return found[1] if found is not None else None

    def days(self, series: str, day: date) -> int | None:
        """How old the price in force is on a day; None where none is."""
        found = self._in_force(series, day)
        return (day - found[0]).days if found is not None else None

    def _in_force(self, series: str, day: date) -> tuple[date, Decimal] | None:
        dated = self.series.get(series, [])
        place = bisect_right(dated, day, key=lambda point: point[0])
        return dated[place - 1] if place else None
