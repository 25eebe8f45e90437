"""An offer with all that stays as it is while its terms are moved: its amount, the way to it, what its catalyst costs."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import pandas as pd

from generator.compute.own_record import OwnRecord
from generator.compute.worth import OnOffer
from generator.formulas.economics import haulage_cost
from generator.ledger.basis import amount, material_density_line
from generator.ledger.bench import purity_pct
from generator.ledger.money import own_rate_on, total_of
from generator.ledger.oil_store import OilStore
from generator.log import Log
from generator.records import Catalyst, Offer


def on_offer(
    log: Log,
    offer: Offer,
    own: OwnRecord,
    lots: pd.DataFrame,
    diesel_per_l: Decimal | None,
    store: OilStore | None,
) -> OnOffer:
    """Gather all that does not move; `lots` are those that were there on its day."""
    line = material_density_line(log, "oil", offer.material)
    one = replace(offer.asked, amount=Decimal(1))
    units = total_of(log, one, offer.quantity, offer.material)
    target = log.settings.target_cost
    return OnOffer(
        log=log,
        offer=offer,
        own=own,
        litres=amount(log, offer.quantity, line).litres,
        units=float(units) if units is not None else None,
        haulage=_haulage(log, offer),
        line=line,
        base_per_kg=_base_per_kg(log, lots),
        target_per_l=float(target.amount / target.per.factor)
        if target is not None and target.per is not None
        else None,
        diesel_per_l=float(diesel_per_l) if diesel_per_l is not None else None,
        store=store,
    )


def _haulage(log: Log, offer: Offer) -> float | None:
    rate = own_rate_on(log.settings.collection_rate, offer.offered)
    if offer.distance is None or rate is None:
        return None
    return float(haulage_cost(rate, offer.distance.exact))


def _base_per_kg(log: Log, lots: pd.DataFrame) -> float | None:
    """What a kilogram of pure base of the rule costs, by the last lot of it that was bought by mass and has a price."""
    rule = log.settings.dose
    bought = lots[(lots["kind"] == "catalyst") & (lots["unit"] == "kg")].dropna(subset=["unit_cost"])
    for lot, cost in zip(
        reversed(bought["lot"].tolist()), reversed(bought["unit_cost"].tolist()), strict=True
    ):
        entry, purity = log.material_of(lot), purity_pct(log, lot)
        if (
            rule is not None
            and purity is not None
            and entry is not None
            and isinstance(entry.record, Catalyst)
            and entry.record.of == rule.of
            and entry.record.solvent is None
        ):
            return float(cost) / (purity / 100)
    return None
