"""The figures of one batch by column, and how sure each is: dear to reckon, so kept for as long as nothing they are made from changes."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from generator.kept import Gathered, digest
from generator.ledger.alone import Alone
from generator.ledger.batch_facts import Facts, known
from generator.ledger.facts import facts_of
from generator.ledger.flows import explained, is_open
from generator.ledger.readings import plain
from generator.ledger.soap import FOUND, NOT_FOUND, Soap
from generator.ledger.uncertain import Spread, Uncertain, spread
from generator.log import Entry, Log
from generator.records import Batch
from generator.spreading import Helped
from generator.tables import BATCHES

Budgets = dict[str, Mapping[str, float]]
# columns that have the name of a fact
_SAME = tuple(name for name in BATCHES.names if hasattr(Facts, name) and name != "batch")
_UNCERTAIN = tuple(column.name for column in BATCHES.columns if column.uncertain)


@dataclass(frozen=True, slots=True)
class Sure:
    """How sure the figures of a batch are, by column, and the entries that would best explain an open balance; None where it is closed."""

    spreads: Mapping[str, Spread]
    explained: tuple[str, ...] | None

    @property
    def budgets(self) -> Budgets:
        """Which inputs each uncertainty comes from."""
        return {name: each.budget for name, each in self.spreads.items() if each.budget}


def sureness(log: Log, before: Gathered) -> dict[str, Sure]:
    """How sure the figures of each batch of a log are; `before` holds those that were reckoned for an earlier one."""
    alone, entries = Alone(log), list(log.batches_in_time())

    def reckoned(entry: Entry[Batch]) -> tuple[str, list[Any] | None]:
        """What they are kept as, and those that are not kept: of one batch, from a log that holds nothing else."""
        of = alone.of(entry)
        name = digest("sure", *of.signs()) if before.is_kept else ""
        return name, None if name and before.found(name) is not None else _as_kept(_sure(of, entry))

    found: dict[str, Sure] = {}
    with Helped(entries, reckoned, before.processes) as work:
        for place, (name, value) in work.rest():
            if value is not None:
                before.gather(name, value)
            found[entries[place].id] = _as_it_was(before.found(name) if value is None else value)
    return found


def _sure(alone: Log, entry: Entry[Batch]) -> Sure:
    measured = facts_of(alone, entry, Uncertain(alone.settings.instruments))
    numbers = figures(measured)
    spreads = {name: spread(numbers[name]) for name in _UNCERTAIN if numbers.get(name) is not None}
    if not is_open(measured):
        return Sure(spreads, None)
    exact = facts_of(alone, entry)
    return Sure(spreads, tuple(each.sentence for each in explained(alone, entry, exact)))


def _as_kept(sure: Sure) -> list[Any]:
    return [{name: [each.u, each.budget] for name, each in sure.spreads.items()}, sure.explained]


def _as_it_was(known: Any) -> Sure:
    spreads, sentences = known
    return Sure(
        {name: Spread(u, budget) for name, (u, budget) in spreads.items()},
        tuple(sentences) if sentences is not None else None,
    )


def figures(facts: Facts) -> dict[str, Any]:
    """The figures of a batch by column, as plain numbers or as numbers that carry their uncertainty."""
    acid = facts.acidity
    return {
        "acid_value_mg_koh_per_g": acid.acid_value_mg_koh_per_g if acid else None,
        "ffa_pct": acid.ffa_pct if acid else None,
        "titration_spread_pct": acid.spread_pct if acid else None,
        **{name: getattr(facts, name) for name in _SAME},
        **_titrated("soap_feed", facts.soap_feed),
        **_titrated("soap_between", facts.soap_between),
        **_titrated("soap_product", facts.soap_product),
        **_titrated("catalyst_feed", facts.catalyst_feed),
        **_titrated("catalyst_product", facts.catalyst_product),
        "assumed_temperatures": ", ".join(facts.assumed) or None,
    }


def _titrated(name: str, result: Soap | None) -> dict[str, Any]:
    """A titrated content; where nothing was detected its detection limit, which has no ± of its own.

    Where its readings are bounds it is no number, and stands between its ends.
    """
    value = low = high = None
    if result is not None:
        value = {FOUND: result.mg_per_kg, NOT_FOUND: result.limit_mg_per_kg}.get(result.known)
        low, high = plain(result.low_mg_per_kg), known(plain, result.high_mg_per_kg)
    return {
        f"{name}_mg_per_kg": value,
        f"{name}_limit_mg_per_kg": result.limit_mg_per_kg if result else None,
        f"{name}_detected": None if result is None else result.known,
        f"{name}_low_mg_per_kg": low,
        f"{name}_high_mg_per_kg": high,
    }
