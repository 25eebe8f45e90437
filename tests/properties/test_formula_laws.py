"""Laws of the formulas: proportion, order, conservation, and ways there and back."""

from __future__ import annotations

import random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.formulas.acidity import (
    acid_value_mg_koh_per_g,
    base_demand_from_acid_value_mol_per_kg,
    base_demand_mol_per_kg,
    ffa_pct,
    spread_pct,
    titrant_at_standard_temperature_ml,
    titrant_mol_per_l,
)
from generator.formulas.columns import (
    bed_volumes,
    bed_volumes_per_h,
    empty_bed_contact_min,
    share_pct,
    superficial_velocity_m_per_h,
    taken_up_g,
)
from generator.formulas.constants import molar_mass
from generator.formulas.density import density_kg_per_m3, mass_kg, volume_at_reference_l
from generator.formulas.dose import base_rate_g, methanol_molar_ratio, neutralising_g
from generator.formulas.economics import cost_per_l, diesel_equivalent_l, price_at_target
from generator.formulas.profile import iodine_value_g_per_100_g, saponification_value_mg_koh_per_g
from generator.formulas.soap import acid_rise_mg_koh_per_g, soap_detection_limit_mg_per_kg, soap_mg_per_kg
from generator.formulas.statistics import individuals_limits
from generator.formulas.stoichiometry import (
    ester_ceiling_kg,
    fatty_acid_from_triglyceride_g_per_mol,
    glycerol_in_theory_kg,
    mean_fatty_acid_g_per_mol,
    methanol_consumed_kg,
    soap_from_ffa_kg,
    triglyceride_from_saponification_g_per_mol,
    triglyceride_g_per_mol,
    water_from_ffa_kg,
)
from generator.formulas.tanks import vertical_cylinder_l

from .law import BURETTE_ML, FFA_PCT, LAW, OIL_KG, PROFILES, PURITY_PCT, SAMPLE_G, between

NEAR = 1e-9
BASES = st.sampled_from(["KOH", "NaOH"])


@LAW
@given(BURETTE_ML, BURETTE_ML, between(0.001, 1), SAMPLE_G)
def test_doubling_the_sample_halves_the_demand(v: float, b: float, c: float, m: float) -> None:
    assert base_demand_mol_per_kg(v, b, c, 2 * m) == pytest.approx(base_demand_mol_per_kg(v, b, c, m) / 2)


@LAW
@given(BURETTE_ML, between(0.001, 1), SAMPLE_G)
def test_a_reading_equal_to_the_blank_is_no_acid(v: float, c: float, m: float) -> None:
    assert acid_value_mg_koh_per_g(base_demand_mol_per_kg(v, v, c, m)) == 0


@LAW
@given(between(0, 200))
def test_acid_value_and_demand_go_there_and_back(acid_value: float) -> None:
    there = base_demand_from_acid_value_mol_per_kg(acid_value)
    assert acid_value_mg_koh_per_g(there) == pytest.approx(acid_value)


@LAW
@given(between(0, 3))
def test_acid_value_is_about_twice_the_free_acid(demand: float) -> None:
    assert acid_value_mg_koh_per_g(demand) == pytest.approx(56.1 / 28.2 * ffa_pct(demand))


@LAW
@given(BURETTE_ML, between(0, 40))
def test_a_titrant_at_its_own_temperature_keeps_its_volume(v: float, t: float) -> None:
    assert titrant_at_standard_temperature_ml(v, t, t) == v


@LAW
@given(st.lists(between(0.5, 50), min_size=1, max_size=8), between(0.01, 100))
def test_spread_does_not_hang_on_the_unit_or_the_order(readings: list[float], factor: float) -> None:
    scaled = [factor * each for each in reversed(readings)]
    assert spread_pct(scaled) == pytest.approx(spread_pct(readings), abs=NEAR)


@LAW
@given(BASES, between(0.1, 20), PURITY_PCT, between(0.1, 20), OIL_KG)
def test_titrant_of_the_lot_counts_its_purity_once(
    base: str, strength: float, purity: float, t: float, oil_l: float
) -> None:
    """1 mL of oil against its own lot: t times the strength is in grams as weighed, whatever the purity."""
    titrant = titrant_mol_per_l(strength, molar_mass(base), purity)
    demand = base_demand_mol_per_kg(t, 0, titrant, 0.92)
    grams = neutralising_g(demand, 0.92 * oil_l, molar_mass(base), purity)
    assert grams == pytest.approx(t * strength * oil_l)


