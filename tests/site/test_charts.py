"""Charts as they are read in a real browser: at every width, for a period, by mouse and keyboard."""

from __future__ import annotations

from pathlib import Path

import pytest
from selenium import webdriver
from selenium.webdriver.common.action_chains import ActionChains
from selenium.webdriver.common.by import By
from selenium.webdriver.common.keys import Keys
from selenium.webdriver.support.wait import WebDriverWait

from tests.site.browsing import KINDS, PATIENCE_S, PHONE, WIDE, complaints, go, look, run

CHARTED = ("batches", "charge", "columns", "costs", "drift", "oil", "quality", "tanks")
# Charts that are wider than the place they stand in.
STANDS_OUT = """
return [...document.querySelectorAll('.chart .view')].filter(each => each.scrollWidth > each.clientWidth + 1)
  .map(each => `${each.parentElement.id}: ${each.scrollWidth} in ${each.clientWidth}`)"""
WIDTH = "return Number(document.querySelector('.chart .stage svg').getAttribute('width'))"
POINTS = "return [...document.querySelectorAll('.chart')].map(each => each.querySelectorAll('.stage .mark-symbol path').length)"


def until(browser: webdriver.Chrome, script: str) -> None:
    WebDriverWait(browser, PATIENCE_S, 0.05).until(lambda _: run(browser, script))


@pytest.mark.parametrize("kind", CHARTED)
def test_no_chart_scrolls_sideways_on_a_phone(browser: webdriver.Chrome, demo: Path, kind: str) -> None:
    look(browser, width=PHONE)
    go(browser, (demo / KINDS[kind]).as_uri())
    assert run(browser, STANDS_OUT) == []
    assert complaints(browser) == []


def test_a_chart_fits_again_when_the_phone_is_turned(browser: webdriver.Chrome, demo: Path) -> None:
    look(browser, width=PHONE)
    go(browser, (demo / "costs.html").as_uri())
    upright = run(browser, WIDTH)
    look(browser, width=PHONE * 2)
    until(browser, f"{WIDTH} > {upright} + 100")
    look(browser, width=PHONE)
    until(browser, f"{WIDTH} === {upright}")
    assert run(browser, STANDS_OUT) == []


def test_days_by_keyboard_cut_every_chart_and_a_button_brings_all_back(
    browser: webdriver.Chrome, served: str
) -> None:
    go(browser, f"{served}batches.html")
    whole = run(browser, POINTS)
    field = browser.find_element(By.ID, "period-from")
    field.send_keys("01", "01", "2026")
    until(browser, f"{POINTS}.every((number, at) => 0 < number && number < {whole}[at])")
    assert "from=2026-01-01" in browser.current_url
    cut = run(browser, POINTS)
    go(browser, browser.current_url)
    browser.refresh()
    until(browser, f"{POINTS}.join() === '{','.join(map(str, cut))}'")
    browser.find_element(By.CSS_SELECTOR, "#period button").send_keys(Keys.ENTER)
    until(browser, f"{POINTS}.join() === '{','.join(map(str, whole))}'")
    assert "from=" not in browser.current_url and complaints(browser) == []


def test_a_stretch_marked_with_the_mouse_is_the_period_of_all_charts(
    browser: webdriver.Chrome, demo: Path
) -> None:
    go(browser, (demo / "batches.html").as_uri())
    whole = run(browser, POINTS)
    first = browser.find_element(By.CSS_SELECTOR, ".chart .stage svg")
    browser.execute_script("arguments[0].scrollIntoView({block: 'center'})", first)
    mouse = ActionChains(browser).move_to_element_with_offset(first, -150, 0).click_and_hold()
    mouse.move_by_offset(50, 0).move_by_offset(150, 0).release().perform()
    until(browser, f"{POINTS}.every((number, at) => number < {whole}[at])")
    days = [browser.find_element(By.ID, f"period-{end}").get_attribute("value") for end in ("from", "to")]
    assert "" not in days and f"from={days[0]}&to={days[1]}" in browser.current_url
    assert complaints(browser) == []


def test_a_period_without_anything_says_so(browser: webdriver.Chrome, demo: Path) -> None:
    go(browser, f"{(demo / 'batches.html').as_uri()}#from=2001-01-01&to=2001-12-31")
    told = [each.text for each in browser.find_elements(By.CSS_SELECTOR, ".chart .stage")]
    assert told and set(told) == {"Nothing of this period."}
    assert complaints(browser) == []


# Words of a chart on others (a sign may stand on its like), by more than the white around letters, and words that stand out of their picture.
CLASHES = """
return [...document.querySelectorAll('.chart .stage svg')].flatMap(svg => {
  const frame = svg.getBoundingClientRect(), id = svg.closest('figure').id;
  const words = [...svg.querySelectorAll('text')].filter(each => each.textContent.trim()
    && getComputedStyle(each).opacity !== '0').map(each => [each.textContent, each.getBoundingClientRect()]);
  const clash = (a, b) => Math.min(a.right, b.right) - Math.max(a.left, b.left) > 2
    && Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top) > 4;
  const out = words.filter(([, box]) => box.right > frame.right + 1 || box.left < frame.left - 1)
    .map(([text]) => `${id}: ${text} stands out`);
  words.forEach(([text, box], at) => words.slice(at + 1).forEach(([other, its]) => {
    if (text !== other && clash(box, its)) out.push(`${id}: ${text} on ${other}`);
  }));
  return out;
});"""


@pytest.mark.parametrize("width", [PHONE, 640, WIDE])
@pytest.mark.parametrize("kind", CHARTED)
def test_no_word_of_a_chart_stands_on_another_or_out_of_it(
    browser: webdriver.Chrome, demo: Path, kind: str, width: int
) -> None:
    look(browser, width=width)
    go(browser, (demo / KINDS[kind]).as_uri())
    assert run(browser, CLASHES) == []
