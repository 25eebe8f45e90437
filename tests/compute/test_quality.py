"""Results beside their limits: within, outside, cannot tell, and nothing more than that."""

from __future__ import annotations

import math
from pathlib import Path
from typing import Any

import pytest

from generator.compute.tally import tally
from generator.ledger.ledgers import Ledgers
from generator.ledger.results import Interval, verdict
from tests.logbook_files import Changes, log_of

B1 = "batches/b1.yaml"


@pytest.mark.parametrize(
    ("value", "sign", "low", "high", "expected"),
    [
        # an upper limit of 500
        (499, "", None, 500, "within"),
        (500, "", None, 500, "within"),
        (501, "", None, 500, "outside"),
        (0, "", None, 500, "within"),
        (50, "<", None, 500, "within"),
        (500, "<", None, 500, "within"),
        (501, "<", None, 500, "cannot tell"),
        (499, ">", None, 500, "cannot tell"),
        (500, ">", None, 500, "outside"),
        (2000, ">", None, 500, "outside"),
        # a lower limit of 101
        (101, "", 101, None, "within"),
        (100.9, "", 101, None, "outside"),
        (130, ">", 101, None, "within"),
        (101, ">", 101, None, "within"),
        (90, ">", 101, None, "cannot tell"),
        (130, "<", 101, None, "cannot tell"),
        (101, "<", 101, None, "outside"),
        (90, "<", 101, None, "outside"),
        # between 860 and 900
        (880, "", 860, 900, "within"),
        (860, "", 860, 900, "within"),
        (900, "", 860, 900, "within"),
        (859, "", 860, 900, "outside"),
        (901, "", 860, 900, "outside"),
        (880, "<", 860, 900, "cannot tell"),
        (880, ">", 860, 900, "cannot tell"),
        (860, "<", 860, 900, "outside"),
        (900, ">", 860, 900, "outside"),
        (950, "<", 860, 900, "cannot tell"),
        (800, ">", 860, 900, "cannot tell"),
        # nothing to hold it to
        (880, "", None, None, "no limit"),
    ],
)
def test_the_table_of_verdicts(
    value: float, sign: str, low: float | None, high: float | None, expected: str
) -> None:
    """`< 500` means below 500, so it is within a limit of 500 at most and outside one of 500 at least."""
    where = Interval(-math.inf if sign == "<" else value, math.inf if sign == ">" else value)
    assert verdict(where, sign, low, high) == expected


def rows(parent: Path, *tests: str, more: Changes | None = None) -> list[dict[str, Any]]:
    """The rows of the first batch with these tests."""
    text = "  - {property: water, value: 310 mg/kg, method: water test kit}\n"
    log = log_of(parent, {B1: (text, "".join(f"  - {{{test}}}\n" for test in tests)), **(more or {})})
    return [
        row
        for row in tally(Ledgers(log)).rows("tests")
        if row["subject"] == "b1" and row["property"] != "soap"
    ]


def test_limits_come_from_the_chosen_edition(tmp_path: Path) -> None:
    """EN 14214, 2012+A1 2014 (secondary copy): water at most 500 mg/kg, acid value 0.50, flash point at least 101 °C."""
    found = rows(
        tmp_path, "property: water, value: < 600 mg/kg", "property: acid value, value: 0.51 mg KOH/g",
        "property: flash point, value: 214 °F", "property: cloud point, value: 4 °C",
        "property: copper strip, value: class 1", "property: copper strip, value: class 3",
    )  # fmt: skip
    assert [(row["property"], row["limit_low"], row["limit_high"], row["verdict"]) for row in found] == [
        ("water", None, 500.0, "cannot tell"),
        ("acid value", None, 0.5, "outside"),
        ("flash point", 101.0, None, "cannot tell"),  # 214 °F are 101.1 °C, and a degree read is ± 0.3 K
        ("cloud point", None, None, "no limit"),
        ("copper strip", None, None, "within"),
        ("copper strip", None, None, "outside"),
    ]


