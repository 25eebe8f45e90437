"""Control charts of a logbook: limits that stay, rows that begin anew, bounds that are no values."""

from __future__ import annotations

import math
import random
from collections.abc import Sequence
from datetime import date, timedelta
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.compute.tally import tally
from generator.data import rows
from generator.formulas.censored import ros
from generator.ledger.drift import Piece, pieces
from generator.ledger.ledgers import Ledgers
from generator.ledger.series import MEDIA, OIL, Followed, Line, Point, Setting, lines
from tests.logbook_files import BASE, Changes, log_of

PLAIN = Followed("x", "tests", "water", False, ())
LOGS = Followed("x", "tests", "water", True, ())
# made up: twelve values of mean 10, mean difference of neighbours 12/11, and what comes after
QUIET = [10, 11, 10, 9, 10, 11, 10, 9, 10, 11, 10, 9]


def line(values: Sequence[float | str], of: Followed = PLAIN, begins: dict[int, str] | None = None) -> Line:
    """A row, one value a day; `"<5"` and `">5"` are bounds."""
    points = []
    for place, value in enumerate(values):
        sign = str(value)[0] if isinstance(value, str) else ""
        number = float(str(value).lstrip("<>"))
        why = (begins or {}).get(place, "" if place else "the first")
        points.append(Point(f"b{place}", date(2026, 1, 1) + timedelta(place), number, sign, why))
    return Line(of, "shed", "by hand", tuple(points))


def only(values: Sequence[float | str], of: Followed = PLAIN) -> Piece:
    (piece,) = pieces(line(values, of), 12)
    return piece


def test_limits_are_those_of_the_first_points() -> None:
    found = only([*QUIET, 30, 40, 50]).centre
    assert found is not None
    assert found.mean == pytest.approx(10)
    assert found.sigma == pytest.approx(1 / (2 / math.sqrt(math.pi)))  # every difference is 1; derived
    assert found.basis == "mean and moving range"


@given(st.lists(st.floats(0, 100), max_size=10), st.lists(st.floats(0, 100), max_size=10))
def test_no_later_point_moves_what_was_said_of_an_earlier_one(later: list[float], other: list[float]) -> None:
    first, second = only([*QUIET, *later]), only([*QUIET, *other])
    same = 12 + next(
        (n for n, (a, b) in enumerate(zip(later, other, strict=False)) if a != b), min(len(later), len(other))
    )
    assert first.centre == second.centre
    assert first.points[:same] == second.points[:same]


def test_under_twelve_points_there_are_no_limits() -> None:
    piece = only(QUIET[:11])
    assert (piece.centre, piece.without) == (None, "11 of the 12 points that limits take")
    assert [one.signals for one in piece.points] == [()] * 11
    assert piece.points[1].moving_range == 1


def test_a_point_beyond_calls_and_the_sums_call_for_a_shift() -> None:
    piece = only([*QUIET, 15, 10, *[11.2] * 12])
    assert piece.points[12].signals[:1] == ("1",)
    assert "cumulative sum" in piece.points[-1].signals and "4" in piece.points[-1].signals
    assert "weighted mean" in piece.points[-1].signals
    assert piece.points[5].signals == ()


def test_a_sum_gathers_what_lies_more_than_half_a_standard_deviation_off() -> None:
    """The last of the quiet values is one below their mean: each such value adds its distance less a half; derived."""
    one = 2 / math.sqrt(math.pi)  # standard deviations, where every difference is 1
    above, below = (only([*QUIET, *values]).points[12:] for values in ([11, 11], [9, 9]))
    assert [point.high for point in above] == pytest.approx([one - 0.5, 2 * (one - 0.5)])
    assert [point.low for point in below] == pytest.approx([2 * (one - 0.5), 3 * (one - 0.5)])


def test_a_row_begins_anew_and_so_do_ranges_averages_and_sums() -> None:
    shifted = [value + 20 for value in QUIET]
    first, second = pieces(line([*QUIET, *shifted], begins={12: "media: beads after chips"}), 12)
    assert (first.number, second.number, second.begins) == (1, 2, "media: beads after chips")
    assert second.centre is not None and second.centre.mean == pytest.approx(30)
    assert second.points[0].moving_range is None
    assert [one.signals for one in second.points] == [one.signals for one in first.points]
    whole = only([*QUIET, *shifted])
    assert whole.points[12].moving_range == 21 and "1" in whole.points[12].signals


def test_soap_is_charted_by_its_logarithm() -> None:
    piece = only([math.exp(value) for value in QUIET], LOGS)
    assert piece.centre is not None and piece.centre.mean == pytest.approx(10)
    assert piece.points[0].charted == pytest.approx(10)
    assert piece.points[1].moving_range == pytest.approx(1)


