"""One row per offer: the fuel to expect, what a litre of it would cost, the highest price at the workshop's target.

The range comes from this workshop's own record where there is one, else the oil's chemistry gives the ceiling alone.
"""

from __future__ import annotations

from dataclasses import dataclass
from statistics import median, quantiles
from typing import Any

import pandas as pd

from generator.compute.lots import acidity_of, result_of
from generator.compute.results import frame
from generator.formulas.constants import DensityLine, molar_mass
from generator.formulas.dose import base_rate_g, neutralising_g
from generator.formulas.economics import (
    expected_fuel_l,
    haulage_cost,
    offer_cost_per_l,
    price_after_haulage,
    price_at_target,
    usable_l,
)
from generator.formulas.stoichiometry import (
    ester_ceiling_kg,
)
from generator.ledger.basis import FUEL, amount, density_line, material_density_line
from generator.ledger.batch_facts import known
from generator.ledger.bench import Acidity
from generator.ledger.dose import lies_above
from generator.ledger.facts import profile_g_per_mol
from generator.ledger.money import total_of
from generator.log import Entry, Log
from generator.records import Offer, Oil
from generator.tables import OFFERS

LEAST_BATCHES = 5
LIKE_MG_KOH_PER_G = 1.0
RECENT = 24


@dataclass(frozen=True, slots=True)
class Record:
    """What this workshop's own batches say: yields as fractions, cost beside the oil, loss in preparation."""

    low: float | None
    middle: float | None
    high: float | None
    basis: str
    other: tuple[float, float, float] | None
    loss_share: float


def offers(log: Log, batches: pd.DataFrame, costs: pd.DataFrame, lots: pd.DataFrame) -> pd.DataFrame:
    """All offers, open ones first by cost, then by day; one row each.

    One that is settled is judged by what the workshop knew on that day, so that its forecast can be held against what came.
    """
    rows = []
    for entry in log.offers.values():
        day = _settled(log, entry.record)
        known_then = [
            data[data[column] < day] if day is not None else data
            for data, column in ((batches, "date"), (costs, "date"), (lots, "received"))
        ]
        rows.append({**_row(log, entry, *known_then), **_came(entry.record, lots)})
    data = frame(OFFERS, [{**row, **_score(row)} for row in rows])
    rank = data["state"].map({"open": 0, "bought": 1, "declined": 2, "expired": 3})
    keys = data.assign(rank=rank, cost=pd.to_numeric(data["cost_per_l"]))
    order = keys.sort_values(["rank", "cost", "offered", "offer"], na_position="last").index
    return data.loc[order].reset_index(drop=True)


def _settled(log: Log, offer: Offer) -> str | None:
    """The day on which it was bought, declined or left; None while it is open."""
    bought = log.lots.get(offer.bought_as) if offer.bought_as is not None else None
    state = _state(log, offer)
    day = {
        "bought": bought.record.received if bought is not None else offer.offered,
        "declined": offer.declined,
        "expired": offer.valid_until,
    }.get(state)
    return day.isoformat() if day is not None else None


def _came(offer: Offer, lots: pd.DataFrame) -> dict[str, Any]:
    """What the fuel made of a lot that was bought did cost, and its yield; nothing before it was used."""
    bought = lots[lots["lot"] == offer.bought_as] if offer.bought_as is not None else lots.iloc[:0]
    if bought.empty:
        return {}
    lot = bought.iloc[0]
    names = {"came_cost_per_l": "fuel_cost_per_l", "came_yield_pct": "yield_volume_pct"}
    return {name: None if pd.isna(lot[of]) else float(lot[of]) for name, of in names.items()}


def _score(row: dict[str, Any]) -> dict[str, Any]:
    """The forecast of an offer against what came."""
    came, low, high = row.get("came_cost_per_l"), row["cost_low_per_l"], row["cost_high_per_l"]
    return {
        "missed_by_per_l": known(lambda cost, told: cost - told, came, row["cost_per_l"]),
        "within": None
        if came is None or low is None or high is None
        else "yes"
        if low <= came <= high
        else "no",
    }


def record_for(
    acid: Acidity | None, batches: pd.DataFrame, costs: pd.DataFrame, lots: pd.DataFrame
) -> Record:
    """Yields of batches with oil like this one (acid value within 1 mg KOH/g), or of all where those are too few."""
    finished = batches.dropna(subset=["yield_volume_pct"])
    acids = finished["acid_value_mg_koh_per_g"].astype(float)
    near, like, basis = finished, "", "chemistry: the ceiling only"
    if acid is not None and acids.notna().any():
        near = finished[(acids - acid.acid_value_mg_koh_per_g).abs() <= LIKE_MG_KOH_PER_G]
        like = " of like acidity"
        if near.empty:
            basis = f"chemistry: the ceiling only; own batches had acid values of {acids.min():.1f} to {acids.max():.1f}"
        elif len(near) < LEAST_BATCHES:
            near, like = finished, ""
    yields = near["yield_volume_pct"].astype(float).div(100).tolist()[-RECENT:]
    other = (costs["with_media_per_l"] - costs["oil_per_l"]).dropna().tolist()[-RECENT:]
    used = lots[(lots["kind"] == "oil") & (lots["quantity"] > 0) & (lots["lost"] > 0)]
    losses = (used["lost"] / used["quantity"]).astype(float).tolist()
    low, middle, high = _quartiles(yields) or (None, None, None)
    if low is not None:
        basis = f"own record, {len(yields)} batches{like}"
    return Record(low, middle, high, basis, _quartiles(other), median(losses) if losses else 0.0)


