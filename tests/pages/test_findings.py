"""The one sentence that opens a page: what is claimed, and what is not where the figures do not carry it."""

from __future__ import annotations

from typing import Any

import pytest

from generator.compute.tally import tally
from generator.ledger.states import CHANGE, READY, STOP
from generator.pages import batches, columns, costs, drift, home, quality, tanks
from generator.pages.bridges import chart
from generator.pages.words import Shown, shown
from generator.validate.logbook import checked_folder
from tests.site.building import ROOT


@pytest.fixture(scope="module")
def view() -> Shown:
    _, checked = checked_folder(ROOT / "tests" / "logbooks" / "gallons")
    assert checked.ledgers is not None
    return shown(tally(checked.ledgers))


def bridge(by_chance: float | None, change: float = 0.27) -> list[dict[str, Any]]:
    row = {
        "bridge": "last", "before_from": "2026-01-01", "before_until": "2026-02-01", "before_batches": 10,
        "before_per_l": 0.60, "after_from": "2026-03-01", "after_until": "2026-04-01", "after_batches": 10,
        "after_per_l": 0.60 + change, "part": "price of oil", "change_per_l": change, "by_chance": by_chance,
    }  # fmt: skip
    return [row]


COSTED = [{"with_media_per_l": 0.87, "fuel_l": 100.0, "failed": None}] * 10


def test_a_change_beyond_the_scatter_is_told_with_what_explains_it(view: Shown) -> None:
    text = costs.finding(COSTED, bridge(0.01), view)
    assert "more than in the ten before" in text and "by price of oil" in text
    picture = chart(bridge(0.01), view)
    assert picture is not None and "scatter" not in picture.sentence


@pytest.mark.parametrize("chance", [0.05, 0.6, None])
def test_a_change_within_the_scatter_is_not(view: Shown, chance: float | None) -> None:
    text = costs.finding(COSTED, bridge(chance), view)
    assert "no change from the ten before can be told from the scatter of the batches" in text
    assert "more than" not in text and "price of oil" not in text
    picture = chart(bridge(chance), view)
    assert picture is not None and "Batches scatter as much by themselves" in picture.sentence


def test_without_ten_before_nothing_is_compared(view: Shown) -> None:
    assert "too few before them to compare" in costs.finding(COSTED, [], view)


def bed(vessel: str, state: str, action: str) -> dict[str, Any]:
    return {"purifier": "shed", "vessel": vessel, "position": "lead", "state": state, "action": action}


def test_of_beds_only_those_that_ask_for_something_are_named() -> None:
    fine, spent = bed("A", "fine", ""), bed("B", "spent", "change it")
    assert columns.finding([]) == "No bed is in service."
    assert (
        columns.finding([fine, fine])
        == "2 beds in service, and none asks for anything now, by what was titrated."
    )
    assert columns.finding([fine]) == "1 bed in service, and it asks for nothing now, by what was titrated."
    text = columns.finding([fine, spent])
    assert text == "Of 2 beds in service 1 asks for something now: shed B (lead), spent."


def test_of_many_beds_the_most_pressing_is_named_and_the_sentence_stays_short() -> None:
    few, many = (
        [
            bed(f"vessel-{n}", "nearly spent, less is left than a batch leaves in it", CHANGE)
            for n in range(most)
        ]
        for most in (2, 12)
    )
    assert columns.finding(many) == (
        "Of 12 beds in service 12 ask for something now, first of all shed vessel-0 (lead), "
        "nearly spent, less is left than a batch leaves in it."
    )
    assert len(columns.finding(many)) <= len(columns.finding(few)) + 2 < 200
    many[7] = bed("vessel-7", "soap behind it", STOP)
    assert columns.finding(many).endswith("first of all shed vessel-7 (lead), soap behind it.")
    many[0] = bed("vessel-0", "working", READY)
    many[7] = bed("vessel-7", "fine", "")
    assert "12 beds in service 11 ask for something now, first of all shed vessel-1 " in columns.finding(many)


