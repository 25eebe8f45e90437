"""Laws of the chemistry, over several formulas at once: proportion, equivalence, conservation, and how doubt scales."""

from __future__ import annotations

import random
from collections.abc import Callable, Mapping, Sequence

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from uncertainties import nominal_value, std_dev, ufloat

from generator.formulas.acidity import (
    acid_value_mg_koh_per_g,
    base_demand_mol_per_kg,
    ffa_pct,
    standardised_mol_per_l,
    titrant_mol_per_l,
)
from generator.formulas.constants import molar_mass
from generator.formulas.dose import neutralising_g
from generator.formulas.profile import iodine_value_g_per_100_g, saponification_value_mg_koh_per_g
from generator.formulas.soap import (
    acid_rise_mg_koh_per_g,
    residual_catalyst_mg_per_kg,
    soap_detection_limit_mg_per_kg,
    soap_mg_per_kg,
)
from generator.formulas.stoichiometry import (
    ester_ceiling_kg,
    ester_g_per_mol,
    glycerol_in_theory_kg,
    mean_fatty_acid_g_per_mol,
    methanol_consumed_kg,
    soap_from_ffa_kg,
    triglyceride_g_per_mol,
    water_from_ffa_kg,
)
from generator.formulas.uncertainty import combined, expanded, from_limits, from_step, of_mean

from .law import BURETTE_ML, FFA_PCT, LAW, OIL_KG, PROFILES, PURITY_PCT, SAMPLE_G, between

NEAR = 1e-9
STRENGTH_MOL_PER_L = between(0.001, 1)
U = st.just(0.0) | between(1e-6, 10)
"""Nought, or what an instrument could show: squares of far smaller numbers underflow."""
BASES = st.sampled_from(["KOH", "NaOH"])
BLENDS = st.lists(st.tuples(OIL_KG, PROFILES), min_size=1, max_size=5)
"""Lots of oil: mass and profile of each."""


def acid_value(v: float, b: float, c: float, m: float) -> float:
    return acid_value_mg_koh_per_g(base_demand_mol_per_kg(v, b, c, m))


def blended(lots: Sequence[tuple[float, Mapping[str, float]]]) -> dict[str, float]:
    """The profile of lots poured together: each lot's shares of a hundred, weighed by its mass."""
    total: dict[str, float] = {}
    for oil_kg, profile in lots:
        whole = sum(profile.values())
        for acid, share in profile.items():
            total[acid] = total.get(acid, 0) + oil_kg * share / whole
    return total


@LAW
@given(BURETTE_ML, BURETTE_ML, STRENGTH_MOL_PER_L, SAMPLE_G)
def test_twice_the_sample_with_twice_the_readings_is_the_same_oil(
    v: float, b: float, c: float, m: float
) -> None:
    assert acid_value(2 * v, 2 * b, c, 2 * m) == pytest.approx(acid_value(v, b, c, m))
    assert soap_mg_per_kg(2 * v, 2 * b, c, 2 * m, 304.4) == pytest.approx(soap_mg_per_kg(v, b, c, m, 304.4))


@LAW
@given(BURETTE_ML, BURETTE_ML, STRENGTH_MOL_PER_L, SAMPLE_G)
def test_doubling_the_sample_halves_every_result_and_the_limit(
    v: float, b: float, c: float, m: float
) -> None:
    results: tuple[Callable[[float], float], ...] = (
        lambda sample_g: acid_value(v, b, c, sample_g),
        lambda sample_g: ffa_pct(base_demand_mol_per_kg(v, b, c, sample_g)),
        lambda sample_g: soap_mg_per_kg(v, b, c, sample_g, 320.56),
        lambda sample_g: residual_catalyst_mg_per_kg(v, b, c, sample_g, 56.1),
        lambda sample_g: soap_detection_limit_mg_per_kg(v, b, c, sample_g, 320.56),
    )
    for result in results:
        assert result(2 * m) == pytest.approx(result(m) / 2)


@LAW
@given(BURETTE_ML, BURETTE_ML, STRENGTH_MOL_PER_L, SAMPLE_G, PURITY_PCT)
def test_the_base_in_the_burette_does_not_matter_at_one_molarity(
    v: float, b: float, c: float, m: float, purity: float
) -> None:
    """So many moles are 56 g of one base and 40 g of the other; the oil does not tell them apart."""
    found = []
    for base in ("KOH", "NaOH"):
        strength_g_per_l = c * molar_mass(base) * 100 / purity
        found.append(acid_value(v, b, titrant_mol_per_l(strength_g_per_l, molar_mass(base), purity), m))
    assert found[0] == pytest.approx(found[1])
    assert found[0] == pytest.approx(acid_value(v, b, c, m))


