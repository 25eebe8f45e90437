"""The style sheet of a workshop: its colours in both schemes, and strings at the edges of paper that nothing ends."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest

from generator.colours import palette
from generator.render.assets import assets
from generator.render.face import LONGEST, colours_css, css_string, edges_css
from generator.render.site import template_dir

from .outline import Outline
from .test_assets import RESULTS

HOSTILE = '"; } body { display: none } @import url(x); /* \\ \n </style> é 油'


def variables(css: str) -> list[dict[str, str]]:
    return [dict(re.findall(r"--([a-z-]+): (#[0-9a-f]{6});", part)) for part in css.split("@media")]


def test_variables_are_the_palette_of_each_scheme() -> None:
    own = {"light": {"link": "#7a2e0b"}, "dark": {"accent": "#ffb38a"}}
    light, dark = variables(colours_css(own))
    assert light == palette("light", own["light"]) and dark == palette("dark", own["dark"])
    assert light["link"] == "#7a2e0b" and dark["link"] == palette("dark", {})["link"]


def test_the_sheet_begins_with_the_colours_and_the_one_of_paper_sets_them_aside() -> None:
    files = assets({}, replace(RESULTS, theme={"light": {"link": "#7a2e0b"}}))
    css = files["assets/style.css"].decode()
    assert css.startswith(":root{color-scheme:light dark;--paper:#ffffff;")
    assert "--link:#7a2e0b;" in css and "--link:#000;" in files["assets/print.css"].decode()


@pytest.mark.parametrize("text", [HOSTILE, "", "Garden shed", "a\\", "x" * 200])
def test_a_string_holds_its_text_and_nothing_ends_it(text: str) -> None:
    made = css_string(text)
    inner = made[1:-1]
    assert re.fullmatch(r"(?:[A-Za-z0-9 .,\-()']|\\[0-9a-f]{1,6} )*", inner)
    back = re.sub(r"\\([0-9a-f]{1,6}) ", lambda match: chr(int(match[1], 16)), inner)
    assert back == text


def test_the_edges_name_whose_as_of_when_and_how_far() -> None:
    css = edges_css(RESULTS)
    assert '@top-left { content: "A shed"; }' in css and '@top-right { content: "as of 2026-03-01"; }' in css
    assert "counter(page)" in css and "Private" in css
    shared = edges_css(replace(RESULTS, audience="shared"))
    assert "Private" not in shared


def test_a_long_title_is_cut() -> None:
    css = edges_css(replace(RESULTS, title="t" * 200))
    assert f'content: "{"t" * (LONGEST - 1)}\\2026 ";' in css


def test_a_hostile_title_adds_no_rule() -> None:
    plain, hostile = edges_css(RESULTS), edges_css(replace(RESULTS, title=HOSTILE))
    assert re.sub(r'"[^"]*"', '""', hostile) == re.sub(r'"[^"]*"', '""', plain)


@pytest.mark.parametrize("name", ["mark", "name-mark"])
def test_marks_are_plain_pictures_of_our_own(name: str) -> None:
    text = (template_dir() / f"{name}.svg").read_text(encoding="utf-8")
    found = Outline(text)
    assert {tag for tag, _ in found.elements} <= {"svg", "style", "path", "g"} and found.faults == []
    assert "href" not in text and "url(" not in text and "<text" not in text
    assert len(text) < 2000
    assert "prefers-color-scheme:dark" in text
