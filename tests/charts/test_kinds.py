"""Every kind of chart: drawn with its words, in the page's colours, the unknown left out and never drawn as zero."""

from __future__ import annotations

import json
import re
from collections.abc import Mapping
from html import unescape
from typing import Any

import pytest

from generator.charts import theme
from generator.charts.kinds import KINDS, spec
from generator.charts.theme import CATEGORIES
from generator.compute.costs import PARTS
from generator.language import said, speaking
from generator.render.pictures import svg

from .samples import SAMPLES, Sample

EACH = pytest.mark.parametrize("sample", SAMPLES, ids=lambda sample: sample.kind)
MARK = re.compile(r'<g class="mark-(?:symbol|rect|line) role-mark[^>]*>(.*?)</g>', re.DOTALL)
TEXT = re.compile(r"<text[^>]*>([^<]*)</text>")


def marks(sample: Sample, *, with_unknown: bool) -> list[str]:
    rows = [*sample.rows, sample.unknown] if with_unknown else list(sample.rows)
    drawn = svg(spec(sample.kind, sample.params), rows)
    return [piece for group in MARK.findall(drawn) for piece in re.findall(r'<path[^>]*\sd="[^"]+"', group)]


def test_there_is_a_sample_of_every_kind() -> None:
    assert sorted(KINDS) == sorted(sample.kind for sample in SAMPLES)


@EACH
def test_its_words_stand_in_the_picture(sample: Sample) -> None:
    drawn = svg(spec(sample.kind, sample.params), sample.rows)
    texts = [unescape(text) for text in TEXT.findall(drawn)]
    for words in sample.words:
        assert any(words in text for text in texts), (words, texts)


@EACH
def test_an_unknown_value_gives_no_mark(sample: Sample) -> None:
    assert len(marks(sample, with_unknown=True)) == len(marks(sample, with_unknown=False)) > 0
    texts = TEXT.findall(svg(spec(sample.kind, sample.params), [*sample.rows, sample.unknown]))
    assert not {"null", "NaN", "undefined", "0.000"} & set(texts)


@EACH
def test_its_description_names_the_picture(sample: Sample) -> None:
    made = spec(sample.kind, sample.params)
    assert len(made["description"]) > 20
    assert 'role="img" aria-label="' in svg(made, sample.rows)


@EACH
def test_it_asks_for_nothing_from_elsewhere(sample: Sample) -> None:
    assert "http" not in json.dumps(spec(sample.kind, sample.params))


@EACH
def test_colours_are_the_style_sheets(sample: Sample) -> None:
    drawn = svg(spec(sample.kind, sample.params), sample.rows)
    fixed = set(re.findall(r'(?:fill|stroke)="(#[0-9a-fA-F]+|rgb[^"]*)"', drawn))
    assert not fixed
    assert any(colour in drawn for colour in CATEGORIES)


@EACH
def test_words_are_in_the_colours_of_words(sample: Sample) -> None:
    """Those of marks reach 3:1 on the page; what is read needs 4.5:1."""
    drawn = svg(spec(sample.kind, sample.params), sample.rows)
    fills = [match[1] for match in re.finditer(r'<text[^>]*\sfill="([^"]*)"', drawn)]
    assert fills
    assert set(fills) <= {theme.INK, theme.SOFT}


def test_thousands_are_set_as_on_the_pages() -> None:
    row = {"passes": 5.0, "in": 9.0, "out": 3.0, "detected": True}
    drawn = svg(spec("bed_uptake", {"parts": []}), [{**row, "load_g": 2500.0}, {**row, "load_g": 5000.0}])
    texts = TEXT.findall(drawn)
    assert any(",000" in text for text in texts)
    with speaking("de"):
        drawn = svg(spec("bed_uptake", {"parts": []}), [{**row, "load_g": 2500.0}, {**row, "load_g": 5000.0}])
    texts = TEXT.findall(drawn)
    assert any(".000" in text for text in texts)
    assert not any(",000" in text for text in texts)


