"""Why a litre cost more or less than before: two periods, and what prices, amounts, yield and mix did to the difference.

The parts add up to the whole difference. Each period is its cost over its fuel, so that a large batch counts for more. What a batch
cost that gave no fuel is borne by the fuel of the period it falls into, as a part of its own: money does not vanish with the fuel.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, timedelta
from typing import Any

import pandas as pd

from generator.compute.costs import SELDOM, bases_of, methanol_of
from generator.compute.frames import frame, plain_rows
from generator.formulas.bridge import effect_of_three, effect_of_two
from generator.formulas.economics import cost_per_l
from generator.formulas.statistics import rank_sum_z, two_sided_p
from generator.language import tell
from generator.ledger.ledgers import Ledgers
from generator.ledger.stock import counted
from generator.records import Use
from generator.tables import BRIDGE

PERIOD = 10  # batches
LEAST = 5  # batches of a year
PAID = {
    "media": tell("media"),
    "overheads": tell("overheads"),
    "other": tell("other costs"),
    "credits": tell("credits"),
}
FAILED = tell("batches without fuel")
LATEST = date.max.isoformat()
Bought = tuple[float, float]  # an amount, and what it cost


@dataclass(slots=True)
class Spent:
    """What the batches of a period took and made: amounts with their cost; fuel in L, oil in L, the rest in kg or kWh."""

    fuel_l: float = 0.0
    oils: dict[str, Bought] = field(default_factory=dict)
    bought: dict[str, Bought] = field(default_factory=dict)
    paid: dict[str, float] = field(default_factory=dict)

    @property
    def oil(self) -> Bought:
        """All oil, L, and its cost."""
        return sum(one for one, _ in self.oils.values()), sum(cost for _, cost in self.oils.values())

    @property
    def cost(self) -> float:
        """All cost."""
        return self.oil[1] + sum(cost for _, cost in self.bought.values()) + sum(self.paid.values())


def bridges(ledgers: Ledgers, costs: pd.DataFrame) -> pd.DataFrame:
    """The last batches against those before, and the last year against the one before; one row a part, none where too few."""
    everyone = plain_rows(costs)
    rows = [row for row in everyone if row["with_media_per_l"] is not None]
    failed = without_fuel(everyone)
    pairs: list[tuple[str, Sequence[Mapping[str, Any]], Sequence[Mapping[str, Any]]]] = (
        [("last", rows[-2 * PERIOD : -PERIOD], rows[-PERIOD:])] if len(rows) >= 2 * PERIOD else []
    )
    years: dict[str, list[Mapping[str, Any]]] = {}
    for row in rows:
        years.setdefault(row["date"][:4], []).append(row)
    full = [year for year, found in years.items() if len(found) >= LEAST]
    if len(full) > 1:
        pairs.append(("year", years[full[-2]], years[full[-1]]))
    return frame(BRIDGE, [row for name, *both in pairs for row in _rows(ledgers, name, failed, *both)])


def _rows(
    ledgers: Ledgers,
    name: str,
    failed: Sequence[Mapping[str, Any]],
    before: Sequence[Mapping[str, Any]],
    after: Sequence[Mapping[str, Any]],
) -> Iterator[dict[str, Any]]:
    first, last = spent(ledgers, before), spent(ledgers, after)
    if failed:
        for side, (from_, until) in zip((first, last), _days(name, before, after), strict=True):
            side.paid[FAILED] = lost_in(failed, from_, until)
    costs, later = ([row["with_media_per_l"] for row in side] for side in (before, after))
    by_chance = two_sided_p(rank_sum_z(costs, later)) if len({*costs, *later}) > 1 else None
    for part, change in parts(first, last).items():
        yield {
            "bridge": name,
            "before_from": before[0]["date"],
            "before_until": before[-1]["date"],
            "before_batches": len(before),
            "before_per_l": cost_per_l(first.cost, first.fuel_l),
            "after_from": after[0]["date"],
            "after_until": after[-1]["date"],
            "after_batches": len(after),
            "after_per_l": cost_per_l(last.cost, last.fuel_l),
            "part": part,
            "change_per_l": change,
            "by_chance": by_chance,
        }


def _days(
    name: str, before: Sequence[Mapping[str, Any]], after: Sequence[Mapping[str, Any]]
) -> tuple[tuple[str, str], tuple[str, str]]:
    """The days of both periods, each after its first one until its last: whole years, or up to the other period and to the end."""
    if name == "year":
        years = [side[0]["date"][:4] for side in (before, after)]
        return (years[0], f"{years[0]}-12-31"), (years[1], f"{years[1]}-12-31")
    first, last = before[0]["date"], before[-1]["date"]
    return (_day_before(first), last), (last, LATEST)


def _day_before(day: str) -> str:
    return (date.fromisoformat(day) - timedelta(days=1)).isoformat()


def without_fuel(rows: Sequence[Mapping[str, Any]]) -> list[Mapping[str, Any]]:
    """The batches that gave no fuel, and of whose cost something is known."""
    return [row for row in rows if row["failed"] and row["known_cost"] is not None]


def lost_in(failed: Sequence[Mapping[str, Any]], after: str, until: str = LATEST) -> float:
    """What the batches without fuel cost that come after a day, until another one."""
    return float(sum(row["known_cost"] for row in failed if after < row["date"] <= until))


def spent(ledgers: Ledgers, rows: Sequence[Mapping[str, Any]]) -> Spent:
    """What the batches of these rows of costs took together. All their costs are known."""
    found = Spent()
    for row in rows:
        batch = ledgers.log.batches[row["batch"]].record
        found.fuel_l += row["fuel_l"]
        for use in batch.oil:
            cost = ledgers.inventory.cost_of(use, batch.date, batch.batch)
            assert cost is not None
            _add(
                found.oils, ledgers.log.lots[use.lot].record.material, _taken(ledgers, use, "L"), float(cost)
            )
        for name, uses in (("methanol", methanol_of(batch)), ("catalyst", bases_of(batch))):
            _add(found.bought, name, sum(_taken(ledgers, use, "kg") for use in uses), row[name])
        _add(found.bought, "energy", batch.energy.value if batch.energy is not None else 0.0, row["energy"])
        for name, part in PAID.items():
            found.paid[part] = found.paid.get(part, 0.0) + row[name]
    return found


def _taken(ledgers: Ledgers, use: Use, unit: str) -> float:
    """How much was taken of a lot; what cannot be carried to the unit counts as it is kept."""
    log = ledgers.log
    found = counted(log, use.amount, use.lot, unit)
    found = counted(log, use.amount, use.lot, ledgers.accounts[use.lot].unit) if found is None else found
    assert found is not None  # it has a cost
    return float(found)


def _add(to: dict[str, Bought], name: str, more: float, paid: float) -> None:
    one, cost = to.get(name, (0.0, 0.0))
    to[name] = (one + more, cost + paid)


def parts(before: Spent, after: Spent) -> dict[str, float]:
    """What each part did to the cost of a litre; together the whole difference."""
    oil = [each.oil[0] / each.fuel_l for each in (before, after)]  # L of oil for a litre of fuel
    price = [each.oil[1] / each.oil[0] for each in (before, after)]
    within, mix = _prices(before, after)
    share = sum(oil) / 2
    found = {
        tell("price of oil"): within * share,
        tell("mix of oils"): mix * share,
        tell("yield"): effect_of_two(oil[0], oil[1], price[0], price[1]),
    }
    for name in ("methanol", "catalyst"):
        pair = [each.bought.get(name, (0.0, 0.0)) for each in (before, after)]
        if any(not one for one, _ in pair):
            found[tell("{what} used", what=name)] = pair[1][1] / after.fuel_l - pair[0][1] / before.fuel_l
            continue
        paid = [cost / one for one, cost in pair]
        dose = [one / each.oil[0] for (one, _), each in zip(pair, (before, after), strict=True)]
        found[tell("price of {of}", of=name)] = effect_of_three(*paid, *dose, *oil)
        found[tell("{what} used", what=name)] = effect_of_three(*dose, *paid, *oil)
        found["yield"] += effect_of_three(*oil, *paid, *dose)
    power = [each.bought["energy"] for each in (before, after)]
    used = [one / each.fuel_l for (one, _), each in zip(power, (before, after), strict=True)]
    if all(used):
        tariff = [cost / one for one, cost in power]
        found[tell("price of electricity")] = effect_of_two(*tariff, *used)
        found[tell("energy used")] = effect_of_two(*used, *tariff)
    else:
        found[tell("energy used")] = power[1][1] / after.fuel_l - power[0][1] / before.fuel_l
    for name, part in {**PAID, "failed": FAILED}.items():
        paid = [each.paid.get(part, 0.0) for each in (before, after)]
        if any(paid) or name not in (*SELDOM, "failed"):
            found[part] = paid[1] / after.fuel_l - paid[0] / before.fuel_l
    return found


def _prices(before: Spent, after: Spent) -> tuple[float, float]:
    """The change of the mean price of oil, apart: by prices within each material, and by what share each one had."""
    within = mix = 0.0
    for material in sorted({*before.oils, *after.oils}):
        prices: list[float | None] = []
        shares = []
        for each in (before, after):
            litres, cost = each.oils.get(material, (0.0, 0.0))
            prices.append(cost / litres if litres else None)
            shares.append(litres / each.oil[0])
        first, last = (one if one is not None else other for one, other in (prices, prices[::-1]))
        assert first is not None and last is not None  # it was used in one of the two
        within += effect_of_two(first, last, *shares)
        mix += effect_of_two(shares[0], shares[1], first, last)
    return within, mix
