"""Every kind of page as people read it: on a phone, enlarged, in colours of their own, without motion."""

from __future__ import annotations

from pathlib import Path

import pytest
from selenium import webdriver

from tests.site.browsing import PHONE, WIDE, every_kind, go, look, run

LEAST_PX = 10  # that the letters of a picture are high; common practice, no source

# What sticks out of the window and is in no box that scrolls by itself: text that nobody can reach.
CUT = """
const wide = document.documentElement.clientWidth;
const scrolls = each => { for (let up = each; up; up = up.parentElement) {
  if (/auto|scroll/.test(getComputedStyle(up).overflowX)) return true; } return false; };
return [...document.querySelectorAll('body *')].filter(each => each.checkVisibility({visibilityProperty: true})
  && each.getBoundingClientRect().right > wide + 1 && !each.closest('.hidden, .skip, svg svg') && !scrolls(each))
  .map(each => each.outerHTML.slice(0, 150))"""
# Text that is cut off within its own box.
CLIPPED = """
return [...document.querySelectorAll('main *')].filter(each => /hidden|clip/.test(getComputedStyle(each).overflowX)
  && !each.closest('.hidden, caption, thead, svg') && each.scrollWidth > each.clientWidth + 1)
  .map(each => each.outerHTML.slice(0, 150))"""

# A number whose ± or unit does not stand on its line; they are joined by a space that does not break.
TORN = """
return [...document.querySelectorAll('.figures dt + dd')].filter(each => {
  const text = [...each.childNodes].find(node => node.nodeType === 3);
  const number = text && /[\\d.,]+(?:\\u202f[^\\s]*)+/.exec(text.data);
  if (!number) return false;
  const range = document.createRange();
  range.setStart(text, number.index); range.setEnd(text, number.index + number[0].length);
  return new Set([...range.getClientRects()].map(each => Math.round(each.top))).size > 1; }).map(each => each.textContent)"""


def _fits(browser: webdriver.Chrome, width: int) -> None:
    assert run(browser, "return document.documentElement.scrollWidth") <= width
    assert run(browser, CUT) == []
    assert run(browser, CLIPPED) == []


@every_kind
def test_a_phone_scrolls_only_down_with_wider_spacing_of_text_too(
    browser: webdriver.Chrome, demo: Path, page: str
) -> None:
    """Source: WCAG 2.2, success criterion 1.4.12: lines 1.5, paragraphs 2, letters 0.12, words 0.16; published."""
    look(browser, width=PHONE)
    go(browser, (demo / page).as_uri())
    _fits(browser, PHONE)
    run(
        browser,
        "for (const each of document.querySelectorAll('body *')) { if (!each.closest('svg')) Object.assign(each.style,"
        " {lineHeight: '1.5', letterSpacing: '0.12em', wordSpacing: '0.16em'}); }"
        "for (const each of document.querySelectorAll('p')) { each.style.marginBottom = '2em'; }",
    )
    _fits(browser, PHONE)


@every_kind
@pytest.mark.parametrize("width", [360, 390, 430])  # of phones in use; common practice, no source
def test_a_number_keeps_its_unit_on_a_phone(
    browser: webdriver.Chrome, demo: Path, page: str, width: int
) -> None:
    look(browser, width=width)
    go(browser, (demo / page).as_uri())
    assert run(browser, TORN) == []


# Colours of the reader's own: every word of a chart is in one of them.
TEXT_COLOURS = """
const wanted = ['CanvasText', 'LinkText', 'ButtonText', 'FieldText', 'GrayText', 'VisitedText'].map(name => {
  document.body.style.outlineColor = name; return getComputedStyle(document.body).outlineColor; });
const texts = [...document.querySelectorAll('.stage svg text, figure svg[role=img] text')].filter(each => each.checkVisibility());
return [...new Set(texts.map(each => getComputedStyle(each).fill).filter(colour => !wanted.includes(colour)))]"""


def _takes_the_readers_colours(browser: webdriver.Chrome) -> None:
    for scheme in ("light", "dark"):
        look(browser, forced_colors="active", prefers_color_scheme=scheme)
        assert run(browser, "return matchMedia('(forced-colors: active)').matches")
        assert run(browser, TEXT_COLOURS) == []
        line = "getComputedStyle(each).borderBottomStyle + ' ' + getComputedStyle(each).borderBottomWidth"
        lines = run(
            browser,
            f"return [...document.querySelectorAll('.top li a')].map(each => [each.ariaCurrent, {line}])",
        )
        assert {how for current, how in lines if current} <= {
            "solid 2px"
        }  # the index stands beside the others
        assert {how for current, how in lines if not current} == {"none 0px"}


def _keeps_still(browser: webdriver.Chrome) -> None:
    moving = (
        "return [...document.querySelectorAll('*')].filter(each => { const style = getComputedStyle(each);"
        " return style.animationName !== 'none' || parseFloat(style.transitionDuration) > 0 || style.scrollBehavior === 'smooth'; })"
        ".length + document.getAnimations().length"
    )
    look(browser, prefers_reduced_motion="no-preference")
    assert run(browser, moving) > 0  # the links of the navigation: the test below sees what moves
    look(browser, prefers_reduced_motion="reduce")
    assert run(browser, moving) == 0


@every_kind
def test_at_a_desk_it_fits_enlarged_takes_the_readers_colours_and_keeps_still(
    browser: webdriver.Chrome, demo: Path, page: str
) -> None:
    """One opening of the page for all three.

    Source: WCAG 2.2, success criteria 1.4.4 (text alone to 200 %) and 1.4.10 (the whole page); published.
    """
    go(browser, (demo / page).as_uri())
    _keeps_still(browser)  # before colours change, for that is a motion too
    look(browser, zoom=2)
    _fits(browser, WIDE // 2)
    _takes_the_readers_colours(browser)
    look(browser)
    run(browser, "document.documentElement.style.fontSize = '212.5%'")
    _fits(browser, WIDE)


@pytest.mark.parametrize("width", [PHONE, WIDE])
def test_the_words_of_a_flow_can_be_read_and_a_narrow_one_scrolls(
    browser: webdriver.Chrome, demo: Path, width: int
) -> None:
    look(browser, width=width)
    go(browser, (demo / "tracing.html").as_uri())
    _fits(browser, width)
    flows = run(
        browser,
        "return [...document.querySelectorAll('.flow .scroll')].map(each => { const svg = each.querySelector('svg');"
        " return [13 * svg.getBoundingClientRect().width / svg.viewBox.baseVal.width, each.scrollWidth > each.clientWidth]; })",
    )
    assert len(flows) == 3
    assert all(size >= LEAST_PX and scrolls == (width == PHONE) for size, scrolls in flows)