def piece(called: int, centre: float | None = 1.0) -> dict[str, Any]:
    return {"series": "soap", "purifier": None, "centre": centre, "called": called, "first_call": "b7"}


def test_rows_that_call_stand_beside_what_chance_alone_makes() -> None:
    pieces = [piece(2), piece(0), piece(0, None)]
    text = drift.finding(pieces)
    assert text.startswith("Of 2 rows with control limits, 1 calls; chance alone makes 43 of 100")
    assert "soap since b7" not in text and "Calling: soap since b7." in drift.detail(pieces)
    assert "1 row has too few points" in drift.detail(pieces)


def test_each_finding_of_the_demo_is_one_sentence() -> None:
    _, checked = checked_folder(ROOT / "logbook")
    assert checked.ledgers is not None
    found = tally(checked.ledgers)
    for page in (costs.page(found), columns.page(found), drift.page(found), quality.page(found)):
        assert page.finding.count(". ") == 0 and page.finding.endswith("."), page.finding
        assert len(page.finding) <= 320, page.finding
    told = columns.page(found)
    assert len(told.finding) <= 200
    standing = [row for row in found.rows("charges") if row["unloaded"] is None]
    asked = {
        title: [figure.text.lower() for figure in figures if figure.label == "To do"]
        for title, figures in told.content["figures"].items()
    }
    expected = {
        f"{row['purifier']} {row['vessel']}, {row['position']}: {row['state']}": [row["action"].lower()]
        if row["action"]
        else []
        for row in standing
    }
    assert asked == expected and sum(map(bool, asked.values())) == 2


def test_a_dip_that_lies_farther_off_than_the_stick_is_told(view: Shown) -> None:
    fill = {
        "event": "fill",
        "content_l": 500.0,
        "capacity_l": 600.0,
        "difference_l": None,
        "u_dipped_l": None,
    }
    dip = {**fill, "event": "dip", "dipped_l": 400.0, "difference_l": -100.0, "u_dipped_l": 3.0}
    assert "the last dip of t-1 says 26" in tanks.finding({"t-1": [fill, dip]}, view)
    assert "less" in tanks.finding({"t-1": [fill, dip]}, view)
    assert "dip" not in tanks.finding({"t-1": [fill, {**dip, "difference_l": 5.0}]}, view)
    assert "dip" not in tanks.finding({"t-1": [fill]}, view)


def test_a_dip_that_set_the_book_is_told_as_what_it_did(view: Shown) -> None:
    """It lies 100 L below what the book said before it, and the book says what it says since."""
    dip = {
        "event": "dip",
        "date": "2026-03-01",
        "content_l": 400.0,
        "capacity_l": 600.0,
        "dipped_l": 400.0,
        "difference_l": -100.0,
        "u_dipped_l": 3.0,
        "tank": "t-1",
        "batch": None,
        "heel_l": None,
    }
    assert "dip" not in tanks.finding({"t-1": [dip]}, view)
    assert "set the book to it, 26.4" in tanks.last_dip(dip, view).basis
    assert "against the book" in tanks.last_dip({**dip, "content_l": 500.0}, view).basis
    assert not home.dips_to_look_at([dip])
    assert home.dips_to_look_at([{**dip, "content_l": 500.0}])


def test_where_no_yield_and_no_closure_is_known_nothing_is_drawn() -> None:
    _, checked = checked_folder(ROOT / "logbook")
    assert checked.ledgers is not None
    found = tally(checked.ledgers)
    bare = [{**row, "yield_volume_pct": None, "closure_pct": None} for row in found.rows("batches")[-5:]]
    view = shown(found)
    for made in (batches.yield_chart(bare, view, found), batches.closure_chart(bare, view, found)):
        assert made.values == () and made.sentence.startswith("No ")


def test_a_batch_stays_unfinished_however_many_come_after_it_and_a_failed_one_is_not() -> None:
    rows = [{"batch": f"b{number}", "fuel_l": {1: None, 2: 0.0}.get(number, 95.0)} for number in range(1, 31)]
    assert home.unfinished(rows) == ["b1"]
