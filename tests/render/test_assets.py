"""Files beside the pages: the vendored library is the pinned package's own, style and scripts keep to the policy."""

from __future__ import annotations

import json
import re
from hashlib import sha256
from importlib.metadata import version

import pytest
import vl_convert

from generator.charts.theme import CATEGORIES, INK, SOFT
from generator.colours import contrast
from generator.compute.results import Results
from generator.pages.view import Chart, Page
from generator.render.assets import COMMON, OWN, SCRIPTS, assets
from generator.render.face import colours_css
from generator.render.pictures import Pictures, svg
from generator.render.site import template_dir

from .outline import Outline
from .pages import chart

RESULTS = Results(
    title="A shed",
    notice=None,
    as_of="2026-03-01",
    as_of_basis="the latest date",
    currency="EUR",
    display={"volume": "L", "temperature": "°C"},
    reference_c=15.0,
    specification="",
    specification_source="",
    instruments={"scale": "0.1 g"},
    target_per_l=None,
    thresholds={},
)


def page(*charts: Chart) -> Page:
    return Page("quality.html", "Quality", "quality.html", "", "quality", {"charts": list(charts)})


def test_the_vendored_library_equals_the_bundle_of_the_pinned_package() -> None:
    assert (
        template_dir() / "vendor" / "vega" / "vega.js"
    ).read_bytes() == vl_convert.javascript_bundle().encode()  # type: ignore[call-arg]


def test_its_notices_name_the_versions_that_are_in_it() -> None:
    notices = (template_dir() / "vendor" / "vega" / "LICENCES.txt").read_text(encoding="utf-8")
    assert f"vl-convert-python {version('vl-convert-python')}" in notices
    assert f"vega {vl_convert.get_vega_version()} (BSD-3-Clause)" in notices
    assert f"vega-embed {vl_convert.get_vega_embed_version()} (BSD-3-Clause)" in notices
    assert f"vega-lite {vl_convert.get_vegalite_versions()[-1]}." in notices
    assert notices.count("Redistributions in binary form") >= 5


def test_every_sheet_and_script_is_shipped() -> None:
    assert sorted(path.stem for path in (template_dir() / "css").iterdir()) == sorted(
        [*COMMON, *OWN, "print"]
    )
    assert sorted(path.stem for path in (template_dir() / "js").iterdir()) == sorted(SCRIPTS)
    files = assets({}, RESULTS)
    ours = {
        "assets/style.css",
        "assets/print.css",
        *(f"assets/{name}.css" for name in OWN),
        "assets/mark.svg",
        "assets/name-mark.svg",
        *(f"assets/{name}.js" for name in SCRIPTS),
    }
    assert ours == {name for name in files if "/minisearch/" not in name}


def test_the_searching_library_is_the_pinned_file_with_its_licence() -> None:
    files = assets({}, RESULTS)
    notice = files["assets/minisearch/LICENCE.txt"].decode()
    digest = sha256(files["assets/minisearch/minisearch.js"]).hexdigest()
    assert digest == "03c27931eb603af1d3358579e9885eafdb6a2f5fa9929557b3e77d7e99d06d03"
    assert (
        digest in notice and "minisearch 7.2.0 (MIT)" in notice and "Permission is hereby granted" in notice
    )
    assert digest in (template_dir().parent / "DEVELOPERS.md").read_text(encoding="utf-8")


def test_the_library_comes_only_with_charts() -> None:
    files = assets(Pictures().specifications([page(chart("x"))]), RESULTS)
    assert {"assets/specs.js", "assets/vega/vega.js", "assets/vega/LICENCES.txt"} <= set(files)


def test_specifications_come_back_from_their_script() -> None:
    made = Pictures().specifications([page(chart("x"))])
    text = assets(made, RESULTS)["assets/specs.js"].decode()
    assert json.loads(text.removeprefix("window.chartSpecs = ").rstrip(";\n")) == made


def test_one_chart_id_cannot_stand_for_two_charts() -> None:
    first = chart("x")
    other = Chart(first.id, "x", "x", "yield_time", first.values, first.table)
    with pytest.raises(ValueError, match="closure"):
        Pictures().specifications([page(first), page(other)])
    assert list(Pictures().specifications([page(first), page(chart("y"))])) == ["closure"]


