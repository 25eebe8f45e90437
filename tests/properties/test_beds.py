"""Laws of beds: what is counted in parts is counted whole, a curve leads there and back, and more held is less left."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.formulas.breakthrough import (
    break_time_h,
    critical_depth_m,
    depth_service_time_h,
    gain_of_two,
    load_at_content_g,
    passing_share,
    unused_length,
)
from generator.formulas.columns import equivalents_mol, taken_up_g
from generator.formulas.hydraulics import ergun_kpa, like_drop_kpa, particle_reynolds
from generator.formulas.soap import acid_rise_mg_koh_per_g, soap_for_acid_value_mg_per_kg
from generator.formulas.statistics import theil_sen_slope
from generator.ledger.interval import Range

from .law import LAW, between

CONTENT, FUEL_KG = between(0, 5000), between(0.1, 500)
RUNS = st.lists(st.tuples(CONTENT, CONTENT, FUEL_KG), min_size=1, max_size=8)
HALF_G, VOID = between(10, 5000), between(0.3, 0.8)
NEAR = 1e-9


@LAW
@given(RUNS)
def test_soap_in_is_held_and_out_for_any_row_of_runs(runs: list[tuple[float, float, float]]) -> None:
    brought = sum(taken_up_g(before, 0, kg) for before, _, kg in runs)
    left = sum(taken_up_g(after, 0, kg) for _, after, kg in runs)
    held = sum(taken_up_g(before, after, kg) for before, after, kg in runs)
    assert held + left == pytest.approx(brought, abs=1e-6)


@LAW
@given(CONTENT, CONTENT, FUEL_KG, between(0, 1))
def test_splitting_a_run_changes_nothing(before: float, after: float, kg: float, part: float) -> None:
    parts = taken_up_g(before, after, part * kg) + taken_up_g(before, after, (1 - part) * kg)
    assert parts == pytest.approx(taken_up_g(before, after, kg), abs=1e-6)


@LAW
@given(between(1, 200), between(5, 200), between(5, 60))
def test_a_drop_carried_to_its_own_flow_differs_by_viscosity_alone(
    kpa: float, flow: float, at_c: float
) -> None:
    assert like_drop_kpa(kpa, flow, flow, 20) == pytest.approx(kpa)
    there = like_drop_kpa(kpa, flow, 2 * flow, at_c)
    assert there == pytest.approx(2 * like_drop_kpa(kpa, flow, flow, at_c))
    assert like_drop_kpa(there, 2 * flow, flow, 20) == pytest.approx(like_drop_kpa(kpa, flow, flow, at_c))


@LAW
@given(between(1e-5, 2e-3), VOID, between(0.2, 1.0), between(2, 10))
def test_slow_fuel_takes_pressure_in_proportion(u: float, void: float, mm: float, mpa_s: float) -> None:
    """Below a Reynolds number of 10 the correction to like flow errs by no more than the inertial share."""
    reynolds = particle_reynolds(u, mm, void, 870, mpa_s)
    once, twice = (ergun_kpa(n * u, 1, mm, void, 870, mpa_s) for n in (1, 2))
    inertial = 1.75 * reynolds / (150 + 1.75 * reynolds)
    assert twice == pytest.approx(2 * once * (1 + inertial), rel=1e-9)
    assert reynolds > 10 or inertial < 0.11


@LAW
@given(VOID, between(1e-5, 1e-2))
def test_two_beds_in_a_row_are_one_of_both_depths(void: float, u: float) -> None:
    parts = ergun_kpa(u, 0.3, 0.6, void, 870, 4) + ergun_kpa(u, 0.7, 0.6, void, 870, 4)
    assert parts == pytest.approx(ergun_kpa(u, 1.0, 0.6, void, 870, 4))


@LAW
@given(HALF_G, between(1, 40), between(0.001, 0.999))
def test_a_share_leads_to_a_load_and_back(half: float, steps: float, share: float) -> None:
    load = load_at_content_g(share * 900, 900, half, steps / half)
    assert passing_share(load, half, steps / half) == pytest.approx(share, rel=1e-6)


@LAW
@given(HALF_G, between(1, 40), between(0, 2), between(0, 2))
def test_a_bed_that_holds_more_lets_more_through(half: float, steps: float, a: float, b: float) -> None:
    less, more = sorted((a * half, b * half))
    assert passing_share(less, half, steps / half) <= passing_share(more, half, steps / half)


@LAW
@given(between(1e4, 1e5), between(500, 3000), between(0.5, 5), between(1e-3, 0.1), between(0.01, 0.4))
def test_a_bed_of_the_critical_depth_lasts_no_time(n: float, c: float, u: float, k: float, b: float) -> None:
    depth = critical_depth_m(n, c, u, k, b * c)
    assert depth_service_time_h(n, depth, c, u, k, b * c) == pytest.approx(0, abs=1e-9)
    longer = depth_service_time_h(n, depth + 0.5, c, u, k, b * c)
    assert longer == pytest.approx(n * 0.5 / (c * u))


@LAW
@given(between(20, 200), between(0, 0.9))
def test_what_stays_unused_is_gained_by_a_second_bed(depth: float, share: float) -> None:
    unused = unused_length(depth, 1 - share, 1)
    alone = break_time_h(depth, unused, 0.5, 0.3, 0.2)
    assert alone * gain_of_two(depth, unused) == pytest.approx(break_time_h(depth, 0, 0.5, 0.3, 0.2))


@LAW
@given(between(0, 2), between(0, 0.5), between(250, 350))
def test_soap_at_the_limit_raises_the_acid_to_it(limit: float, before: float, g_per_mol: float) -> None:
    soap = soap_for_acid_value_mg_per_kg(limit, before, g_per_mol)
    assert before + acid_rise_mg_koh_per_g(soap, g_per_mol) == pytest.approx(limit, abs=NEAR)


@LAW
@given(between(0.1, 1e5), between(250, 350))
def test_equivalents_are_the_moles_of_the_acid_set_free(soap_g: float, g_per_mol: float) -> None:
    """A gram of soap on a kilogram of fuel: milligrams of KOH over its molar mass."""
    free = acid_rise_mg_koh_per_g(soap_g * 1000, g_per_mol) / 56.1056
    assert equivalents_mol(soap_g, g_per_mol) == pytest.approx(free, rel=1e-4)


@LAW
@given(st.lists(st.integers(0, 1000), min_size=5, max_size=12, unique=True), between(-2, 2), between(0, 50))
def test_one_wild_reading_does_not_turn_a_line(places: list[int], slope: float, foot: float) -> None:
    line = [foot + slope * x for x in places]
    wild = [*line[:-1], line[-1] + 1e4]
    assert theil_sen_slope(places, line) == pytest.approx(slope, abs=1e-9)
    assert theil_sen_slope(places, wild) == pytest.approx(slope, abs=1e-6)
    assert theil_sen_slope(places, [y + 7 for y in line]) == pytest.approx(slope, abs=1e-9)


@LAW
@given(between(0, 1000), between(0, 1000), between(1, 100), between(1, 100))
def test_less_left_or_more_a_batch_is_fewer_batches(a: float, b: float, c: float, d: float) -> None:
    less, more = sorted((a, b))
    light, heavy = sorted((c, d))
    few = Range(less, less, less).over(Range(heavy, heavy, heavy))
    many = Range(more, more, more).over(Range(light, light, light))
    assert few is not None and many is not None
    assert few.low <= many.low and few.middle <= many.middle and few.high <= many.high
