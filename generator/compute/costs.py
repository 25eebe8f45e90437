"""One row per batch: what it cost by part, from the lots it names, and what a litre cost by tier."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

import pandas as pd

from generator.compute.frames import frame, plain_rows
from generator.fields import plainly
from generator.formulas.columns import share_pct
from generator.formulas.constants import net_heat_mj_per_l
from generator.formulas.economics import (
    cost_per_diesel_l,
    cost_per_l,
    cost_per_mj,
    diesel_equivalent_l,
    saving_per_l,
)
from generator.language import tell
from generator.ledger.batch_facts import Facts, known
from generator.ledger.charges import Charge
from generator.ledger.costing import Inventory
from generator.ledger.ledgers import Ledgers
from generator.ledger.media import Booking
from generator.ledger.money import ReferencePrices, own_rate_on
from generator.ledger.overheads import borne_by
from generator.ledger.stock import counted
from generator.log import Entry
from generator.records import Batch, Use
from generator.tables import COSTS, OVERHEADS

CASH = ("oil", "methanol", "catalyst", "energy", "other", "credits")
WORN = ("media", "overheads")
PARTS = (*CASH, *WORN, "labour")
SELDOM = ("credits", "overheads")  # parts that many a workshop does not write
LITTLE_PCT, MUCH_PCT = 0.5, 80.0  # of the cost with media; common practice, no source


@dataclass(frozen=True, slots=True)
class Fetched:
    """Hours of fetching and their worth; None is unknown."""

    hours: float | None
    wages: float | None


class Costing:
    """The sums that every batch's cost is made from; folded once for the whole log."""

    def __init__(self, ledgers: Ledgers) -> None:
        """Keep the ledgers, and find for each batch the charges it ran through."""
        self.log, self.ledgers, self.inventory = ledgers.log, ledgers, ledgers.inventory
        self.prices = ReferencePrices(ledgers.log)
        self.is_fetched = any(found.hours for found in ledgers.fetching.values())
        self.charges: dict[str, list[tuple[Charge, Booking]]] = {}
        for charge in ledgers.columns.charges:
            for run, booking in zip(charge.runs, ledgers.media[charge.id].bookings, strict=True):
                self.charges.setdefault(run.batch, []).append((charge, booking))

    def drawn(self, entry: Entry[Batch], uses: Sequence[Use]) -> float | None:
        """Cost of what was taken from lots; None where one has no price; zero only for an empty list."""
        return _brought(self.inventory, entry, uses)

    def methanol(self, entry: Entry[Batch]) -> float | None:
        """Cost of the methanol that was taken, less what went back into stock at its stated value, where the next batch pays for it."""
        if not entry.record.reaction:
            return None
        taken, back = self.drawn(entry, methanol_of(entry.record)), entry.record.methanol_recovered
        if taken is None or back is None:
            return taken
        unit = self.ledgers.accounts[back.into].unit
        amount, value = counted(self.log, back.volume, back.into, unit), self.ledgers.unit_costs[back.into]
        return taken - float(amount * value) if amount is not None and value is not None else None

    def fetched(self, entry: Entry[Batch]) -> Fetched:
        """The hours of fetching what the batch drew, and what they are worth."""
        if not self.is_fetched:
            return Fetched(0.0, 0.0)
        uses = (*entry.record.oil, *bases_of(entry.record), *methanol_of(entry.record))
        return Fetched(
            _brought(self.ledgers.fetching_hours, entry, uses),
            _brought(self.ledgers.fetching_wages, entry, uses),
        )

    def is_run_missing(self, batch: Batch) -> bool:
        """Whether nobody wrote how it was polished, nor that it was not; where no column is described there is nothing to write."""
        return not batch.polish and not batch.unpolished and bool(self.log.purifiers)

    def media(self, batch: Entry[Batch]) -> float | None:
        """What was booked to the batch for each charge it ran through; zero where it met none for certain."""
        if self.is_run_missing(batch.record):
            return None
        booked = [booking.amount for _, booking in self.charges.get(batch.id, [])]
        return known(lambda *amounts: sum(amounts, 0.0), *booked)

    def lacking(self, entry: Entry[Batch], facts: Facts) -> Iterator[str]:
        """What an unknown cost of this batch lacks, in words."""
        batch = entry.record
        if facts.fuel_l is None:
            yield tell("finished volume")
        lots = [use.lot for use in (*bases_of(batch), *methanol_of(batch))]
        for lot in dict.fromkeys([*(use.lot for use in batch.oil), *lots]):
            if self.inventory.unit_cost(lot, batch.date, entry.id) is None:
                way = self.ledgers.fetching.get(lot)
                driven = way is not None and way.driving is None
                lacks = tell("rate by the kilometre for {lot}", lot=lot)
                yield lacks if driven else tell("price of {of}", of=lot)
        if not batch.reaction:
            yield tell("methanol and catalyst")
        if batch.energy is None:
            yield tell("energy used")
        elif self.prices.on("electricity", batch.date) is None:
            yield tell("price of electricity on that day (esterday new price electricity)")
        yield from self._lacking_of_media(entry)
        if batch.labour is None:
            yield tell("hours worked")
        elif own_rate_on(self.log.settings.labour_rate, batch.date) is None:
            yield tell("labour rate (labour_rate in logbook.yaml)")
        elif self.fetched(entry).wages is None:
            yield tell("labour rate on the day of fetching")

    def _lacking_of_media(self, entry: Entry[Batch]) -> Iterator[str]:
        if self.is_run_missing(entry.record):
            yield tell("run through the columns (or 'unpolished: true')")
        for charge, booking in self.charges.get(entry.id, []):
            if booking.litres is None:
                yield tell("volume fed to the columns")
            elif booking.amount is None:
                yield tell("cost and expected life of charge {charge}", charge=charge.id)

    def row(self, entry: Entry[Batch], facts: Facts) -> dict[str, Any]:
        """One batch."""
        batch, log = entry.record, self.log
        electricity = self.prices.on("electricity", batch.date)
        diesel = self.prices.on("diesel", batch.date)
        hourly, fetched = own_rate_on(log.settings.labour_rate, batch.date), self.fetched(entry)
        return {
            "batch": entry.id,
            "date": batch.date.isoformat(),
            "fuel_l": facts.fuel_l,
            "oil": self.drawn(entry, batch.oil),
            "methanol": self.methanol(entry),
            "catalyst": self.drawn(entry, bases_of(batch)) if batch.reaction else None,
            "energy": float(electricity * batch.energy.exact)
            if electricity is not None and batch.energy is not None
            else None,
            "other": float(sum((cost.paid.amount for cost in batch.other_costs), Decimal(0))),
            "credits": 0.0 - float(sum((credit.amount.amount for credit in batch.credits), Decimal(0))),
            "media": self.media(entry),
            "overheads": borne_by(self.ledgers.overheads, entry.id),
            "labour": float(hourly * batch.labour.exact) + fetched.wages
            if hourly is not None and batch.labour is not None and fetched.wages is not None
            else None,
            "fetching": fetched.wages,
            "hours": batch.labour.value if batch.labour is not None else None,
            "fetching_hours": fetched.hours,
            "failed": "yes" if facts.fuel_l == 0 else None,
            "missing": ", ".join(self.lacking(entry, facts)) or None,
            "media_estimated": None
            if entry.id not in self.charges
            else "yes"
            if any(charge.unloaded is None for charge, _ in self.charges.get(entry.id, []))
            else "no",
            "electricity_days": self.prices.days("electricity", batch.date)
            if batch.energy is not None
            else None,
            "diesel_per_l": float(diesel) if diesel is not None else None,
            "diesel_days": self.prices.days("diesel", batch.date),
        }


