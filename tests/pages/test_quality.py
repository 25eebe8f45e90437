"""What the pages say of quality: never more than the intervals allow, and of the bench in words of its own."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from generator.compute.results import Results
from generator.compute.tally import tally
from generator.ledger.ledgers import Ledgers
from generator.pages import batch, drift, quality, sheet
from generator.pages.results import result_text, standing_table, standing_text, verdict_text
from generator.pages.words import NARROW
from generator.render.finding import finding_scripts
from tests.logbook_files import BASE, log_of

B1 = "batches/b1.yaml"
TEXT = "  - {property: water, value: 310 mg/kg, method: water test kit}\n"


def results(parent: Path, *tests: str) -> Results:
    return tally(
        Ledgers(log_of(parent, {B1: (TEXT, "".join(f"  - {{{test}}}\n" for test in tests) or TEXT)}))
    )


def finding(parent: Path, *tests: str) -> str:
    return quality.page(results(parent, *tests)).finding


def test_without_a_laboratory_nothing_is_claimed(tmp_path: Path) -> None:
    text = finding(tmp_path)
    assert "none of them by a laboratory" in text and "is not known" in text
    assert "within" not in text


def test_the_finding_counts_what_the_intervals_allow(tmp_path: Path) -> None:
    found = results(
        tmp_path, "property: water, value: 310 mg/kg, method: EN ISO 12937, laboratory: true",
        "property: acid value, value: 0.48 mg KOH/g, method: EN 14104, laboratory: true",
        "property: flash point, value: 90 °C, method: EN ISO 3679, laboratory: true",
    )  # fmt: skip
    page = quality.page(found)
    told = "3 results with a limit on 1 of 2 batches: 1 within, 1 outside and 1 cannot tell, 1 of these by the last digit alone."
    assert told in page.finding
    within, outside, unclear, _ = page.content["figures"]["Laboratory results against their limits"]
    assert (within.text, within.basis) == (
        "1",
        "with their whole interval; 0 of these by the last digit alone",
    )
    assert (outside.text, outside.basis) == (
        "1",
        "with their whole interval; 1 of these by the last digit alone",
    )
    assert (unclear.text, unclear.basis) == (
        "1",
        "the limit lies inside the interval; 0 of these by the last digit alone",
    )
    intro = page.content["intro"]
    assert "Cannot tell: the limit lies inside" in intro and "no precision of the method is known" in intro
    assert "No batch had one for every property of its edition; the most, b1, for 3 of 24." in intro


@pytest.mark.parametrize(
    ("row", "text"),
    [
        ({"verdict": "within", "laboratory": "yes", "by_method": "yes"}, "within"),
        ({"verdict": "within", "laboratory": "yes", "by_method": "no"}, "within, by another method"),
        ({"verdict": "within", "laboratory": "no", "by_method": "yes"}, "bench reading within"),
        ({"verdict": "cannot tell", "laboratory": "no", "by_method": "no"}, "bench reading, cannot tell"),
        ({"verdict": "no limit", "laboratory": "no", "by_method": "no"}, "no limit"),
    ],
)
def test_the_bench_has_words_of_its_own(row: dict[str, Any], text: str) -> None:
    assert verdict_text(row) == text


def test_on_the_page_of_a_batch_too(tmp_path: Path) -> None:
    rows = [row for row in results(tmp_path).rows("standing") if row["batch"] == "b1"]
    view = standing_table(rows)
    water = next(cells for cells in view.rows if cells[0].text == "water")
    labels = [head.label for head in view.heads]
    assert water[labels.index("On the bench")].text == "reading within"
    assert water[labels.index("Laboratory")].text == "not tested"


def test_a_batch_is_summed_up_against_its_edition_and_what_is_outside_is_named(tmp_path: Path) -> None:
    rows = results(
        tmp_path, "property: water, value: 310 mg/kg, method: EN ISO 12937, laboratory: true",
        "property: acid value, value: 0.48 mg KOH/g, method: EN 14104, laboratory: true",
        "property: flash point, value: 90 °C, method: EN ISO 3679, laboratory: true",
        "property: density, value: 880 kg/m3, method: hydrometer",
    ).rows("standing")  # fmt: skip
    told = standing_text([row for row in rows if row["batch"] == "b1"])
    assert told == (
        "Of 24 properties of EN 14214, edition 2012+A1 2014: by laboratories 1 within, 1 outside, 1 cannot tell;"
        " 1 on the bench alone; 20 not tested. Outside: flash point."
    )
    assert standing_text([]) == ""


def test_without_points_enough_nothing_is_said_of_drift(tmp_path: Path) -> None:
    page = drift.page(results(tmp_path))
    assert "nothing can be said about drift" in page.finding
    assert page.content["charts"] == []


def test_control_limits_and_specification_limits_are_told_apart_and_false_alarms_counted(
    tmp_path: Path,
) -> None:
    page = drift.page(results(tmp_path))
    assert "Solid lines are control limits" in page.content["intro"]
    assert "dashed line is the limit of a specification" in page.content["intro"]
    assert "once in about 92 points" in page.content["cautions"][0]
    assert "43 of 100 rows" in page.content["cautions"][0]


def test_a_retest_is_one_on_paper_too(tmp_path: Path) -> None:
    found = results(
        tmp_path, "property: flash point, value: 90 °C, method: EN ISO 3679, laboratory: true",
        "date: 2026-02-01, property: flash point, value: 131 °C, method: EN ISO 3679, laboratory: true",
    )  # fmt: skip
    (page,) = (unmade.make() for unmade in sheet.pages(found) if unmade.path.endswith("b1.html"))
    told = [(row[0].text, row[1].text) for row in page.content["results"].rows]
    assert ("flash point", "90 °C") in told
    assert ("flash point, retest of 90 °C", "131 °C") in told


def own(parent: Path) -> Results:
    """Results of a workshop with limits of its own, of which one is tested and outside and one is never tested."""
    settings = (BASE / "logbook.yaml").read_text(encoding="utf-8")
    limits = "[{property: soap, max: 50 mg/kg}, {property: water, max: 200 mg/kg}, {property: cloud point, max: 5 °C}]"
    reading = "property: soap, value: 80 mg/kg, method: titration, uncertainty: 10 mg/kg"
    changes: dict[str, tuple[str, str] | str | None] = {
        "logbook.yaml": f"{settings}\nown_limits: [{{edition: first, limits: {limits}}}]\n",
        B1: (TEXT, f"{TEXT}  - {{{reading}}}\n"),
    }
    return tally(Ledgers(log_of(parent, changes)))


def test_own_limits_are_counted_as_those_of_an_edition_are(tmp_path: Path) -> None:
    found = own(tmp_path)
    within, outside, unclear = quality.page(found).content["figures"]["All results against our own limits"]
    verdicts = [row["own_verdict"] for row in found.rows("tests") if row["own_limit"]]
    assert [within.text, outside.text, unclear.text] == [
        str(verdicts.count(word)) for word in ("within", "outside", "cannot tell")
    ]
    assert outside.text != "0"
    covered = {row["property"]: row for row in found.rows("coverage")}
    assert covered["cloud point"]["own_limit"] == "at most 5 °C" and covered["cloud point"]["results"] == 0
    standing = [row for row in found.rows("standing") if row["batch"] == "b1"]
    assert {row["property"]: row["own_state"] for row in standing if row["own_state"]} == {
        "soap": "outside",
        "water": "outside",
        "cloud point": "not tested",
    }
    assert standing_text(standing).endswith(
        "Of 3 limits of our own: 0 within, 2 outside, 0 cannot tell, 1 not tested. Outside: water, soap."
    )


def test_a_sheet_tells_its_own_limit_and_how_well_a_result_is_known(tmp_path: Path) -> None:
    """A sheet said 'no limit' of a result that its page told to be outside of the workshop's own, and left out its ±."""
    found = own(tmp_path)
    (made,) = [page for page in sheet.pages(found) if page.path == "sheets/b1.html"]
    rows = [[cell.text for cell in row] for row in made.make().content["results"].rows]
    told = {row[0]: row for row in rows}
    assert told["soap"][4:] == ["our own: at most 50 mg/kg", "our own: outside"]
    assert told["water"][4:] == [
        "at most 500 mg/kg; our own: at most 200 mg/kg",
        "bench reading within; our own: outside",
    ]
    assert "soap, retest of 80 mg/kg" in told or told["soap"][1].startswith("80 mg/kg")