def test_without_a_specification_nothing_is_judged(tmp_path: Path) -> None:
    settings = ("specification: {standard: EN 14214, edition: 2012+A1 2014}\n", "")
    (row,) = rows(tmp_path, "property: water, value: 9000 mg/kg", more={"logbook.yaml": settings})
    assert (row["verdict"], row["limit_high"]) == ("no limit", None)


def test_a_retest_stands_below_what_it_repeats(tmp_path: Path) -> None:
    found = rows(
        tmp_path, "property: water, value: 0.09 %", "property: water, value: 300 ppm, date: 2026-01-15"
    )
    assert [(row["repeat"], row["value"], row["date"], row["verdict"]) for row in found] == [
        (1, 900.0, "2026-01-10", "outside"),
        (2, 300.0, "2026-01-15", "within"),
    ]


def test_what_was_censored_keeps_its_sign(tmp_path: Path) -> None:
    (row,) = rows(tmp_path, "property: water, value: <50 mg/kg")
    assert (row["value"], row["qualifier"], row["written"]) == (50.0, "<", "<50 mg/kg")


@pytest.mark.parametrize(
    ("low", "high", "least", "most", "expected"),
    [
        (0.44, 0.52, None, 0.5, "cannot tell"),  # the limit lies inside
        (0.44, 0.50, None, 0.5, "within"),  # it touches the limit from below
        (0.501, 0.52, None, 0.5, "outside"),
        (0.50, 0.52, None, 0.5, "cannot tell"),  # its lower end is still allowed
        (99.0, 103.0, 101, None, "cannot tell"),
        (101.0, 103.0, 101, None, "within"),
        (99.0, 100.9, 101, None, "outside"),
        (859.0, 861.0, 860, 900, "cannot tell"),
        (859.0, 901.0, 860, 900, "cannot tell"),
    ],
)
def test_an_interval_with_the_limit_inside_cannot_tell(
    low: float, high: float, least: float | None, most: float | None, expected: str
) -> None:
    assert verdict(Interval(low, high), "", least, most) == expected


def test_a_laboratory_result_is_as_wide_as_its_method(tmp_path: Path) -> None:
    """EN 14104 (2003, from memory): reproducibility 0.06 over 2.8 is 0.0214, so 0.44 reaches 0.483 and 0.47 reaches 0.513.

    EN 14112 (secondary copy): at 8.4 h 0.26 * 8.4 + 0.23 = 2.414 h, over 2.8 is 0.8621: 8.4 h cannot tell, 10.4 h can.
    """
    found = rows(
        tmp_path, "property: acid value, value: 0.44 mg KOH/g, method: EN 14104, laboratory: true",
        'property: acid value, value: 0.47 mg KOH/g, method: "DIN EN 14104:2003", laboratory: true',
        "property: oxidation stability, value: 8.4 h, method: EN 14112, laboratory: true",
        "property: oxidation stability, value: 10.4 h, method: EN 14112, laboratory: true",
    )  # fmt: skip
    assert [row["verdict"] for row in found] == ["within", "cannot tell", "cannot tell", "within"]
    assert [row["u"] for row in found] == pytest.approx([0.06 / 2.8, 0.06 / 2.8, 2.414 / 2.8, 2.934 / 2.8])
    assert {row["by_method"] for row in found} == {"yes"}
    assert "from memory" in found[0]["u_from"] and "secondary copy" in found[2]["u_from"]


def test_the_reproducibility_of_a_laboratory_is_none_of_the_bench(tmp_path: Path) -> None:
    (row,) = rows(tmp_path, "property: acid value, value: 0.44 mg KOH/g, method: EN 14104")
    assert (row["u"], row["u_from"]) == (pytest.approx(0.01 / 12**0.5), "its last digit alone")