@LAW
@given(BASES, between(0.1, 20), PURITY_PCT, between(0.5, 2))
def test_strength_and_purity_act_only_through_their_product(
    base: str, strength: float, purity: float, factor: float
) -> None:
    assume(purity / factor <= 100)
    once = titrant_mol_per_l(strength, molar_mass(base), purity)
    assert titrant_mol_per_l(strength * factor, molar_mass(base), purity / factor) == pytest.approx(once)


@LAW
@given(BASES, BASES, STRENGTH_MOL_PER_L, BURETTE_ML, SAMPLE_G, OIL_KG, PURITY_PCT)
def test_neutralising_weighs_the_moles_that_the_titration_counted(
    titrant: str, catalyst: str, c: float, v: float, m: float, oil_kg: float, purity: float
) -> None:
    """From the burette to the scale: moles in the sample, times oil over sample, whichever base does which."""
    strength = titrant_mol_per_l(c * molar_mass(titrant), molar_mass(titrant), 100)
    demand = base_demand_mol_per_kg(v, 0, strength, m)
    grams = neutralising_g(demand, oil_kg, molar_mass(catalyst), purity)
    moles = grams * purity / 100 / molar_mass(catalyst)
    assert moles == pytest.approx(v / 1000 * c * oil_kg * 1000 / m)


@LAW
@given(BURETTE_ML, BURETTE_ML, BURETTE_ML, STRENGTH_MOL_PER_L, SAMPLE_G)
def test_acid_value_is_linear_in_the_net_volume(v: float, more: float, b: float, c: float, m: float) -> None:
    both = acid_value(v + more, b, c, m)
    assert both == pytest.approx(acid_value(v, b, c, m) + acid_value(more, 0, c, m), abs=1e-6)
    assert acid_value(v + more, b + more, c, m) == pytest.approx(acid_value(v, b, c, m), abs=1e-6)


@LAW
@given(between(0.01, 5), PURITY_PCT, between(1, 50), between(0.1, 10))
def test_titrant_is_as_strong_as_phthalate_over_volume(
    phthalate_g: float, purity: float, titrant_ml: float, factor: float
) -> None:
    once = standardised_mol_per_l(phthalate_g, purity, titrant_ml)
    assert standardised_mol_per_l(factor * phthalate_g, purity, factor * titrant_ml) == pytest.approx(once)
    assert standardised_mol_per_l(phthalate_g, purity, factor * titrant_ml) == pytest.approx(once / factor)


@LAW
@given(OIL_KG, FFA_PCT, PROFILES)
def test_three_moles_of_methanol_and_ester_for_one_of_oil_and_glycerol(
    oil_kg: float, ffa: float, profile: dict[str, float]
) -> None:
    acid = mean_fatty_acid_g_per_mol(profile)
    triglyceride = triglyceride_g_per_mol(acid)
    oil_mol = oil_kg * (1 - ffa / 100) / triglyceride
    made_and_taken = {
        "methanol": (methanol_consumed_kg(oil_kg, ffa, triglyceride) / molar_mass("methanol"), 3),
        "ester": (ester_ceiling_kg(oil_kg, ffa, triglyceride) / ester_g_per_mol(acid), 3),
        "glycerol": (glycerol_in_theory_kg(oil_kg, ffa, triglyceride) / molar_mass("glycerol"), 1),
    }
    for kmol, times in made_and_taken.values():
        assert kmol == pytest.approx(times * oil_mol, rel=NEAR)


@LAW
@given(OIL_KG, FFA_PCT, PROFILES, st.sampled_from([("NaOH", "sodium oleate"), ("KOH", "potassium oleate")]))
def test_a_synthetic_batch_loses_nothing(
    oil_kg: float, ffa: float, profile: dict[str, float], pair: tuple[str, str]
) -> None:
    """Oil with its acid, methanol and base go in; ester, glycerol, soap and water come out, to a millionth.

    The molar masses have five digits behind the point, so the two sides cannot agree to every digit.
    """
    base, soap = pair
    triglyceride = triglyceride_g_per_mol(mean_fatty_acid_g_per_mol(profile))
    base_kg = neutralising_g(ffa * 10 / molar_mass("18:1"), oil_kg, molar_mass(base), 100) / 1000
    goes_in = oil_kg + methanol_consumed_kg(oil_kg, ffa, triglyceride) + base_kg
    comes_out = (
        ester_ceiling_kg(oil_kg, ffa, triglyceride)
        + glycerol_in_theory_kg(oil_kg, ffa, triglyceride)
        + soap_from_ffa_kg(oil_kg, ffa, molar_mass(soap))
        + water_from_ffa_kg(oil_kg, ffa)
    )
    assert goes_in == pytest.approx(comes_out, rel=1e-6)


@LAW
@given(BLENDS, st.integers(0, 1000))
def test_the_order_of_the_oils_in_a_blend_does_not_matter(
    lots: list[tuple[float, dict[str, float]]], seed: int
) -> None:
    shuffled = list(lots)
    random.Random(seed).shuffle(shuffled)
    for formula in (mean_fatty_acid_g_per_mol, saponification_value_mg_koh_per_g, iodine_value_g_per_100_g):
        assert formula(blended(shuffled)) == pytest.approx(formula(blended(lots)), rel=NEAR)


