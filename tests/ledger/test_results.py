"""A result held to a limit, and the edition that is in force on a day."""

from __future__ import annotations

import math
from datetime import date
from pathlib import Path

import pytest

from generator.ledger.editions import Edition, in_force, own_editions
from generator.ledger.results import (
    CANNOT_TELL,
    NO_LIMIT,
    OUTSIDE,
    WITHIN,
    Interval,
    Known,
    against,
    known,
    verdict,
)
from generator.records import Test as Result
from generator.specifications import Limit
from generator.units import quantity
from tests.logbook_files import log_of


@pytest.mark.parametrize(
    ("where", "sign", "low", "high", "expected"),
    [
        ((4, 5), "", None, 5, WITHIN),
        ((5, 6), "", None, 5, CANNOT_TELL),  # the limit itself is within
        ((5.5, 6), "", None, 5, OUTSIDE),
        ((4, math.inf), ">", None, 5, CANNOT_TELL),
        ((5, math.inf), ">", None, 5, OUTSIDE),  # more than 5, where 5 is the most
        ((5, 6), "", 5, None, WITHIN),
        ((4, 5), "", 5, None, CANNOT_TELL),
        ((4, 4.5), "", 5, None, OUTSIDE),
        ((-math.inf, 6), "<", 5, None, CANNOT_TELL),
        ((-math.inf, 5), "<", 5, None, OUTSIDE),
        ((4, 5), "", None, None, NO_LIMIT),
    ],
)
def test_an_interval_that_holds_the_limit_cannot_tell(
    where: tuple[float, float], sign: str, low: float | None, high: float | None, expected: str
) -> None:
    """Derived: only what lies beyond with its whole interval is outside."""
    assert verdict(Interval(*where), sign, low, high) == expected


@pytest.mark.parametrize(
    ("words", "expected"), [(("clear",), WITHIN), (("bright",), OUTSIDE), ((), NO_LIMIT)]
)
def test_a_word_is_within_where_the_limit_names_it(words: tuple[str, ...], expected: str) -> None:
    limit = Limit("appearance", None, None, "", (), "derived", "", words)
    assert against("clear", None, limit) == expected


@pytest.mark.parametrize(
    ("written", "known", "expected"),
    [
        ("0.40 mg KOH/g", True, CANNOT_TELL),  # 0.20 to 0.60
        ("0.25 mg KOH/g", True, WITHIN),  # 0.05 to 0.45
        ("0.80 mg KOH/g", True, OUTSIDE),  # 0.60 to 1.00
        ("0.40 mg KOH/g", False, WITHIN),  # as it stands, where nothing is known of its uncertainty
    ],
)
def test_a_result_reaches_twice_its_standard_uncertainty(written: str, known: bool, expected: str) -> None:
    """A most of 0.5 and a standard uncertainty of 0.1, so 0.2 to each side. Derived."""
    value = quantity(written, ("acid value",))
    found = Known(0.1, "given") if known else None
    limit = Limit("acid_value", None, 0.5, "", (), "derived", "")
    assert against(value, found, limit) == expected


def test_the_last_edition_that_had_begun_is_in_force() -> None:
    first, second, third = (
        Edition(str(begins), begins, "", "derived", {})
        for begins in (None, date(2026, 1, 1), date(2026, 3, 1))
    )
    every = [first, second, third]
    assert in_force(every, date(2025, 12, 31)) is first
    assert in_force(every, date(2026, 1, 1)) is second
    assert in_force(every, date(2026, 2, 28)) is second
    assert in_force(every, date(2026, 3, 2)) is third
    assert in_force(every[1:], date(2025, 12, 31)) is None


@pytest.mark.parametrize(
    ("written", "text"),
    [
        ("min: 110 °C", "at least 110 °C"),
        ("max: 300 °C", "at most 300 °C"),
        ("min: 110 °C, max: 300 °C", "110 °C to 300 °C"),
    ],
)
def test_an_own_limit_is_told_as_it_was_written(written: str, text: str, tmp_path: Path) -> None:
    own = f"own_limits: [{{edition: first, limits: [{{property: flash point, {written}}}]}}]\ntitle:"
    (edition,) = own_editions(log_of(tmp_path, {"logbook.yaml": ("title:", own)}))
    assert edition.limits["flash point"].text == text


@pytest.mark.parametrize(
    ("said", "u"),
    [
        ({"property": "acid value", "value": "0.44 mg KOH/g", "method": "EN 14104"}, 0.06 / 2.8),
        ({"property": "acid value", "value": "0.00 mg KOH/g", "method": "EN 14104"}, 0.06 / 2.8),
        ({"property": "acid value", "value": "0.00 mg KOH/g", "method": "ASTM D664"}, 0.141 / 2.8),
        ({"property": "water", "value": "0 mg/kg", "method": "EN ISO 12937"}, 1 / 12**0.5),
        ({"property": "water", "value": "0 mg/kg", "method": "EN ISO 12937", "repeatability": "14 mg/kg"}, 5.0),
    ],
)  # fmt: skip
def test_a_laboratory_that_found_nothing_found_it_within_what_its_method_leaves_open(
    said: dict[str, str], u: float
) -> None:
    """The constant part of the reproducibility holds at nothing too: EN 14104 (2003, from memory), ASTM D664 (secondary copy).

    That of EN ISO 12937 (from memory) has none: what was written is left, or the last digit, 1 mg/kg over the root of 12.
    """
    found = known(Result.model_validate({**said, "laboratory": "true"}))
    assert found is not None and found.u == pytest.approx(u)
