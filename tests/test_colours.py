"""Contrast against known pairs, and palettes with a workshop's own colours in them."""

from __future__ import annotations

from pathlib import Path

import pytest

from generator.colours import SCHEMES, contrast, faint, luminance, mixed, palette
from tests.logbook_files import checked


@pytest.mark.parametrize(
    ("first", "second", "expected"),
    [
        # by the definition: (1 + 0.05) / (0 + 0.05), WCAG 2.2 (derived)
        ("#ffffff", "#000000", 21.0),
        ("#123456", "#123456", 1.0),
        # greys on white at the edge of 4.5, widely used as an example (from memory)
        ("#767676", "#ffffff", 4.54),
        ("#777777", "#ffffff", 4.48),
        # pure red, green and blue on white: 1.05 over their coefficients and 0.05 (derived)
        ("#ff0000", "#ffffff", 1.05 / 0.2626),
        ("#00ff00", "#ffffff", 1.05 / 0.7652),
        ("#0000ff", "#ffffff", 1.05 / 0.1222),
    ],
)
def test_contrast_of_known_pairs(first: str, second: str, expected: float) -> None:
    assert contrast(first, second) == pytest.approx(expected, abs=0.005)
    assert contrast(second, first) == contrast(first, second)


def test_white_is_one_and_black_nothing() -> None:
    assert luminance("#ffffff") == pytest.approx(1.0) and luminance("#000000") == 0


def test_the_mix_of_two_lies_between() -> None:
    assert mixed("#000000", "#ffffff") == "#7f7f7f"
    assert mixed("#10f020", "#10f020") == "#10f020"


@pytest.mark.parametrize("scheme", SCHEMES)
def test_the_project_s_own_colours_lack_nothing(scheme: str) -> None:
    assert faint(scheme, {}) == []


def test_both_schemes_name_the_same_colours() -> None:
    light, dark = (palette(scheme, {}) for scheme in SCHEMES)
    assert list(light) == list(dark) and len(light) > 14


def test_a_colour_of_one_s_own_takes_its_place_and_the_margin_follows_the_accent() -> None:
    plain, own = palette("light", {}), palette("light", {"accent": "#007a3d"})
    assert own["accent"] == "#007a3d" and own["margin-rule"] == mixed("#007a3d", plain["paper"])
    same = set(plain) - {"accent", "margin-rule"}
    assert {name: own[name] for name in same} == {name: plain[name] for name in same}


def test_a_paper_too_dark_is_told_of_text_first_and_of_charts_too() -> None:
    found = faint("light", {"paper": "#9aa0a6"})
    assert found == sorted(found, key=lambda each: each.contrast / each.least)
    assert {(each.above, each.least) for each in found} >= {("soft", 4.5), ("link", 4.5), ("orange", 3.0)}
    assert all(each.darker for each in found)


def told(parent: Path, theme: str) -> list[str]:
    settings = f"title: Garden shed\n{theme}"
    found = checked(parent, {"logbook.yaml": ("title: Garden shed\n", settings)})
    return [f"{one.place.line}: {one.code}: {one.hint}" for one in found.problems]


def test_each_colour_that_lacks_is_told_once_at_its_place_and_all_at_once(tmp_path: Path) -> None:
    theme = 'theme:\n  light:\n    link: "#88bbee"\n    soft: "#bbbbbb"\n  dark:\n    ink: "#222222"\n    accent: "#f2853a"\n'
    assert told(tmp_path, theme) == [
        "5: colour-contrast: take a darker 'link'",
        "6: colour-contrast: take a darker 'soft'",
        "8: colour-contrast: take a lighter 'ink'",
    ]


def test_colours_that_can_be_read_are_taken(tmp_path: Path) -> None:
    assert told(tmp_path, 'theme: {light: {link: "#7A2E0B", accent: "#7a2e0b", paper: "#fffdf7"}}\n') == []


def test_a_contrast_is_never_rounded_up_to_what_is_needed(tmp_path: Path) -> None:
    found = checked(
        tmp_path,
        {"logbook.yaml": ("title:", 'theme: {light: {link: "#767676", faint: "#ffffff"}}\ntitle:')},
    )
    (one,) = found.problems  # 4.54 on paper, less on the ground of a place that a link led to
    assert "'link' on 'mark' reaches a contrast of 4.0 to 1" in one.message