def test_a_bound_is_never_taken_for_a_value() -> None:
    values: list[float | str] = ["<9.5", 11, 10, 9, "<9.5", 11, 10, 9, 10, 11, 10, 9, "<30", "<2"]
    piece = only(values)
    fitted = ros([11, 10, 9, 11, 10, 9, 10, 11, 10, 9], [9.5, 9.5])
    assert piece.centre is not None
    assert (piece.centre.mean, piece.centre.sigma) == (fitted.mean, fitted.sigma)
    assert piece.centre.basis == "regression on order statistics, 2 of 12 not detected"
    assert piece.points[12].signals == ()  # below 30 may be anything
    assert piece.points[13].signals[:1] == ("1",)  # below 2 lies below the lower limit whatever it is
    assert [one.average for one in piece.points] == [None] * 14
    assert (piece.points[1].moving_range, piece.points[2].moving_range) == (None, 1)


def test_where_most_was_not_detected_there_are_no_limits() -> None:
    assert only([*["<9"] * 7, *QUIET[:5]]).without == "7 of the first 12 were not detected"
    assert only([*["<8"] * 6, *QUIET[:6]]).centre is not None
    assert only([">20", *QUIET]).without == "a value above a bound among the first points"
    assert only([10] * 12).without == "the first points are all alike"


@pytest.mark.parametrize(
    ("told", "known", "baseline"),
    [("known", True, 12), ("12", False, 12), ("20", False, 20), ("30", False, 30)],
)
def test_how_often_an_unchanged_row_calls_is_what_the_page_says(
    told: str, known: bool, baseline: int
) -> None:
    """600 made-up rows in which nothing changes: twenty points after the limits; give or take four standard errors."""
    chance = random.Random(baseline)
    called = 0
    for _ in range(600):
        values = [chance.gauss(0, 1) for _ in range(baseline + 20)]
        piece = _known(values[:20]) if known else pieces(line([value + 50 for value in values]), baseline)[0]
        called += any(one.signals for one in piece.points[-20:])
    share = 100 * called / 600
    assert share == pytest.approx(rows("run_rules")["within_twenty"][told], abs=4 * 100 * 0.5 / 600**0.5)


def _known(values: Sequence[float]) -> Piece:
    """Twenty points held to the limits that are true of them."""
    from generator.ledger.drift import Centre, _against

    points = line(values).points
    found = Centre(0.0, 1.0, "known")
    return Piece(1, "", tuple(_against(points, list(values), found, 0)), found)


# --- rows of a logbook ---------------------------------------------------------------------------------------------------

B2 = (BASE / "batches" / "b2.yaml").read_text(encoding="utf-8")
EVERY = ("oil", "media", "last bed")


def more_batches(count: int) -> Changes:
    """Batches with a water test alone, behind no columns, a day apart."""
    out = {}
    for place in range(count):
        out[f"batches/w{place:02}.yaml"] = (
            f"batch: w{place:02}\ndate: 2026-02-{place + 1:02}\noil: [{{lot: oil-1, volume: 1 L at 15 °C}}]\n"
            "reaction:\n  - catalyst: [{lot: koh-1, mass: 10 g}]\n    methanol: [{lot: meoh-1, volume: 200 mL at 15 °C}]\n"
            f"tests:\n  - {{property: water, value: {300 + 10 * (place % 3)} mg/kg, method: kit}}\n"
            f"  - {{property: water, value: 900 mg/kg, method: kit}}\n"
            f"  - {{property: water, value: 280 mg/kg, method: EN ISO 12937, laboratory: true}}\n"
        )
    return out


def found_lines(
    parent: Path, changes: Changes, breaks: Sequence[str] = EVERY
) -> dict[tuple[str, str, str], Line]:
    ledgers = Ledgers(log_of(parent, changes))
    return {(each.of.name, each.purifier, each.method): each for each in lines(ledgers, breaks)}


def test_another_purifier_and_another_method_make_a_row_of_their_own(tmp_path: Path) -> None:
    found = found_lines(tmp_path, more_batches(3))
    water = {
        key: [point.batch for point in each.points]
        for key, each in found.items()
        if key[0] == "water of the fuel"
    }
    assert water == {
        ("water of the fuel", "", "kit, bench"): ["w00", "w01", "w02"],
        ("water of the fuel", "", "EN ISO 12937, laboratory"): ["w00", "w01", "w02"],
        ("water of the fuel", "shed", "water test kit, bench"): ["b1", "b2"],
    }


def test_a_retest_is_no_point_of_the_row(tmp_path: Path) -> None:
    found = found_lines(tmp_path, more_batches(3))[("water of the fuel", "", "kit, bench")]
    assert [point.value for point in found.points] == [300, 310, 320]