def test_what_is_written_of_a_result_comes_first(tmp_path: Path) -> None:
    found = rows(
        tmp_path, "property: acid value, value: 0.44 mg KOH/g, uncertainty: 0.08 mg KOH/g, method: EN 14104, laboratory: true",
        "property: acid value, value: 0.44 mg KOH/g, repeatability: 0.28 mg KOH/g",
        "property: flash point, value: 103 °C, uncertainty: 5 K, laboratory: true",
        "property: water, value: 450 mg/kg, uncertainty: 0.001 %",
    )  # fmt: skip
    assert [row["u"] for row in found] == pytest.approx([0.04, 0.1, 2.5, 5.0])
    assert [row["verdict"] for row in found] == ["cannot tell", "cannot tell", "cannot tell", "within"]


def test_no_result_is_known_better_than_its_last_digit(tmp_path: Path) -> None:
    found = rows(
        tmp_path, "property: water, value: 500 mg/kg", "property: water, value: 0.05 %, uncertainty: 1 mg/kg"
    )
    assert [row["u"] for row in found] == pytest.approx([1 / 12**0.5, 100 / 12**0.5])
    assert [row["verdict"] for row in found] == ["cannot tell", "cannot tell"]


TWO = (
    "specification: {standard: EN 14214, edition: 2012+A1 2014}\n",
    "specification:\n"
    "  - {standard: EN 14214, edition: 2003}\n"
    "  - {standard: EN 14214, edition: 2012+A1 2014, from: 2026-01-20}\n"
    "own_limits:\n"
    "  - {edition: first, from: 2026-01-05, limits: [{property: water, max: 300 mg/kg}]}\n"
    "  - {edition: second, from: 2026-01-11, limits: [{property: water, max: 200 mg/kg}]}\n",
)


def test_an_older_batch_keeps_the_edition_of_its_day(tmp_path: Path) -> None:
    """b1 is of 2026-01-10: flash point 120 °C and 6 h by the edition of 2003, though the result came later."""
    found = rows(
        tmp_path, "property: flash point, value: 110 °C, date: 2026-02-01", "property: oxidation stability, value: 7 h",
        "property: water, value: 310 mg/kg", more={"logbook.yaml": TWO},
    )  # fmt: skip
    assert [(row["limit_low"], row["verdict"]) for row in found[:2]] == [(120, "outside"), (6, "within")]
    assert {row["edition"] for row in found} == {"EN 14214, edition 2003"}
    assert (found[2]["own_edition"], found[2]["own_high"]) == ("own limits, edition first", 300)
    assert (found[2]["verdict"], found[2]["own_verdict"]) == ("within", "outside")


def test_a_newer_batch_has_the_newer_edition(tmp_path: Path) -> None:
    """b2 is of 2026-01-17."""
    sooner = (TWO[0], TWO[1].replace("2026-01-20", "2026-01-17"))
    found = tally(Ledgers(log_of(tmp_path, {"logbook.yaml": sooner}))).rows("standing")
    editions = {row["batch"]: row["edition"] for row in found}
    assert editions == {"b1": "EN 14214, edition 2003", "b2": "EN 14214, edition 2012+A1 2014"}


def test_before_the_first_day_nothing_holds(tmp_path: Path) -> None:
    later = ("edition: 2012+A1 2014}", "edition: 2012+A1 2014, from: 2026-01-11}")
    (row,) = rows(tmp_path, "property: water, value: 9000 mg/kg", more={"logbook.yaml": later})
    assert (row["verdict"], row["edition"]) == ("no limit", None)


def standing(parent: Path, *tests: str, more: Changes | None = None) -> dict[str, dict[str, Any]]:
    text = "  - {property: water, value: 310 mg/kg, method: water test kit}\n"
    log = log_of(parent, {B1: (text, "".join(f"  - {{{test}}}\n" for test in tests)), **(more or {})})
    found = tally(Ledgers(log)).rows("standing")
    return {row["property"]: row for row in found if row["batch"] == "b1"}


