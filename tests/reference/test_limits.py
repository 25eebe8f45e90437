"""Limits of the standards, as printed on the copies, beside what the tool holds results to."""

from __future__ import annotations

import pytest

from generator.data import rows
from generator.formulas.profile import iodine_value_g_per_100_g
from generator.properties import properties
from generator.specifications import Limit, specifications

from .case import WORDS

EN = ("EN 14214", "2012+A1 2014")
ASTM = ("ASTM D6751", "09")
# Secondary copies: EN 14214 from a fuel terminal's sheet, D6751-09 from the industry's table of 2008.
# Tolerance F: the figures are typed over in other units (mg/kg for % m/m, h for s).
PRINTED = [
    (EN, "ester content", 965_000, None),
    (EN, "density", 860, 900),
    (EN, "viscosity", 3.5, 5.0),
    (EN, "flash point", 101, None),
    (EN, "methanol", None, 2000),
    (EN, "acid value", None, 0.5),
    (EN, "water", None, 500),
    (EN, "total contamination", None, 24),
    (EN, "sulfated ash", None, 200),
    (EN, "sulfur", None, 10),
    (EN, "oxidation stability", 8, None),
    (EN, "sodium and potassium", None, 5),
    (EN, "calcium and magnesium", None, 5),
    (EN, "phosphorus", None, 4),
    (EN, "free glycerol", None, 200),
    (EN, "total glycerol", None, 2500),
    (EN, "monoglycerides", None, 7000),
    (EN, "diglycerides", None, 2000),
    (EN, "triglycerides", None, 2000),
    (EN, "iodine value", None, 120),
    (ASTM, "viscosity", 1.9, 6.0),
    (ASTM, "flash point", 93, None),
    (ASTM, "methanol", None, 2000),
    (ASTM, "acid value", None, 0.5),
    (ASTM, "water and sediment", None, 0.05),
    (ASTM, "sulfated ash", None, 200),
    (ASTM, "sulfur", None, 15),
    (ASTM, "carbon residue", None, 500),
    (ASTM, "oxidation stability", 3, None),
    (ASTM, "sodium and potassium", None, 5),
    (ASTM, "calcium and magnesium", None, 5),
    (ASTM, "phosphorus", None, 10),
    (ASTM, "free glycerol", None, 200),
    (ASTM, "total glycerol", None, 2400),
    (ASTM, "cold soak filtration", None, 0.1),
]


def limit(edition: tuple[str, str], name: str) -> Limit:
    return specifications()[edition].limits[name]


@pytest.mark.parametrize(("edition", "name", "low", "high"), PRINTED)
def test_limit_is_the_printed_one(
    edition: tuple[str, str], name: str, low: float | None, high: float | None
) -> None:
    found = limit(edition, name)
    assert found.low == pytest.approx(low)
    assert found.high == pytest.approx(high)


@pytest.mark.parametrize("edition", [EN, ASTM])
def test_no_limit_goes_unchecked(edition: tuple[str, str]) -> None:
    assert {name for each, name, _, _ in PRINTED if each == edition} | {"copper strip"} == set(
        specifications()[edition].limits
    )


@pytest.mark.parametrize("edition", [EN, ASTM])
def test_every_limit_says_how_sure_it_is_and_of_a_known_property(edition: tuple[str, str]) -> None:
    specification = specifications()[edition]
    assert "reproduced" in specification.source
    assert specification.confidence == "secondary copy"
    for name, found in specification.limits.items():
        known = properties()[name]
        assert found.confidence in WORDS
        assert found.unit == known.unit
        assert found.method and found.text
        assert set(found.words) <= set(known.words)
        assert found.words or found.low is not None or found.high is not None


def test_limit_keeps_the_digits_of_the_standard() -> None:
    assert limit(EN, "viscosity").text == "3.50 mm²/s to 5.00 mm²/s"
    assert limit(ASTM, "free glycerol").text == "at most 0.020 %"
    assert limit(EN, "flash point").text == "at least 101 °C"
    assert limit(ASTM, "copper strip").text == "class 1 or class 2 or class 3"


@pytest.mark.parametrize(("oil", "within"), [("soybean oil", False), ("used cooking oil", True)])
def test_iodine_value_of_typical_oils_beside_the_limit(oil: str, within: bool) -> None:
    """S11 (133.7) fails L21-E, S15 (87.2) does not: end to end, from profile to limit (derived)."""
    profile = {acid: float(share) for acid, share in rows("oils")[oil]["profile"].items()}
    high = limit(EN, "iodine value").high
    assert high is not None
    assert (iodine_value_g_per_100_g(profile) <= high) is within
