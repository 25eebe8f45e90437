"""All ledgers of one log, each folded once, when it is first asked for; checks and tables share them."""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal
from functools import cached_property

from generator.ledger import columns, stock, tanks
from generator.ledger.basis import amount, density_line
from generator.ledger.batch_facts import Facts
from generator.ledger.capacity import Capacity, capacities
from generator.ledger.costing import Inventory, whole_lots
from generator.ledger.dose import Dose, dose_of
from generator.ledger.facts import facts_of
from generator.ledger.forecast import Forecast, forecasts
from generator.ledger.media import Spread, spreads
from generator.ledger.money import Fetching, fetching, unit_cost, whole_cost
from generator.ledger.oil_store import OilStore, oil_store
from generator.ledger.overheads import Borne, borne
from generator.ledger.passes import Columns
from generator.ledger.stock import Account
from generator.ledger.tanks import TankBook
from generator.ledger.uncertain import Uncertain
from generator.ledger.vats import Vat, vat_of
from generator.log import Entry, Log
from generator.records import Batch


class Ledgers:
    """A log and what follows from it."""

    def __init__(self, log: Log) -> None:
        """Keep the log; nothing is folded yet."""
        self.log = log

    @cached_property
    def facts(self) -> dict[str, Facts]:
        """The figures of every batch, by id."""
        return {name: facts_of(self.log, entry) for name, entry in self.log.batches.items()}

    @cached_property
    def doses(self) -> dict[str, Dose]:
        """What to weigh for every planned batch, by id."""
        return {
            name: dose_of(self.log, entry, facts_of(self.log, entry))
            for name, entry in self.log.planned.items()
        }

    def facts_of(self, entry: Entry[Batch]) -> Facts:
        """The figures of a batch, recorded or planned."""
        return self.doses[entry.id].facts if entry.record.is_planned else self.facts[entry.id]

    def measured(self, batch: str) -> Facts:
        """The figures of one batch again, each carrying its uncertainty; slower, and not kept."""
        return facts_of(self.log, self.log.batches[batch], Uncertain(self.log.settings.instruments))

    @cached_property
    def accounts(self) -> dict[str, Account]:
        """The account of every lot, by id."""
        return stock.accounts(self.log)

    @cached_property
    def oil_store(self) -> OilStore:
        """All oil that is there, against the vessels that hold it."""
        return oil_store(self.log, self.accounts)

    @cached_property
    def vats(self) -> dict[str, Vat]:
        """What every vat held through time, by id."""
        return {
            name: vat_of(self.log, entry, self.accounts[name])
            for name, entry in self.log.lots.items()
            if entry.record.vat
        }

    def oil_of(self, batch: str) -> dict[str, float]:
        """Kilograms of oil in a batch by the lot they were bought in; what came out of a vat by what was in it that day."""
        found: dict[str, float] = {}
        entry = self.log.batches[batch]
        for use in entry.record.oil:
            kg = amount(self.log, use.amount, density_line(self.log, "oil", use.lot)).kg
            vat = self.vats.get(use.lot)
            shares = vat.shares_on(entry.record.date, batch) if vat is not None else {use.lot: 1.0}
            for lot, share in shares.items():
                found[lot] = found.get(lot, 0.0) + kg * share
        return found

    @cached_property
    def unit_costs(self) -> dict[str, Decimal | None]:
        """What a unit of every lot cost, by id; None where its price is not written."""
        return {
            name: unit_cost(self.log, entry, self.accounts[name]) for name, entry in self.log.lots.items()
        }

    @cached_property
    def inventory(self) -> Inventory:
        """What every draw cost, by the method chosen for its material."""
        costs = {name: whole_cost(self.log, entry) for name, entry in self.log.lots.items()}
        return Inventory(self.log, self.accounts, whole_lots(costs, self.unit_costs))

    @cached_property
    def overheads(self) -> list[Borne]:
        """What the fuel of every batch bears of costs that no batch has alone."""
        return borne(self.log, self.facts)

    @cached_property
    def fetching(self) -> dict[str, Fetching]:
        """What the workshop's own way took for every lot that was fetched, by id."""
        return {
            name: fetching(self.log, entry.record)
            for name, entry in self.log.lots.items()
            if entry.record.collected
        }

    @cached_property
    def fetching_hours(self) -> Inventory:
        """The hours of fetching that every draw brought with it, by the method chosen for its material."""
        return self._by_lot({name: found.hours for name, found in self.fetching.items()})

    @cached_property
    def fetching_wages(self) -> Inventory:
        """What those hours are worth."""
        return self._by_lot({name: found.wages for name, found in self.fetching.items()})

    def _by_lot(self, found: Mapping[str, Decimal | None]) -> Inventory:
        whole = {name: found.get(name, Decimal(0)) for name in self.log.lots}
        usable = {name: self.accounts[name].usable for name in whole}
        each = {
            name: all_ / usable[name] if all_ is not None and usable[name] > 0 else all_
            for name, all_ in whole.items()
        }
        return Inventory(self.log, self.accounts, whole_lots(whole, each))

    @cached_property
    def columns(self) -> Columns:
        """The charges and runs of every purifier."""
        return columns.fold(self.log)

    @cached_property
    def capacities(self) -> dict[str, Capacity | None]:
        """The capacity of every charge for soap, by id."""
        return capacities(self.columns)

    @cached_property
    def forecasts(self) -> dict[str, Forecast]:
        """What is left of every bed in service, by charge."""
        return forecasts(self.log, self.columns, self.capacities)

    @cached_property
    def media(self) -> dict[str, Spread]:
        """What every charge cost, over its runs, by id."""
        return spreads(self.columns, self.inventory.unit_cost, self.inventory.cost_of)

    @cached_property
    def tanks(self) -> dict[str, TankBook]:
        """The book of every tank, by id."""
        return tanks.books(self.log)
