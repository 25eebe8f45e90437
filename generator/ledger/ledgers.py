"""All ledgers of one log, each folded once, when it is first asked for; checks and tables share them."""

from __future__ import annotations

from decimal import Decimal
from functools import cached_property

from generator.ledger import columns, stock, tanks
from generator.ledger.batch_facts import Facts
from generator.ledger.capacity import Capacity, capacities
from generator.ledger.costing import Inventory
from generator.ledger.dose import Dose, dose_of
from generator.ledger.facts import facts_of
from generator.ledger.forecast import Forecast, forecasts
from generator.ledger.media import Spread, spreads
from generator.ledger.money import unit_cost
from generator.ledger.passes import Columns
from generator.ledger.stock import Account
from generator.ledger.tanks import TankBook
from generator.ledger.uncertain import Uncertain
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
    def unit_costs(self) -> dict[str, Decimal | None]:
        """What a unit of every lot cost, by id; None where its price is not written."""
        return {
            name: unit_cost(self.log, entry, self.accounts[name]) for name, entry in self.log.lots.items()
        }

    @cached_property
    def inventory(self) -> Inventory:
        """What every draw cost, by the method chosen for its material."""
        return Inventory(self.log, self.accounts, self.unit_costs)

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