def test_batches_beside_each_other_have_their_results_and_how_they_stand(tmp_path: Path) -> None:
    found = own(tmp_path)
    (made,) = [page for page in batch.pages(found, {}) if page.path == "batches/b1.html"]
    beside = made.make().content["compared"]
    results_of = {figure.label: (figure.text, figure.basis) for figure in beside["Results"]}
    assert results_of["water, bench"] == ("310 mg/kg", "bench reading within; our own: outside")
    assert results_of["soap, bench"][0].startswith("80 mg/kg; ")
    assert [figure.label for figure in beside["How it stands"]] == ["In numbers", "Changed later"]
    script = finding_scripts([made.make()])["batches/b1.js"].decode()
    assert "310 mg/kg" in script and "our own: outside" in script


def test_a_result_beside_a_limit_of_another_unit_stands_in_that_too(tmp_path: Path) -> None:
    """176 °F beside 'at least 101 °C' reads as within, and is outside."""
    found = results(
        tmp_path, "property: flash point, value: 176 °F, method: EN ISO 3679, laboratory: true",
        "property: water, value: 310 ppm, method: water test kit",
        "property: flash point, value: 80 °C, uncertainty: 4 °C, method: EN ISO 3679, laboratory: true",
    )  # fmt: skip
    told = [result_text(row) for row in found.rows("tests") if row["subject"] == "b1"]
    assert [text.replace(NARROW, " ") for text in told[:3]] == [
        "176 °F (80.0 °C)",
        "310 ppm",
        "80 °C (± 4.0 °C)",
    ]