def _quartiles(values: list[float]) -> tuple[float, float, float] | None:
    """The quartiles of at least five values."""
    if len(values) < LEAST_BATCHES:
        return None
    low, middle, high = quantiles(values, n=4)
    return float(low), float(middle), float(high)


def _row(
    log: Log, entry: Entry[Offer], batches: pd.DataFrame, costs: pd.DataFrame, lots: pd.DataFrame
) -> dict[str, Any]:
    offer = entry.record
    line = material_density_line(log, "oil", offer.material)
    offered = amount(log, offer.quantity, line)
    acid = acidity_of(log, offer.tests, line)
    own = record_for(acid, batches, costs, lots)
    usable = usable_l(offered.litres, own.loss_share)
    asked = total_of(log, offer.asked, offer.quantity, offer.material)
    haulage = _haulage(log, offer)
    high = own.high if own.high is not None else _ceiling(log, offer, acid, line)
    fuel = [known(expected_fuel_l, share, usable) for share in (own.low, own.middle, high)]
    oil_cost = known(lambda price: price + (haulage or 0.0), float(asked) if asked is not None else None)
    other = own.other or (None, None, None)
    cost = [
        known(offer_cost_per_l, oil_cost, litres, rest)
        for litres, rest in zip(fuel, reversed(other), strict=True)
    ]
    target = log.settings.target_cost
    target_per_l = (
        float(target.amount / target.per.factor) if target is not None and target.per is not None else None
    )
    highest = known(
        lambda goal, other, litres: price_after_haulage(
            price_at_target(goal, other, litres / offered.litres), haulage or 0.0, offered.litres
        ),
        target_per_l,
        other[1],
        fuel[1],
    )
    water = result_of(offer.tests, "water")
    return {
        "offer": entry.id,
        "material": offer.material,
        "offered": offer.offered.isoformat(),
        "valid_until": offer.valid_until.isoformat() if offer.valid_until else None,
        "state": _state(log, offer),
        "lot": offer.bought_as,
        "quantity_l": offered.litres,
        "asked_per_l": known(
            lambda whole: whole / offered.litres, float(asked) if asked is not None else None
        ),
        "haulage": haulage,
        "acid_value_mg_koh_per_g": acid.acid_value_mg_koh_per_g if acid else None,
        "ffa_pct": acid.ffa_pct if acid else None,
        "water_mg_per_kg": water,
        "usable_l": usable,
        "dose_g_per_l": _dose(log, acid, line),
        "fuel_low_l": fuel[0],
        "fuel_l": fuel[1],
        "fuel_high_l": fuel[2],
        "yield_basis": own.basis,
        "other_cost_per_l": other[1],
        "cost_low_per_l": cost[2],
        "cost_per_l": cost[1],
        "cost_high_per_l": cost[0],
        "target_per_l": target_per_l,
        "highest_price_per_l": highest,
        "advice": _advice(log, acid, water),
        "unknown": _unknown(acid, water),
    }


def _state(log: Log, offer: Offer) -> str:
    if offer.bought_as is not None:
        return "bought"
    if offer.declined is not None:
        return "declined"
    return "expired" if offer.valid_until is not None and offer.valid_until < log.now() else "open"


def _haulage(log: Log, offer: Offer) -> float | None:
    rate = log.settings.collection_rate
    if offer.distance is None or rate is None or rate.per is None:
        return None
    return float(haulage_cost(rate.amount / rate.per.factor, offer.distance.exact))


def _ceiling(log: Log, offer: Offer, acid: Acidity | None, line: DensityLine) -> float | None:
    """Litres of ester per litre of oil at full conversion, both at the reference temperature."""
    material = log.materials.get(offer.material)
    if (
        material is None
        or not isinstance(material.record, Oil)
        or material.record.profile is None
        or acid is None
    ):
        return None
    molar = profile_g_per_mol(material.record.profile)
    oil_kg_per_l = line.at(log.reference_c) / 1000
    return ester_ceiling_kg(oil_kg_per_l, acid.ffa_pct, molar) / (
        density_line(log, FUEL).at(log.reference_c) / 1000
    )


def _dose(log: Log, acid: Acidity | None, line: DensityLine) -> float | None:
    rule = log.settings.dose
    if rule is None or acid is None:
        return None
    molar = molar_mass(rule.of)
    oil_kg_per_l = line.at(log.reference_c) / 1000
    need = neutralising_g(acid.demand_mol_per_kg, oil_kg_per_l, molar, 100.0)
    return need + base_rate_g(rule.base.value, molar, 1.0, molar, 100.0)


def _advice(log: Log, acid: Acidity | None, water: float | None) -> str | None:
    lines = log.settings.thresholds
    advice = []
    if lies_above(water, lines.water) and lines.water is not None:
        advice.append(f"dry it first: above the workshop's line of {lines.water.text} water")
    found = acid.acid_value_mg_koh_per_g if acid is not None else None
    if lies_above(found, lines.acid_value) and lines.acid_value is not None:
        advice.append(
            f"pre-treat or blend it: acid value {found:.1f}, above the workshop's line of {lines.acid_value.text}"
        )
    return "; ".join(advice) or None


def _unknown(acid: Acidity | None, water: float | None) -> str | None:
    missing = [name for name, value in (("titration", acid), ("water", water)) if value is None]
    return ", ".join(missing) or None