@LAW
@given(between(0, 3), OIL_KG, PURITY_PCT)
def test_a_base_half_as_pure_is_weighed_twice(demand: float, oil_kg: float, purity: float) -> None:
    whole = neutralising_g(demand, oil_kg, 56.1, purity)
    assert neutralising_g(demand, oil_kg, 56.1, purity / 2) == pytest.approx(2 * whole)


@LAW
@given(between(1, 20), OIL_KG, PURITY_PCT)
def test_a_rule_carried_to_another_base_and_back_is_the_rule(
    rule: float, oil_l: float, purity: float
) -> None:
    potassium, sodium = molar_mass("KOH"), molar_mass("NaOH")
    as_sodium = base_rate_g(rule, potassium, 1, sodium, 100)
    assert base_rate_g(as_sodium, sodium, oil_l, potassium, purity) == pytest.approx(
        base_rate_g(rule, potassium, oil_l, potassium, purity)
    )


@LAW
@given(OIL_KG, PROFILES)
def test_three_moles_of_methanol_are_what_is_consumed(oil_kg: float, profile: dict[str, float]) -> None:
    triglyceride = triglyceride_g_per_mol(mean_fatty_acid_g_per_mol(profile))
    consumed = methanol_consumed_kg(oil_kg, 0, triglyceride)
    assert methanol_molar_ratio(consumed, 100, oil_kg, triglyceride) == pytest.approx(3)


@LAW
@given(OIL_KG, OIL_KG, PURITY_PCT)
def test_only_the_methanol_in_the_methanol_counts(methanol_kg: float, oil_kg: float, purity: float) -> None:
    pure_kg = methanol_kg * purity / 100
    assert methanol_molar_ratio(methanol_kg, purity, oil_kg, 870) == pytest.approx(
        methanol_molar_ratio(pure_kg, 100, oil_kg, 870)
    )


@LAW
@given(OIL_KG, FFA_PCT, PROFILES)
def test_oil_and_methanol_go_in_ester_and_glycerol_come_out(
    oil_kg: float, ffa: float, profile: dict[str, float]
) -> None:
    triglyceride = triglyceride_g_per_mol(mean_fatty_acid_g_per_mol(profile))
    goes_in = oil_kg * (1 - ffa / 100) + methanol_consumed_kg(oil_kg, ffa, triglyceride)
    comes_out = ester_ceiling_kg(oil_kg, ffa, triglyceride) + glycerol_in_theory_kg(oil_kg, ffa, triglyceride)
    assert goes_in == pytest.approx(comes_out, rel=NEAR)


@LAW
@given(OIL_KG, FFA_PCT, st.sampled_from([("NaOH", "sodium oleate"), ("KOH", "potassium oleate")]))
def test_acid_and_base_go_in_soap_and_water_come_out(
    oil_kg: float, ffa: float, pair: tuple[str, str]
) -> None:
    base, soap = pair
    moles_per_kg = ffa / 100 * 1000 / molar_mass("18:1")
    goes_in = oil_kg * ffa / 100 + neutralising_g(moles_per_kg, oil_kg, molar_mass(base), 100) / 1000
    comes_out = soap_from_ffa_kg(oil_kg, ffa, molar_mass(soap)) + water_from_ffa_kg(oil_kg, ffa)
    assert goes_in == pytest.approx(comes_out, rel=1e-6)  # the molar masses have five digits behind the point


@LAW
@given(PROFILES, st.integers(0, 1000), between(0.01, 100))
def test_neither_order_nor_scale_of_a_profile_matters(
    profile: dict[str, float], seed: int, factor: float
) -> None:
    names = list(profile)
    random.Random(seed).shuffle(names)
    other = {name: factor * profile[name] for name in names}
    for formula in (mean_fatty_acid_g_per_mol, saponification_value_mg_koh_per_g, iodine_value_g_per_100_g):
        assert formula(other) == pytest.approx(formula(profile), rel=NEAR)


@LAW
@given(PROFILES)
def test_a_mean_lies_between_its_parts(profile: dict[str, float]) -> None:
    masses = [molar_mass(acid) for acid in profile]
    assert min(masses) * (1 - NEAR) <= mean_fatty_acid_g_per_mol(profile) <= max(masses) * (1 + NEAR)


@LAW
@given(PROFILES)
def test_saponification_value_leads_back_to_the_triglyceride(profile: dict[str, float]) -> None:
    acid = mean_fatty_acid_g_per_mol(profile)
    found = triglyceride_from_saponification_g_per_mol(saponification_value_mg_koh_per_g(profile), 0)
    assert found == pytest.approx(triglyceride_g_per_mol(acid))
    assert fatty_acid_from_triglyceride_g_per_mol(found) == pytest.approx(acid)


