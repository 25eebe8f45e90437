"""What chemistry alone says of an oil on offer: the most fuel it can give, and the methanol that becomes part of it."""

from __future__ import annotations

from generator.compute.own_record import OwnRecord
from generator.formulas.constants import DensityLine
from generator.formulas.dose import methanol_for_ratio_kg
from generator.formulas.economics import catalyst_cost_per_l
from generator.formulas.stoichiometry import ester_ceiling_kg, triglyceride_from_saponification_g_per_mol
from generator.ledger.basis import FUEL, density_line
from generator.ledger.batch_facts import known
from generator.ledger.facts import profile_g_per_mol
from generator.log import Log
from generator.records import Oil

METHYLS = 3.0  # of a triglyceride


def triglyceride_of(log: Log, material: str, acid_value_mg_koh_per_g: float | None) -> float | None:
    """Mean molar mass of the triglyceride of an oil by its profile or its saponification value, g/mol."""
    entry = log.materials.get(material)
    if entry is None or not isinstance(entry.record, Oil):
        return None
    if entry.record.profile is not None:
        return profile_g_per_mol(entry.record.profile)
    value = entry.record.saponification_value
    acid = acid_value_mg_koh_per_g or 0.0
    if value is None or acid > value.value / 2:  # the difference of two near values says nothing
        return None
    return triglyceride_from_saponification_g_per_mol(value.value, acid)


def ceiling_l(log: Log, line: DensityLine, g_per_mol: float, ffa_pct: float | None) -> float:
    """Litres of ester per litre of oil at full conversion, both at the reference temperature; without a titration those of an oil without acid."""
    at_c = log.reference_c
    oil, fuel = line.at(at_c) / 1000, density_line(log, FUEL).at(at_c) / 1000
    return ester_ceiling_kg(oil, ffa_pct or 0.0, g_per_mol) / fuel


def least_beside(
    own: OwnRecord,
    usable_kg: float,
    usable_l: float,
    dose_g_per_l: float | None,
    fuel_l: float | None,
    g_per_mol: float | None,
) -> float | None:
    """What a litre of fuel costs at least beside its oil: the methanol that becomes ester, and the base where a rule and a titration give it.

    What is used on top comes back or is lost; energy, media and hours come on top as well.
    """
    if own.methanol_per_kg is None or fuel_l is None or g_per_mol is None:
        return None
    methanol = methanol_for_ratio_kg(METHYLS, usable_kg, g_per_mol) * own.methanol_per_kg / fuel_l
    base = known(
        lambda dose, per_kg: catalyst_cost_per_l(dose, usable_l, fuel_l, per_kg),
        dose_g_per_l,
        own.base_per_kg,
    )
    return methanol + (base or 0.0)