def test_parts_of_a_cost_lie_in_one_order_in_every_language() -> None:
    sample = next(sample for sample in SAMPLES if sample.kind == "cost_parts")
    with speaking("de"):
        parts = [said(part) for part in PARTS]
        rows = [{**sample.rows[0], "part": part, "per_l": 1.0} for part in reversed(parts)]
        drawn = "".join(MARK.findall(svg(spec(sample.kind, {**sample.params, "names": []}), rows)))
    heights = [float(each) for each in re.findall(r'd="M[\d.-]+,([\d.-]+)h', drawn)]
    assert len(heights) == len(PARTS)
    assert heights == sorted(heights), "the last part lies on top, in whatever order rows come"


def test_the_bar_of_a_single_batch_is_no_wall() -> None:
    sample = next(sample for sample in SAMPLES if sample.kind == "cost_parts")
    one = [row for row in sample.rows if row["batch"] == sample.rows[0]["batch"]]
    drawn = "".join(MARK.findall(svg(spec(sample.kind, {**sample.params, "names": []}), one)))
    widths = [float(width) for width in re.findall(r"h(\d+(?:\.\d+)?)v", drawn)]
    assert len(widths) == len(one)
    assert max(widths) <= 56


def test_an_unknown_part_of_a_cost_is_told_by_a_question_mark() -> None:
    sample = next(sample for sample in SAMPLES if sample.kind == "cost_parts")
    made = spec(sample.kind, sample.params)
    assert "?" not in TEXT.findall(svg(made, sample.rows))
    assert TEXT.findall(svg(made, [*sample.rows, sample.unknown])).count("?") == 1


def test_an_offer_that_cannot_be_judged_is_named_unknown() -> None:
    sample = next(sample for sample in SAMPLES if sample.kind == "offer_range")
    made = spec(sample.kind, sample.params)
    assert "unknown" not in TEXT.findall(svg(made, sample.rows))
    assert "unknown" in TEXT.findall(svg(made, [*sample.rows, sample.unknown]))


def test_a_censored_result_stands_at_its_limit_with_a_mark_of_its_own() -> None:
    sample = next(sample for sample in SAMPLES if sample.kind == "soap_points")
    found = {**sample.rows[2], "detected": True, "mg_per_kg": sample.rows[2]["limit"]}

    def last(row: Mapping[str, Any]) -> tuple[str, str]:
        drawn = svg(spec(sample.kind, sample.params), [*sample.rows[:2], row])
        place = re.findall(r'translate\(([^)]*)\)" d="([^"]*)"', "".join(MARK.findall(drawn)))[-1]
        return place[0], place[1]

    assert last(sample.rows[2])[0] == last(found)[0]
    assert last(sample.rows[2])[1] != last(found)[1]


def test_a_kind_that_is_not_known_is_refused() -> None:
    with pytest.raises(KeyError):
        spec("pie", {})


def test_without_a_target_no_line_is_drawn() -> None:
    made = spec("cost_parts", {"currency": "EUR/L", "target": None, "names": []})
    assert "target" not in json.dumps(made)


def test_the_running_median_goes_through_the_medians_that_are_known() -> None:
    sample = next(sample for sample in SAMPLES if sample.kind == "yield_time")
    drawn = svg(spec(sample.kind, sample.params), sample.rows)
    line = re.search(r'<g class="mark-line role-mark[^>]*>.*?\sd="M([^"]*)"', drawn)
    assert line is not None
    points = [tuple(map(float, point.split(","))) for point in line[1].split("L")]
    known = [row["median"] for row in sample.rows if row["median"] is not None]
    assert len(points) == len(known) == 2
    assert (
        points[0][0] < points[1][0] and points[0][1] > points[1][1]
    )  # later, and higher up: y counts downwards


@pytest.mark.parametrize("parts", [[], ["capacity"], ["band", "capacity", "curve"]])
def test_what_a_bed_lets_through_has_no_layer_without_rows(parts: list[str]) -> None:
    """A layer without any row has no extent, and the console of every reader says so."""
    made = json.dumps(spec("bed_uptake", {"parts": parts}))
    assert ("datum.curve" in made) == ("curve" in parts)
    assert ("datum.high > datum.low" in made) == ("band" in parts)
    assert ("datum.middle)" in made) == ("capacity" in parts)