def test_every_property_of_the_edition_stands_there_tested_or_not(tmp_path: Path) -> None:
    found = standing(tmp_path, "property: water, value: 310 mg/kg", "property: cloud point, value: 4 °C")
    assert list(found)[:2] == ["ester content", "density"] and len(found) == 24 + 2
    assert (found["ester content"]["state"], found["ester content"]["laboratory"]) == (
        "not tested",
        "not tested",
    )
    assert (found["water"]["state"], found["water"]["laboratory"], found["water"]["bench"]) == (
        "bench only", "not tested", "within",
    )  # fmt: skip
    assert (found["cloud point"]["state"], found["cloud point"]["bench"]) == ("not asked", "no limit")


def test_a_retest_does_not_wipe_out_what_it_repeats(tmp_path: Path) -> None:
    found = standing(
        tmp_path,
        "property: water, value: 900 mg/kg, laboratory: true",
        "property: water, value: 300 mg/kg, laboratory: true",
    )["water"]
    assert (found["laboratory"], found["state"], found["results"]) == ("outside, then within", "outside", 2)
    assert found["written"] == "900 mg/kg; 300 mg/kg"


def test_a_bench_reading_never_makes_a_laboratory_verdict(tmp_path: Path) -> None:
    found = standing(
        tmp_path,
        *[f"property: {name}" for name in ("water, value: 9000 mg/kg", "acid value, value: 0.1 mg KOH/g")],
    )
    assert {found[name]["state"] for name in ("water", "acid value")} == {"bench only"}


ASTM = (
    "{standard: EN 14214, edition: 2012+A1 2014}",
    "{standard: ASTM D6751, edition: 23a, grade: No. 1-B S15 LM}",
)


@pytest.mark.parametrize(
    ("flash", "told"),
    [
        ("131 °C, method: ASTM D93, laboratory: true", "not tested; a flash point of at least 130 °C stands in for it"),
        ("130 °C, method: ASTM D93, laboratory: true", "not tested"),  # its last digit reaches below
        ("131 °C, method: ASTM D93", "not tested"),  # on the bench
        ('"> 130 °C", method: ASTM D93, laboratory: true', "not tested; a flash point of at least 130 °C stands in for it"),
        ('"< 140 °C", method: ASTM D93, laboratory: true', "not tested"),
    ],
)  # fmt: skip
def test_what_stands_in_for_a_result_is_said_and_counts_as_none(
    tmp_path: Path, flash: str, told: str
) -> None:
    found = standing(tmp_path, f"property: flash point, value: {flash}", more={"logbook.yaml": ASTM})
    assert (found["methanol"]["laboratory"], found["methanol"]["state"]) == (told, "not tested")
    assert found["monoglycerides"]["limit"] == "at most 0.40 %"
    assert found["alkali and alkaline earth metals"]["limit"] == "at most 4 mg/kg"


@pytest.mark.parametrize(
    ("acid", "written", "own"),
    [
        ("0.3 mL", "9.62 mg/kg", "within"),
        ("0.0 mL", "< 6.8 mg/kg", "within"),
        ("0.6 mL", "19.2 mg/kg", "cannot tell"),  # ± 3.4 around 20
        ("2.0 mL", "64.1 mg/kg", "outside"),
        ("< 2.0 mL", "< 64 mg/kg", "cannot tell"),
    ],
)
def test_the_soap_of_the_product_is_a_result_too(tmp_path: Path, acid: str, written: str, own: str) -> None:
    """100 g with 0.01 N acid: 32.056 mg/kg of potassium soap for each mL; a drop of 0.05 mL twice is 2.3 mg/kg."""
    more: Changes = {
        "logbook.yaml": (
            ASTM[0],
            f"{ASTM[0]}\nown_limits: [{{edition: x, limits: [{{property: soap, max: 20 mg/kg}}]}}]",
        ),
        B1: ("sample: 100 g, acid: 0.3 mL", f"sample: 100 g, acid: {acid}"),
    }
    found = tally(Ledgers(log_of(tmp_path, more))).rows("tests")
    row = next(row for row in found if row["subject"] == "b1" and row["property"] == "soap")
    assert (row["written"], row["own_verdict"], row["verdict"], row["laboratory"]) == (
        written,
        own,
        "no limit",
        "no",
    )


