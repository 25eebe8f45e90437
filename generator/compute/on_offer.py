"""An offer with all that stays as it is while its terms are moved: its amount, the way to it, what its catalyst costs."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

from generator.compute.own_record import OwnRecord
from generator.compute.worth import OnOffer
from generator.formulas.economics import haulage_cost
from generator.ledger.basis import amount, material_density_line
from generator.ledger.money import own_rate_on, total_of
from generator.ledger.oil_store import OilStore
from generator.log import Log
from generator.records import Offer


def on_offer(
    log: Log, offer: Offer, own: OwnRecord, diesel_per_l: Decimal | None, store: OilStore | None
) -> OnOffer:
    """Gather all that does not move; `own` is the record of its day."""
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
