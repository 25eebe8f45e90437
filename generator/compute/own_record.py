"""What this workshop's own batches and lots say of an oil: yields, cost beside the oil, loss in preparation."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from statistics import median, quantiles

import pandas as pd

LEAST_BATCHES = 5
LIKE_MG_KOH_PER_G = 1.0
RECENT = 24

TIERS = {"cash": "cash_per_l", "media": "with_media_per_l", "labour": "with_labour_per_l"}
Quartiles = tuple[float, float, float]


@dataclass(frozen=True, slots=True)
class Made:
    """One finished batch: its acid value where it was titrated, its fuel per litre of oil."""

    acid_value_mg_koh_per_g: float | None
    fuel_l_per_oil_l: float


@dataclass(frozen=True, slots=True)
class Yields:
    """Fuel per litre of oil to expect, low to high; None for unknown. `basis` says which batches it rests on."""

    low: float | None
    middle: float | None
    high: float | None
    basis: str


@dataclass(frozen=True, slots=True)
class Beside:
    """What a litre of fuel costs in one tier: all but the oil, and all but oil and catalyst."""

    oil: Quartiles | None
    catalyst: Quartiles | None


@dataclass(frozen=True, slots=True)
class OwnRecord:
    """The record as it was on a day; `beside` by tier."""

    made: tuple[Made, ...]
    beside: Mapping[str, Beside]
    loss_share: float

    def yields_of(self, acid_value_mg_koh_per_g: float | None) -> Yields:
        """Of batches with oil like this one (acid value within 1 mg KOH/g), or of all where those are too few."""
        acids = [one.acid_value_mg_koh_per_g for one in self.made if one.acid_value_mg_koh_per_g is not None]
        near, like, basis = self.made, "", "chemistry: the ceiling only"
        if acid_value_mg_koh_per_g is not None and acids:
            near, like = _like(self.made, acid_value_mg_koh_per_g), " of like acidity"
            if not near:
                basis = f"chemistry: the ceiling only; own batches had acid values of {min(acids):.1f} to {max(acids):.1f}"
            elif len(near) < LEAST_BATCHES:
                near, like = self.made, ""
        yields = [one.fuel_l_per_oil_l for one in near][-RECENT:]
        low, middle, high = _quartiles(yields) or (None, None, None)
        if low is not None:
            basis = f"own record, {len(yields)} batches{like}"
        return Yields(low, middle, high, basis)


def own_record(batches: pd.DataFrame, costs: pd.DataFrame, lots: pd.DataFrame) -> OwnRecord:
    """The record that these tables hold, by date."""
    finished = batches.dropna(subset=["yield_volume_pct"])
    made = tuple(
        Made(None if pd.isna(acid) else float(acid), float(pct) / 100)
        for acid, pct in zip(finished["acid_value_mg_koh_per_g"], finished["yield_volume_pct"], strict=True)
    )
    used = lots[(lots["kind"] == "oil") & (lots["quantity"] > 0) & (lots["lost"] > 0)]
    losses = (used["lost"] / used["quantity"]).astype(float).tolist()
    return OwnRecord(
        made,
        {tier: _beside(costs, column) for tier, column in TIERS.items()},
        median(losses) if losses else 0.0,
    )


def _beside(costs: pd.DataFrame, tier: str) -> Beside:
    beside_oil = costs[tier] - costs["oil_per_l"]
    return Beside(
        _quartiles(beside_oil.dropna().tolist()[-RECENT:]),
        _quartiles((beside_oil - costs["catalyst_per_l"]).dropna().tolist()[-RECENT:]),
    )


def _like(made: tuple[Made, ...], acid_value: float) -> tuple[Made, ...]:
    return tuple(
        one
        for one in made
        if one.acid_value_mg_koh_per_g is not None
        and abs(one.acid_value_mg_koh_per_g - acid_value) <= LIKE_MG_KOH_PER_G
    )


def _quartiles(values: list[float]) -> Quartiles | None:
    """The quartiles of at least five values."""
    if len(values) < LEAST_BATCHES:
        return None
    low, middle, high = quantiles(values, n=4)
    return float(low), float(middle), float(high)
