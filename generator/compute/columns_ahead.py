"""What lies before a bed in service: what is left of it, what the planned batches will leave in it, what a lower feed is worth."""

from __future__ import annotations

import math
from typing import Any

import pandas as pd

from generator.compute.frames import frame
from generator.formulas.columns import media_kg_per_1000_l, share_pct
from generator.formulas.economics import cost_per_l, media_cost
from generator.ledger.batch_facts import known
from generator.ledger.charges import Charge
from generator.ledger.forecast import Forecast, what_if
from generator.ledger.interval import Range
from generator.ledger.ledgers import Ledgers
from generator.ledger.states import passing_pct
from generator.tables import COMING, OFFER_BEDS, WHAT_IF


def what_ifs(ledgers: Ledgers) -> pd.DataFrame:
    """For every first bed in service, what a lower feed would be worth; one row for each step down."""
    rows = []
    for charge in ledgers.columns.in_service():
        for found in what_if(charge, ledgers.forecasts[charge.id]):
            rows.append(
                {
                    "charge": charge.id,
                    "lower_mg_per_kg": found.lower_mg_per_kg,
                    **_ends_of("batches_left", found.batches),
                    **_ends_of("litres_left", found.litres),
                    "life_l": found.life_l,
                    "media_per_1000_l": known(media_kg_per_1000_l, charge.pack.mass.value, found.life_l),
                    "cost_per_l": known(cost_per_l, ledgers.media[charge.id].cost, found.life_l),
                }
            )
    return frame(WHAT_IF, rows)


def coming(ledgers: Ledgers) -> pd.DataFrame:
    """What every planned batch will leave in the beds of its purifier and cost there; one row for each bed."""
    rows = []
    for charge in sorted(ledgers.columns.in_service(), key=lambda one: (one.purifier, one.place)):
        forecast, per_l = ledgers.forecasts[charge.id], ledgers.media[charge.id].per_l
        for one in forecast.coming:
            rows.append(
                {
                    "batch": one.batch,
                    "charge": charge.id,
                    "vessel": charge.vessel.vessel,
                    "position": charge.position,
                    "litres": one.litres,
                    **_ends_of("brings_g", one.grams),
                    **_ends_of("left_g", forecast.left_g),
                    "cost": known(media_cost, per_l, one.litres),
                }
            )
    return frame(COMING, rows)


def offered(ledgers: Ledgers, offers: pd.DataFrame) -> pd.DataFrame:
    """What part of what is left of every bed in service an open offer would take; one row for each offer and bed."""
    rows = []
    standing = offers[(offers["state"] == "open")].dropna(subset=["fuel_l"])
    beds = sorted(ledgers.columns.in_service(), key=lambda one: (one.purifier, one.place))
    for offer, fuel in zip(standing["offer"], standing["fuel_l"].astype(float), strict=True):
        for charge in beds:
            left = ledgers.forecasts[charge.id].litres
            share = Range(fuel, fuel, fuel).over(left) if left is not None else None
            rows.append(
                {
                    "offer": offer,
                    "charge": charge.id,
                    "vessel": charge.vessel.vessel,
                    "position": charge.position,
                    "fuel_l": fuel,
                    **_ends_of("litres_left", left),
                    **_ends_of("share_pct", share.times(100.0) if share is not None else None),
                    "charge_share_pct": known(share_pct, fuel, ledgers.media[charge.id].expected_l or None),
                    "cost": known(media_cost, ledgers.media[charge.id].per_l, fuel),
                }
            )
    return frame(OFFER_BEDS, rows)


def ahead(charge: Charge, forecast: Forecast | None) -> dict[str, Any]:
    """What is left of a bed in service: grams, batches, litres, days."""
    passes = passing_pct(charge)
    found: dict[str, Any] = {
        "passing_low_pct": passes.low if passes is not None else None,
        "passing_high_pct": passes.high if passes is not None else None,
    }
    if forecast is None:
        return found
    ranges = {
        "left_g": forecast.left_g,
        "per_batch_g": forecast.per_batch_g,
        "batches_left": forecast.batches,
        "litres_left": forecast.litres,
    }
    for name, value in ranges.items():
        found |= _ends_of(name, value)
    for end, day in zip(("low", "middle", "high"), forecast.until or (None, None, None), strict=True):
        found[f"until_{end}"] = day.isoformat() if day is not None else None
    found["glycerol_batches_left"] = forecast.glycerol_batches
    return found | {"planned": len(forecast.coming), "planned_g": forecast.coming_g}


def _ends_of(name: str, value: Range | None) -> dict[str, float | None]:
    """The three figures of a range; None for a high one without end."""
    if value is None:
        return dict.fromkeys((f"{name}_low", f"{name}_middle", f"{name}_high"))
    high = value.high if math.isfinite(value.high) else None
    return {f"{name}_low": value.low, f"{name}_middle": value.middle, f"{name}_high": high}