@LAW
@given(BLENDS)
def test_a_blend_holds_the_moles_of_its_oils(lots: list[tuple[float, dict[str, float]]]) -> None:
    blend = blended(lots)
    oil_kg = sum(kg for kg, _ in lots)
    apart = sum(kg / mean_fatty_acid_g_per_mol(profile) for kg, profile in lots)
    assert oil_kg / mean_fatty_acid_g_per_mol(blend) == pytest.approx(apart, rel=NEAR)
    iodine = sum(kg * iodine_value_g_per_100_g(profile) for kg, profile in lots)
    assert oil_kg * iodine_value_g_per_100_g(blend) == pytest.approx(iodine, rel=NEAR, abs=NEAR)


@LAW
@given(between(0, 5000), st.sampled_from([304.4, 320.56]))
def test_exchanged_soap_titrates_as_the_acid_it_was(soap: float, g_per_mol: float) -> None:
    """The acid read after a resin in acid form is what the soap titration took before it, within 56.1 to 56.106."""
    sample_g, c = 10.0, 0.01
    acid_ml = soap * sample_g / (c * g_per_mol * 1000)
    assert acid_value(acid_ml, 0, c, sample_g) == pytest.approx(
        acid_rise_mg_koh_per_g(soap, g_per_mol), rel=2e-4
    )


@LAW
@given(U, U, between(0, 100))
def test_parts_combine_in_any_order_and_scale_together(first: float, second: float, factor: float) -> None:
    both = combined(first, second)
    assert both == pytest.approx(combined(second, first))
    assert max(first, second) * (1 - NEAR) <= both <= (first + second) * (1 + NEAR)
    assert combined(factor * first, factor * second) == pytest.approx(factor * both, abs=1e-9)
    assert combined(first, 0) == pytest.approx(first)


@LAW
@given(U, between(0, 100))
def test_what_is_shown_scales_with_what_is_known(standard: float, factor: float) -> None:
    assert expanded(factor * standard) == pytest.approx(factor * expanded(standard))
    assert from_step(2 * standard) == pytest.approx(from_limits(standard))
    assert from_limits(standard) <= standard


@LAW
@given(U, U, st.integers(1, 50))
def test_more_readings_never_make_a_mean_worse(reading_u: float, scatter: float, readings: int) -> None:
    assert of_mean(reading_u, scatter, 4 * readings) == pytest.approx(
        of_mean(reading_u, scatter, readings) / 2
    )
    assert of_mean(reading_u, scatter, readings) >= of_mean(reading_u, 0, readings)


@LAW
@given(
    between(0.5, 50),
    between(0.01, 0.4),
    between(0.01, 1),
    between(1, 100),
    between(0.001, 0.05),
    between(0.1, 10),
)
def test_doubt_scales_and_leaves_the_value_alone(
    v: float, b: float, c: float, m: float, relative_u: float, k: float
) -> None:
    """First order: k times every uncertainty is k times the result's; the value is that of plain numbers."""
    plain = (v, b, c, m)
    once, more = (
        acid_value(*(ufloat(each, factor * relative_u * each) for each in plain)) for factor in (1, k)
    )
    assert nominal_value(once) == pytest.approx(acid_value(*plain))
    assert nominal_value(more) == pytest.approx(acid_value(*plain))
    assert std_dev(more) == pytest.approx(k * std_dev(once))


@LAW
@given(
    between(0.5, 50),
    between(0.01, 1),
    between(1, 100),
    between(1e-4, 0.1),
    between(1e-4, 0.1),
    between(1e-4, 0.1),
)
def test_products_add_relative_variances(
    v: float, c: float, m: float, u_v: float, u_c: float, u_m: float
) -> None:
    found = acid_value(ufloat(v, u_v * v), 0, ufloat(c, u_c * c), ufloat(m, u_m * m))
    wanted = combined(combined(u_v, u_c), u_m)
    assert std_dev(found) / nominal_value(found) == pytest.approx(wanted)


@LAW
@given(BURETTE_ML, between(0.001, 0.5), STRENGTH_MOL_PER_L, SAMPLE_G)
def test_detection_limit_is_three_times_the_doubt_of_nothing(
    v: float, u_ml: float, c: float, m: float
) -> None:
    """Two equal readings, each known to u: the soap is nought, and the limit is three of its uncertainties."""
    nothing = soap_mg_per_kg(ufloat(v, u_ml), ufloat(v, u_ml), c, m, 304.4)
    assert nominal_value(nothing) == 0
    limit = soap_detection_limit_mg_per_kg(u_ml, u_ml, c, m, 304.4)
    assert limit == pytest.approx(3 * std_dev(nothing))
