"""Limits of the standards, as printed on the copies, beside what the tool holds results to."""

from __future__ import annotations

import pytest

from generator.data import rows
from generator.formulas.profile import iodine_value_g_per_100_g
from generator.properties import properties
from generator.specifications import Limit, specifications

from .case import WORDS

EN = ("EN 14214", "2012+A1 2014")
OLD = ("EN 14214", "2003")
ASTM = ("ASTM D6751", "09")
ASTM_12 = ("ASTM D6751", "12")
ASTM_23A = ("ASTM D6751", "23a")
GRADES = {ASTM: "S15", ASTM_12: "No. 2-B S15", ASTM_23A: "No. 2-B S15"}
EDITIONS = [EN, OLD, ASTM, ASTM_12, ASTM_23A]
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
    (EN, "cetane number", 51, None),
    (EN, "linolenic ester", None, 120_000),
    (EN, "polyunsaturated ester", None, 10_000),
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
    (ASTM, "cetane number", 47, None),
    (ASTM, "distillation", None, 360),
    # L30, copies of the edition of 2003 (secondary copy): where it differed
    (OLD, "flash point", 120, None),
    (OLD, "oxidation stability", 6, None),
    (OLD, "monoglycerides", None, 8000),
    (OLD, "phosphorus", None, 10),
]


def limits(edition: tuple[str, str], grade: str = "") -> dict[str, Limit]:
    return specifications()[edition].of_grade(grade)


def limit(edition: tuple[str, str], name: str) -> Limit:
    return limits(edition, GRADES.get(edition, ""))[name]


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
        limits(edition, GRADES.get(edition, ""))
    )


@pytest.mark.parametrize("edition", EDITIONS)
def test_every_limit_says_how_sure_it_is_and_of_a_known_property(edition: tuple[str, str]) -> None:
    specification = specifications()[edition]
    assert "reproduce" in specification.source
    assert specification.confidence in ("secondary copy", "from memory")
    assert 1990 < specification.year < 2030 and str(specification.year)[2:] in specification.edition
    for found in specification.limits:
        known = properties()[found.property]
        assert set(found.methods) <= set(known.methods)
        assert set(found.grades) <= set(specification.grades)
        assert found.confidence in WORDS
        assert found.unit == known.unit
        assert found.text
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


def test_the_older_edition_differs_where_copies_say_so_and_nowhere_else() -> None:
    """L30: flash point, oxidation stability, monoglycerides, phosphorus (secondary copy)."""
    old, new = limits(OLD), limits(EN)
    differ = {name for name in old if (old[name].low, old[name].high) != (new[name].low, new[name].high)}
    assert set(old) == set(new)
    assert differ == {"flash point", "oxidation stability", "monoglycerides", "phosphorus"}


@pytest.mark.parametrize(
    ("edition", "grade", "name", "high"),
    [
        # L11 (secondary copy), and the scopes of -12 and -23a as published: the sulfur of a grade is in its name
        (ASTM, "S15", "sulfur", 15),
        (ASTM, "S500", "sulfur", 500),
        (ASTM_12, "No. 1-B S500", "sulfur", 500),
        (ASTM_23A, "No. 2-B S15 LM", "sulfur", 15),
        # L20, published; L25, secondary copy: 200 s for No. 1-B
        (ASTM_12, "No. 1-B S15", "monoglycerides", 4000),
        (ASTM_12, "No. 1-B S15", "cold soak filtration", 200 / 3600),
        (ASTM_12, "No. 2-B S15", "cold soak filtration", 0.1),
        # L26, published scope of -23a
        (ASTM_23A, "No. 1-B S15 LM", "alkali and alkaline earth metals", 4),
    ],
)
def test_grades_differ_as_their_scopes_say(
    edition: tuple[str, str], grade: str, name: str, high: float
) -> None:
    assert limits(edition, grade)[name].high == pytest.approx(high)


def test_what_a_grade_does_not_limit_is_not_there() -> None:
    assert "monoglycerides" not in limits(ASTM_12, "No. 2-B S15")
    assert "alkali and alkaline earth metals" not in limits(ASTM_23A, "No. 1-B S15")
    assert len(specifications()[ASTM_12].grades) == 4  # as the scope of -12 says
    assert len(specifications()[ASTM_23A].grades) == 6  # as the scope of -23a says


@pytest.mark.parametrize("edition", EDITIONS)
def test_no_grade_has_two_limits_for_a_property(edition: tuple[str, str]) -> None:
    specification = specifications()[edition]
    for grade in specification.grades or ("",):
        held = [each.property for each in specification.limits if not each.grades or grade in each.grades]
        assert len(held) == len(set(held))


def test_methanol_has_a_second_way_past_it() -> None:
    """L5-D: a flash point of 130 °C or more (secondary copy)."""
    instead = limit(ASTM, "methanol").instead
    assert instead is not None
    assert (instead.property, instead.low) == ("flash point", 130)
