"""Names in charts: of lines, limits and marks, in the language, at every width, and none on another."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from html import unescape
from typing import Any

import pytest

from generator.charts.kinds import spec
from generator.language import speaking
from generator.render.pictures import svg

from .samples import SAMPLES, Sample

PLACED = re.compile(r'<text[^>]*transform="translate\(([-\d.]+),([-\d.]+)\)[^>]*>([^<]+)</text>')
LINE = 13.0  # px, of text


def sample(kind: str) -> Sample:
    return next(each for each in SAMPLES if each.kind == kind)


def texts(drawn: str) -> list[str]:
    return [unescape(text) for _, _, text in PLACED.findall(drawn)]


def heights(drawn: str, *names: str) -> list[float]:
    """The heights of the first text of each name; several groups may move it, all names of a panel alike."""
    return [next(float(y) for _, y, text in PLACED.findall(drawn) if text == name) for name in names]


def narrow(made: Mapping[str, Any], width: int) -> dict[str, Any]:
    if "vconcat" in made:
        return {**made, "vconcat": [{**each, "width": width} for each in made["vconcat"]]}
    return {**made, "width": width}


@pytest.mark.parametrize("kind", ["control", "property_limit"])
def test_a_narrow_chart_names_a_limit_without_its_edition(kind: str) -> None:
    each = sample(kind)
    made = spec(kind, each.params)
    label, short = (f"at most 500 mg/kg, {each.params[key]}" for key in ("limit_label", "limit_short"))
    wide, phone = texts(svg(made, each.rows)), texts(svg(narrow(made, 250), each.rows))
    assert label in wide and short not in wide
    assert short in phone and label not in phone


@pytest.mark.parametrize("average", [195.0, 200.0, 205.0, 230.0, 299.0, 301.0, 315.0, 400.0, 409.0, 420.0])
def test_the_name_of_the_mean_stands_on_no_other(average: float) -> None:
    each = sample("control")
    drawn = svg(spec("control", each.params), [{**row, "average": average} for row in each.rows])
    mean, *others = heights(drawn, "mean", "upper limit", "centre", "lower limit")
    assert all(abs(mean - other) >= LINE for other in others)
    if average in (230.0, 400.0):  # far from the others: at its line
        apart = heights(drawn, "upper limit", "centre")
        assert min(abs(mean - other) for other in apart) > LINE


def test_only_the_states_that_there_are_stand_in_the_key() -> None:
    each = sample("control")
    params = {**each.params, "states": ["limits frozen from it"]}
    assert "something calls" in texts(svg(spec("control", each.params), each.rows))
    assert "something calls" not in texts(svg(spec("control", params), each.rows[:2]))


@pytest.mark.parametrize(("first", "side"), [(1, 1), (4, -1)])
def test_a_run_that_filled_a_fresh_bed_is_named_once_on_the_side_with_room(first: int, side: int) -> None:
    rows = [
        {
            "date": f"2026-0{month}-05",
            "batch": f"b{month}",
            "yield_volume_pct": 80.0 if month == first else 90.0 + month,
            "first_run": month in (first, 3),
            "median": None,
        }
        for month in range(1, 6)
    ]
    drawn = svg(spec("yield_time", {}), rows)
    named = [float(x) for x, _, text in PLACED.findall(drawn) if text == "run that filled a fresh bed"]
    assert len(named) == 1
    points = sorted(float(x) for x in re.findall(r'translate\(([\d.]+),[\d.]+\)" d="M', drawn))
    assert (named[0] - points[first - 1]) * side > 0


@pytest.mark.parametrize(("days", "shown"), [(1, False), (40, True)])
def test_a_charge_is_named_where_its_strip_is_broad_enough(days: int, shown: bool) -> None:
    def strip(name: str, start: str, end: str) -> dict[str, Any]:
        base = {"kind": "charge", "vessel": "A", "charge": f"A-{name}", "standing": False, "told": ""}
        return {**base, "name": name, "start": start, "end": end}

    end = "2026-01-02" if days == 1 else "2026-02-10"
    rows = [strip("77", "2026-01-01", end), strip("78", end, "2026-12-31")]
    found = texts(svg(spec("bed_strips", {"events": []}), rows))
    assert ("77" in found) == shown and "78" in found


def _months(rows: Sequence[Mapping[str, Any]]) -> list[str]:
    return texts(svg(spec("closure", {}), rows))


def test_months_on_an_axis_are_in_the_language() -> None:
    rows = sample("closure").rows
    assert "February" in _months(rows)
    with speaking("de"):
        german = _months(rows)
    assert "Februar" in german and "February" not in german
