"""What pages say of beds: what a plan will cost them, when a filling is short, pressures too small to read."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

from generator.charts.kinds import spec
from generator.compute import audience
from generator.compute.results import Results
from generator.compute.tally import tally
from generator.ledger.ledgers import Ledgers
from generator.pages.bed_ahead import ahead_figures, batches_text
from generator.pages.bed_figures import cautions, cost_figures
from generator.pages.bed_pressure import charge_pressure, pressure_figures
from generator.pages.beds import pressure_chart
from generator.pages.columns import refills
from generator.pages.plan import BEDS_LACK, pages, to_do
from generator.pages.words import shown
from generator.render.pictures import svg
from generator.tables import RUNS
from tests.ledger.test_columns import changes
from tests.ledger.test_forecast import BATCHES, HISTORY, PLAN
from tests.logbook_files import log_of


def results(parent: Path, plan: str = PLAN, **more: str | None) -> Results:
    return tally(Ledgers(log_of(parent, changes(HISTORY, {**BATCHES, "b90": plan}, **more))))


def test_a_plan_shows_what_every_bed_will_take_of_it(tmp_path: Path) -> None:
    (unmade,) = pages(results(tmp_path), {})
    sheet = unmade.make()
    (table,) = sheet.content["tables"]
    assert [row[0].text for row in table.rows] == ["A, lead", "B, lag"]
    assert table.rows[0][2].text == "5.1"  # LEAD_G on a tenth of the fuel
    assert BEDS_LACK not in sheet.content["missing"]


def test_a_plan_whose_day_has_passed_is_told(tmp_path: Path) -> None:
    ahead, behind = (
        to_do(results(tmp_path / day, plan=PLAN.replace("2026-02-01", day)))[0][0]
        for day in ("2026-02-01", "2026-01-05")
    )
    assert "has passed" not in ahead
    assert "a day that has passed" in behind


def test_a_filling_that_is_not_in_stock_is_told(tmp_path: Path) -> None:
    """A has nothing left, and its medium was never bought; B has a hundred batches left."""
    found = results(tmp_path, PLAN, **{"lots/chips-1.yaml": None})
    standing = [row for row in found.rows("charges") if row["unloaded"] is None]
    ((told, link),) = refills(standing, found.rows("lots"), shown(found))
    assert (
        told
        == "The next filling of vessel A of shed takes 10.0\u202fkg of chips, and 0.0\u202fkg is in stock."
    )
    assert link == "charges/shed-A-5.html"


def test_a_drop_that_no_gauge_shows_is_a_bound(tmp_path: Path) -> None:
    found = results(tmp_path)
    row = {**found.rows("charges")[0], "clean_low_kpa": 0.01, "clean_high_kpa": 0.05, "drop_missing": None}
    (told,) = pressure_figures(row, shown(found))
    assert told.text == "below 0.001\u202fbar"


def test_a_bed_whose_last_day_is_sure_is_given_no_range_of_days(tmp_path: Path) -> None:
    found = results(tmp_path)
    sure = {**found.rows("charges")[-1], "harder": "no", "batches_left_middle": 0.0}
    sure |= {"until_low": "2026-05-01", "until_middle": "2026-05-01", "until_high": "2026-05-01"}
    unsure = {**sure, "until_low": "2026-04-20", "until_high": "2026-05-11"}
    told = [
        next(one.basis for one in ahead_figures(row, shown(found)) if one.label == "Until")
        for row in (sure, unsure)
    ]
    assert told == ["at the recent pace", "at the recent pace, from 2026-04-20 to 2026-05-11"]


def test_a_cost_that_is_not_known_says_what_it_needs(tmp_path: Path) -> None:
    found = results(tmp_path)
    (told,) = [one for one in cost_figures(found.rows("charges")[0], shown(found)) if "Cost" in one.label]
    assert (told.text, told.missing) == ("unknown", "needs the lot it was packed from")


def test_a_shared_page_does_not_speak_of_cost(tmp_path: Path) -> None:
    public = audience.shared(log_of(tmp_path, changes(HISTORY, {**BATCHES, "b90": PLAN})))
    labels = [one.label for one in cost_figures(public.rows("charges")[0], shown(public))]
    assert labels == ["Medium used"]


def test_a_lag_that_was_hit_hard_is_not_judged_by_calm_days(tmp_path: Path) -> None:
    """The rate of its last run leads; no day is told, for the bed before it lets more through than it did."""
    found = results(tmp_path)
    lag = next(row for row in found.rows("charges") if row["unloaded"] is None and row["position"] == "lag")
    hit = {**lag, "harder": "yes", "batches_left_low": 18.4, "batches_left_middle": 442.0}
    assert batches_text(hit) == "18 at the rate of its last run"
    until = next(one for one in ahead_figures(hit, shown(found)) if one.label == "Until")
    assert until.text == "not told"
    assert "last run" not in batches_text(lag)


def run(day: str, inlet: float | None, vessel: str = "A") -> dict[str, Any]:
    return {**dict.fromkeys(column.name for column in RUNS.columns), "start": f"{day}T08:00", "batch": f"b-{day}",
            "purifier": "shed", "vessel": vessel, "inlet_kpa": inlet}  # fmt: skip


def test_a_run_whose_pressure_was_not_read_is_a_gap_and_not_crossed(tmp_path: Path) -> None:
    view = shown(results(tmp_path))
    rows = [
        run("2026-01-01", 50.0),
        run("2026-01-05", None),
        run("2026-01-09", 60.0),
        run("2026-01-09", None, "B"),
    ]
    for made in (pressure_chart(rows, view), charge_pressure({"vessel": "A"}, rows[:3], view)):
        assert made is not None
        assert [value["inlet"] for value in made.values] == [0.5, None, 0.6]
        assert "read in 2 runs" in made.sentence and "In 1 more it was not read" in made.sentence
        drawn = svg(spec(made.kind, made.params), made.values)
        (line,) = re.findall(
            r'<path aria-label[^>]*d="([^"]*)"|class="mark-line[^>]*>\s*<path[^>]* d="([^"]*)"', drawn
        )
        assert "".join(line).count("M") == 2


def test_of_rinses_it_is_warned_where_a_resin_stands() -> None:
    chips, resin = {"type": "absorbent"}, {"type": "resin"}
    assert len(cautions([chips])) == 2 and len(cautions([chips, resin])) == 3
    assert "contaminated methanol" in cautions([resin])[1]
