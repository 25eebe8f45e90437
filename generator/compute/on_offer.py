"""An offer with all that stays as it is while its terms are moved: its amount, the way to it, what its catalyst costs."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

from generator.compute.own_record import OwnRecord
from generator.compute.worth import OnOffer
from generator.formulas.economics import haulage_cost
from generator.ledger.basis import amount, material_density_line
from generator.ledger.bench import purity_pct
from generator.ledger.ledgers import Ledgers
from generator.ledger.money import own_rate_on, total_of
from generator.ledger.oil_store import OilStore
from generator.log import Log
from generator.records import Catalyst, Offer


def on_offer(
    ledgers: Ledgers, offer: Offer, own: OwnRecord, diesel_per_l: Decimal | None, store: OilStore | None
) -> OnOffer:
    """Gather all that does not move; `ledgers` are those of its day."""
    log = ledgers.log
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
        base_per_kg=_base_per_kg(ledgers),
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


def _base_per_kg(ledgers: Ledgers) -> float | None:
    """What a kilogram of pure base of the rule costs, by the last lot of it that was bought by mass and has a price."""
    log, rule = ledgers.log, ledgers.log.settings.dose
    for entry in sorted(log.lots.values(), key=lambda lot: (lot.record.received, lot.id), reverse=True):
        material, purity, cost = (
            log.material_of(entry.id),
            purity_pct(log, entry.id),
            ledgers.unit_costs[entry.id],
        )
        if (
            rule is not None
            and purity is not None
            and cost is not None
            and ledgers.accounts[entry.id].unit == "kg"
            and material is not None
            and isinstance(material.record, Catalyst)
            and material.record.of == rule.of
            and material.record.solvent is None
        ):
            return float(cost) / (purity / 100)
    return None