def test_nothing_is_fetched_from_elsewhere() -> None:
    for name, data in assets({}, RESULTS).items():
        if (
            "/minisearch/" in name
        ):  # its comments name addresses; that nothing is asked of them is seen in the browser
            continue
        text = data.decode()
        assert not re.findall(
            r"@import|url\((?!#)|fetch\(|XMLHttpRequest|import\(|\beval\b|new Function|innerHTML", text
        ), name
        assert set(re.findall(r"https?://[^\s\"']+", text)) <= {"http://www.w3.org/2000/svg"}, name


def _themes() -> dict[str, dict[str, str]]:
    """The colours of the light, of the dark, and of paper, each as the sheets name them."""
    screen, printed = colours_css({}), (template_dir() / "css" / "print.css").read_text(encoding="utf-8")
    light, dark = screen.split("@media (prefers-color-scheme: dark)")
    texts = {"light": light, "dark": dark, "paper": printed}
    found = {name: re.findall(r"--([a-z-]+): (#[0-9a-f]+);", text) for name, text in texts.items()}
    return {name: {key: _whole(value) for key, value in pairs} for name, pairs in found.items()}


def _whole(colour: str) -> str:
    """Six digits where a sheet writes three."""
    return colour if len(colour) == 7 else "#" + "".join(2 * digit for digit in colour[1:])


@pytest.mark.parametrize("theme", ["light", "dark", "paper"])
def test_marks_reach_three_to_one_and_text_four_and_a_half(theme: str) -> None:
    """Source: WCAG 2.2, success criteria 1.4.11 and 1.4.3; published. Text also lies on shaded and marked grounds."""
    colours = _themes()[theme]
    for name in ("blue", "vermilion", "green", "purple", "orange", "sky", "grey", "accent", "ink", "soft"):
        assert contrast(colours[name], colours["paper"]) >= 3.0, name
    for ground in [ground for ground in ("paper", "faint", "mark") if ground in colours]:
        for name in ("ink", "soft", "link"):
            assert contrast(colours[name], colours[ground]) >= 4.5, (name, ground)


def test_every_colour_of_a_chart_is_one_of_the_theme() -> None:
    """So that the test above speaks of all of them, on the screen and on paper."""
    for colours in _themes().values():
        assert {re.sub(r"var\(--(\w+)\)", r"\1", name) for name in (*CATEGORIES, INK, SOFT)} <= set(colours)


def test_a_picture_holds_no_style_attribute_and_counts_its_own_ids() -> None:
    first, again = Pictures().picture(chart("x")), Pictures().picture(chart("x"))
    assert first == again
    assert " style=" not in first
    assert all(name.startswith("chart-closure-") for name in re.findall(r'\bid="([^"]*)"', first))


def test_style_attributes_and_counted_ids_of_the_library_do_not_get_through() -> None:
    rough = {
        "mark": {"type": "point", "clip": True, "blend": "multiply"},
        "encoding": {"x": {"field": "x", "type": "quantitative"}},
    }
    raw = vl_convert.vegalite_to_svg({**rough, "data": {"values": [{"x": 1}]}})
    assert " style=" in raw and re.search(r'id="clip\d+"', raw)
    first, again = svg(rough, [{"x": 1}], "one"), svg(rough, [{"x": 1}], "one")
    assert first == again
    assert " style=" not in first
    assert 'id="one-clip-1"' in first and "url(#one-clip-1)" in first


def test_text_of_the_logbook_stays_text_in_a_picture() -> None:
    hostile = '</text><script>alert(1)</script> style="x" & <b>'
    named = {
        "mark": "bar",
        "encoding": {"y": {"field": "n", "type": "nominal"}, "x": {"field": "x", "type": "quantitative"}},
        "config": {"axis": {"labelLimit": 900}},
    }
    found = Outline(svg(named, [{"n": hostile, "x": 1}]))
    assert hostile in found.texts
    assert "script" not in [tag for tag, _ in found.elements] and found.faults == []