def _brought(inventory: Inventory, entry: Entry[Batch], uses: Sequence[Use]) -> float | None:
    """What all that a batch took brought with it; None where one of it is unknown."""
    total = Decimal(0)
    for use in uses:
        found = inventory.cost_of(use, entry.record.date, entry.id)
        if found is None:
            return None
        total += found
    return float(total)


def methanol_of(batch: Batch) -> list[Use]:
    """All methanol of a batch, that of a pre-treatment too."""
    before = batch.pretreatment.methanol if batch.pretreatment is not None else ()
    return [*before, *(use for stage in batch.reaction for use in stage.methanol)]


def bases_of(batch: Batch) -> list[Use]:
    """Catalyst, and the acid of a pre-treatment."""
    before = batch.pretreatment.acid if batch.pretreatment is not None else ()
    return [*before, *(use for stage in batch.reaction for use in stage.catalyst)]


def single_per_l(costs: pd.DataFrame) -> pd.Series[float]:
    """What each batch paid for itself alone, as a laboratory's bill, less what it was credited with, per litre of fuel."""
    return costs["other_per_l"] + costs["credits_per_l"]


def costs_of(ledgers: Ledgers) -> pd.DataFrame:
    """All batches by date; one row each. Unknown parts leave the tiers they belong to unknown (NaN)."""
    log, facts = ledgers.log, ledgers.facts
    costing = Costing(ledgers)
    data = frame(COSTS, [costing.row(entry, facts[entry.id]) for entry in log.batches_in_time()])
    numbers = [
        name
        for name in COSTS.names
        if name not in ("batch", "date", "missing", "media_estimated", "odd_parts", "failed")
    ]
    data[numbers] = data[numbers].apply(pd.to_numeric)
    litres = data["fuel_l"].where(data["fuel_l"] > 0)
    for part in PARTS:
        data[f"{part}_per_l"] = cost_per_l(data[part], litres)  # type: ignore[arg-type] # one value or a column
    data["cash_per_l"] = data[[f"{part}_per_l" for part in CASH]].sum(axis=1, skipna=False)
    data["with_media_per_l"] = data["cash_per_l"] + data["media_per_l"] + data["overheads_per_l"]
    data["with_labour_per_l"] = data["with_media_per_l"] + data["labour_per_l"]
    data["known_per_l"] = data[[f"{part}_per_l" for part in (*CASH, *WORN)]].sum(axis=1, min_count=1)
    data["known_cost"] = data[[*CASH, *WORN]].sum(axis=1, min_count=1)
    diesel_l = diesel_equivalent_l(1.0, net_heat_mj_per_l("fuel"), net_heat_mj_per_l("diesel"))
    data["per_diesel_l"] = cost_per_diesel_l(data["with_media_per_l"], diesel_l)  # type: ignore[arg-type]
    data["per_mj"] = cost_per_mj(data["with_media_per_l"], net_heat_mj_per_l("fuel"))  # type: ignore[arg-type]
    saved = saving_per_l(data["diesel_per_l"], diesel_l, data["with_media_per_l"])  # type: ignore[arg-type]
    data["saving_per_l"] = saved
    hours = data["hours"] + data["fetching_hours"]
    data["saving_per_h"] = saved * litres / hours.where(hours > 0)
    data["odd_parts"] = [_odd_parts(row) for row in plain_rows(data)]
    return data