def test_limits_are_listed_with_the_days_between_which_they_hold(tmp_path: Path) -> None:
    found = tally(Ledgers(log_of(tmp_path, {"logbook.yaml": TWO}))).rows("limits")
    spans = {(row["edition"], row["from"], row["until"], row["own"]) for row in found}
    assert spans == {
        ("EN 14214, edition 2003", None, "2026-01-19", "no"),
        ("EN 14214, edition 2012+A1 2014", "2026-01-20", None, "no"),
        ("own limits, edition first", "2026-01-05", "2026-01-10", "yes"),
        ("own limits, edition second", "2026-01-11", None, "yes"),
    }
    assert all(row["confidence"] and row["source"] and row["limit"] for row in found)


def test_coverage_counts_batches_and_not_results(tmp_path: Path) -> None:
    text = "  - {property: water, value: 310 mg/kg, method: water test kit}\n"
    twice = "  - {property: water, value: 310 mg/kg}\n  - {property: water, value: 300 mg/kg, date: 2026-01-12, laboratory: true}\n"
    found = {
        row["property"]: row for row in tally(Ledgers(log_of(tmp_path, {B1: (text, twice)}))).rows("coverage")
    }
    water = found["water"]
    assert (water["results"], water["laboratory"], water["laboratory_pct"], water["batches"]) == (3, 1, 50, 2)
    assert (water["last_laboratory"], water["since_laboratory"]) == ("2026-01-12", 1)
    assert (found["ester content"]["results"], found["ester content"]["since_laboratory"]) == (0, None)


def product(parent: Path, acid: str) -> dict[str, Any]:
    """The soap of the product, 100 g titrated with 0.01 N acid, burette of 0.05 mL."""
    log = log_of(parent, {B1: ("sample: 100 g, acid: 0.3 mL", f"sample: 100 g, acid: {acid}")})
    row = next(row for row in tally(Ledgers(log)).rows("batches") if row["batch"] == "b1")
    return {key: row[f"soap_product_{key}"] for key in ("mg_per_kg", "limit_mg_per_kg", "detected")}


LIMIT = 3 * 2**0.5 * 0.05 * 0.01 * 320.56 * 1000 / 100  # 6.8001 mg/kg; potassium soap


def test_soap_above_its_limit_is_a_value(tmp_path: Path) -> None:
    assert product(tmp_path, "0.3 mL") == {
        "mg_per_kg": pytest.approx(9.6168, rel=1e-12), "limit_mg_per_kg": pytest.approx(LIMIT, rel=1e-12), "detected": "yes",
    }  # fmt: skip


@pytest.mark.parametrize("acid", ["0.2 mL", "0.0 mL"])
def test_soap_below_its_limit_carries_the_limit_not_zero(tmp_path: Path, acid: str) -> None:
    assert product(tmp_path, acid) == {
        "mg_per_kg": pytest.approx(LIMIT, rel=1e-12), "limit_mg_per_kg": pytest.approx(LIMIT, rel=1e-12), "detected": "no",
    }  # fmt: skip


def test_soap_read_as_less_than_so_much_carries_that_as_its_bound(tmp_path: Path) -> None:
    """< 0.5 mL: less than 16.028 mg/kg, which is above the limit of the burette."""
    found = product(tmp_path, "< 0.5 mL")
    assert (found["mg_per_kg"], found["detected"]) == (pytest.approx(16.028, rel=1e-12), "no")