@LAW
@given(between(1, 2000), between(0.4, 1.0), between(-10, 60), between(0, 25))
def test_mass_is_the_same_at_every_temperature(
    litres: float, slope: float, at: float, reference: float
) -> None:
    there, here = density_kg_per_m3(880, slope, reference, 15), density_kg_per_m3(880, slope, at, 15)
    carried = volume_at_reference_l(litres, here, there)
    assert mass_kg(carried, there) == pytest.approx(mass_kg(litres, here), rel=NEAR)
    assert volume_at_reference_l(carried, there, here) == pytest.approx(litres, rel=NEAR)


@LAW
@given(BURETTE_ML, BURETTE_ML, between(0.001, 0.1), SAMPLE_G)
def test_doubling_the_sample_halves_the_soap_and_the_limit(s: float, b: float, n: float, m: float) -> None:
    assert soap_mg_per_kg(s, b, n, 2 * m, 304.4) == pytest.approx(soap_mg_per_kg(s, b, n, m, 304.4) / 2)
    once, twice = (soap_detection_limit_mg_per_kg(0.05, 0.05, n, each, 304.4) for each in (m, 2 * m))
    assert twice == pytest.approx(once / 2)


@LAW
@given(between(0, 5000), st.sampled_from([304.4, 320.56]))
def test_exchanged_soap_and_the_acid_it_frees_are_the_same_moles(soap: float, g_per_mol: float) -> None:
    acid_mol_per_kg = acid_rise_mg_koh_per_g(soap, g_per_mol) / molar_mass("KOH")
    assert acid_mol_per_kg == pytest.approx(soap / 1000 / g_per_mol)


@LAW
@given(between(0.1, 500), between(0.1, 500), between(5, 100))
def test_contact_time_and_bed_volumes_are_one_figure(bed_l: float, flow: float, diameter: float) -> None:
    assert empty_bed_contact_min(bed_l, flow) * bed_volumes_per_h(flow, bed_l) == pytest.approx(60)
    depth_cm = superficial_velocity_m_per_h(flow, diameter) * empty_bed_contact_min(bed_l, flow) / 60 * 100
    assert vertical_cylinder_l(depth_cm, diameter) == pytest.approx(bed_l)
    assert bed_volumes(flow, bed_l) == pytest.approx(bed_volumes_per_h(flow, bed_l))


@LAW
@given(between(0, 5000), between(0, 5000), between(0, 5000), OIL_KG)
def test_lead_and_lag_together_take_up_what_is_gone(
    feed: float, mid: float, product: float, kg: float
) -> None:
    both = taken_up_g(feed, mid, kg) + taken_up_g(mid, product, kg)
    assert both == pytest.approx(taken_up_g(feed, product, kg), abs=1e-6)


@LAW
@given(st.lists(between(0.1, 1000), min_size=1, max_size=12))
def test_shares_of_a_whole_add_up_to_a_hundred(parts: list[float]) -> None:
    assert sum(share_pct(part, sum(parts)) for part in parts) == pytest.approx(100)


@LAW
@given(between(0.1, 5), between(0, 3), between(0.5, 1.1), OIL_KG)
def test_oil_at_the_highest_price_makes_fuel_at_the_target(
    target: float, other: float, fuel_per_oil: float, oil_l: float
) -> None:
    fuel_l = oil_l * fuel_per_oil
    paid = price_at_target(target, other, fuel_per_oil) * oil_l + other * fuel_l
    assert cost_per_l(paid, fuel_l) == pytest.approx(target)


@LAW
@given(OIL_KG, between(30, 36), between(30, 40))
def test_heat_goes_there_and_back(litres: float, fuel: float, diesel: float) -> None:
    assert diesel_equivalent_l(diesel_equivalent_l(litres, fuel, diesel), diesel, fuel) == pytest.approx(
        litres
    )


@LAW
@given(st.lists(between(-100, 100), min_size=2, max_size=30), between(-50, 50), between(0.1, 10))
def test_limits_move_and_stretch_with_the_values(values: list[float], shift: float, factor: float) -> None:
    plain, moved = individuals_limits(values), individuals_limits([factor * each + shift for each in values])
    for before, after in (
        (plain.centre, moved.centre),
        (plain.lower, moved.lower),
        (plain.upper, moved.upper),
    ):
        assert after == pytest.approx(factor * before + shift, abs=1e-7)
    assert plain.lower <= plain.centre <= plain.upper