def written_parts(rows: Sequence[Mapping[str, Any]]) -> tuple[str, ...]:
    """The parts of a cost that are to be shown: of those that are seldom written only what some batch has."""
    return tuple(part for part in PARTS if part not in SELDOM or any(row[f"{part}_per_l"] for row in rows))


def overheads_of(ledgers: Ledgers) -> pd.DataFrame:
    """All overheads, in the order in which they are written; one row each."""
    return frame(
        OVERHEADS,
        [
            {
                "overhead": one.overhead.what,
                "since": one.overhead.since.isoformat(),
                "until": one.overhead.until.isoformat() if one.overhead.until is not None else None,
                "cost": one.cost,
                "over_l": one.over_l,
                "per_l": one.cost / one.over_l,
                "borne_l": one.litres,
                "borne": one.borne,
                "left": one.cost - one.borne,
            }
            for one in ledgers.overheads
        ],
    )


def _odd_parts(row: Mapping[str, Any]) -> str | None:
    """The part that is nearly all of the cost with media, or those that are hardly any of it: a unit or an amount may be wrong."""
    if not row["with_media_per_l"]:
        return None
    shares = {part: share_pct(row[f"{part}_per_l"], row["with_media_per_l"]) for part in (*CASH, *WORN)}
    much = [
        tell("{part} {share} %", part=part, share=f"{share:.0f}")
        for part, share in shares.items()
        if share > MUCH_PCT
    ]
    little = [
        tell("{part} {share} %", part=part, share=plainly(share, 2))
        for part, share in shares.items()
        if 0 < share < LITTLE_PCT
    ]
    return ", ".join(much or little) or None