def test_soap_that_was_not_detected_stands_at_its_limit_as_a_bound(tmp_path: Path) -> None:
    none = ("sample: 100 g, acid: 0.3 mL", "sample: 100 g, acid: 0.0 mL")
    found = found_lines(tmp_path, {"batches/b1.yaml": none})[("soap of the product", "shed", "titration")]
    assert [(point.batch, point.sign) for point in found.points] == [("b1", "<"), ("b2", "")]
    assert found.points[0].value == pytest.approx(6.8, abs=0.01)


OTHER_OIL: Changes = {
    "materials/more.yaml": "materials:\n  tallow: {kind: oil, saponification value: 195 mg KOH/g, density: 910 kg/m³ at 15 °C}\n",
    "lots/oil-2.yaml": "lot: oil-2\nmaterial: tallow\nreceived: 2026-01-02\nquantity: 300 L at 15 °C\npaid: 0.30 EUR/L\n",
    "batches/b2.yaml": ("lot: oil-1", "lot: oil-2"),
}


def test_another_oil_breaks_the_row_where_the_settings_say_so(tmp_path: Path) -> None:
    for breaks, expected in ((EVERY, 2), (("media", "last bed"), 1)):
        found = found_lines(tmp_path / str(expected), OTHER_OIL, breaks)[
            ("soap of the feed", "shed", "titration")
        ]
        assert len(pieces(found, 12)) == expected
        assert found.points[1].begins == ("oil: tallow after frying-oil" if expected == 2 else "")


def test_another_charge_at_the_end_of_the_line_breaks_soap_and_not_acid(tmp_path: Path) -> None:
    history = (BASE / "columns" / "shed.yaml").read_text(encoding="utf-8").rstrip("\n")
    again = (
        "\n  - {date: 2026-01-15, event: unload, vessel: B, reason: spent}"
        "\n  - {date: 2026-01-15, event: pack, vessel: B, medium: beads, mass: 10 kg, basis: as supplied, bed: 20 L}\n"
    )
    found = found_lines(tmp_path, {"columns/shed.yaml": history + again})
    assert found[("soap of the product", "shed", "titration")].points[1].begins.startswith("last bed: ")
    assert found[("soap of the feed", "shed", "titration")].points[1].begins == ""
    assert found[("water of the fuel", "shed", "water test kit, bench")].points[1].begins == ""


def test_the_tables_hold_what_was_found(tmp_path: Path) -> None:
    results = tally(Ledgers(log_of(tmp_path, more_batches(20))))
    piece = next(row for row in results.rows("pieces") if row["method"] == "kit, bench")
    points = [row for row in results.rows("drift") if row["method"] == "kit, bench"]
    assert (piece["points"], len(points), piece["from"], piece["until"]) == (20, 20, "w00", "w19")
    assert piece["lower"] < piece["centre"] < piece["upper"]
    assert {row["upper"] for row in points} == {piece["upper"]}
    assert [row["first"] for row in points] == ["yes"] * 12 + ["no"] * 8
    assert piece["mean"] == pytest.approx(sum(row["value"] for row in points) / 20)


def test_what_a_row_begins_after_is_told_by_names_and_found_by_ids(tmp_path: Path) -> None:
    """Two materials of one name are two, and are told by their ids."""
    materials = "materials:\n  tallow: {kind: oil, name: Oil of the fryers, saponification value: 195 mg KOH/g, density: 910 kg/m³ at 15 °C}\n"
    key = ("soap of the feed", "shed", "titration")
    found = found_lines(tmp_path / "one", {**OTHER_OIL, "materials/more.yaml": materials}, EVERY)[key]
    assert found.points[1].begins == "oil: Oil of the fryers after frying-oil"
    base = (BASE / "materials" / "all.yaml").read_text(encoding="utf-8")
    named = base.replace("frying-oil: {kind: oil,", "frying-oil: {kind: oil, name: Oil of the fryers,", 1)
    assert named != base
    changes = {**OTHER_OIL, "materials/more.yaml": materials, "materials/all.yaml": named}
    found = found_lines(tmp_path / "two", changes, EVERY)[key]
    assert found.points[1].begins == "oil: tallow after frying-oil"


def test_a_sum_begins_at_nothing_and_takes_the_first_point() -> None:
    """A first value of one below the mean is 2 / sqrt(pi) standard deviations off, of which a half is slack; derived."""
    one = 2 / math.sqrt(math.pi)
    low, high = (only([*QUIET[start:], *QUIET[:start]]).points[0] for start in (3, 1))
    assert (low.low, low.high) == (pytest.approx(one - 0.5), 0)
    assert (high.low, high.high) == (0, pytest.approx(one - 0.5))


def test_media_are_told_in_the_order_of_the_flow_and_oils_side_by_side() -> None:
    around = Setting("shed", ("rape", "tallow"), ("chips", "beads"), "beads")
    assert around.told(MEDIA, str) == "chips then beads"
    assert around.told(OIL, str) == "rape and tallow"
    assert Setting("shed", (), (), "").told(MEDIA, str) == "none"
