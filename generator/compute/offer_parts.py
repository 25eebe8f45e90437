"""What a litre of the fuel of an offer is expected to cost, part by part: its own oil, way and base, and all else as of late."""

from __future__ import annotations

from collections.abc import Mapping

from generator.compute.worth import OnOffer, Worth
from generator.formulas.economics import catalyst_cost_per_l, cost_per_l
from generator.ledger.batch_facts import known

OWN = ("oil", "haulage", "catalyst")
ROUNDING = "middle"  # the middle of recent batches less their mean, so that the parts add up


def parts_of(held: OnOffer, worth: Worth) -> Mapping[str, float] | None:
    """By part, per litre; they add up to the cost to expect with media, labour on top of it. None where that cost is unknown."""
    cost, fuel_l, mean = worth.cost_per_l[1], worth.fuel_l[1], dict(held.own.parts)
    oil = known(lambda asked, units: asked * units, worth.terms.asked, held.units)
    if cost is None or fuel_l is None or oil is None or not mean:
        return None
    labour = mean.pop("labour", None)
    base = known(
        lambda dose, per_kg: catalyst_cost_per_l(dose, worth.usable_l, fuel_l, per_kg),
        worth.dose_g_per_l,
        held.own.base_per_kg,
    )
    found = {
        "oil": cost_per_l(oil, fuel_l),
        "haulage": cost_per_l(held.haulage or 0.0, fuel_l),
        **mean,
        **({"catalyst": base} if base is not None else {}),
    }
    found[ROUNDING] = cost - sum(found.values())
    return {**found, **({"labour": labour} if labour is not None else {})}
