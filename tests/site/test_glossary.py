"""The glossary on the built site: every head has an entry, and marks open by mouse, touch and keyboard."""

from __future__ import annotations

import html
import json
import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from selenium import webdriver
from selenium.webdriver.common.by import By
from selenium.webdriver.common.keys import Keys
from selenium.webdriver.support.wait import WebDriverWait

from generator.pages.glossary import by_label, words
from tests.site.browsing import PATIENCE_S, started
from tests.site.test_pages import pages, seen

MARK = "#all-batches .what"
MARKED = re.compile(r'class="how what"[^>]*href="(?:\.\./)*glossary\.html#([^"]+)"')


@pytest.fixture(scope="module")
def browser() -> Iterator[webdriver.Chrome]:
    driver = started()
    yield driver
    driver.quit()


def heads(path: Path) -> set[str]:
    """The text of every head of a column, without its unit and its marks."""
    cells = re.findall(r'<th scope="col"[^>]*>(.*?)</th>', path.read_text(encoding="utf-8"), re.DOTALL)
    bare = [re.sub(r'<span class="unit">.*', "", cell, flags=re.DOTALL) for cell in cells]
    return {html.unescape(re.sub(r"<[^>]+>", "", cell)).strip() for cell in bare}


def test_every_head_of_every_table_has_an_entry(demo: Path, shared_demo: Path, gallons: Path) -> None:
    found = {head for site in (demo, shared_demo, gallons) for path in pages(site) for head in heads(path)}
    assert len(found) > 80
    assert sorted(found - set(by_label())) == []


def test_every_mark_leads_to_an_entry_that_can_be_told_beside_it(demo: Path, shared_demo: Path) -> None:
    for site in (demo, shared_demo):
        terms = set(seen(site / "glossary.html").ids)
        told = (site / "assets" / "terms.js").read_text(encoding="utf-8")
        brief = json.loads(told.removeprefix("window.glossaryTerms = ").rstrip(";\n"))
        marks = 0
        for path in pages(site):
            found = MARKED.findall(path.read_text(encoding="utf-8"))
            assert set(found) <= terms & set(brief), path.name
            marks += len(found)
        assert marks > 200


def test_an_entry_is_marked_once_in_a_table_and_its_caption(demo: Path) -> None:
    tables = 0
    for path in pages(demo):
        text = path.read_text(encoding="utf-8")
        for part in re.findall(r'<section class="part">\n<h2 id="[^"]+-head">.*?</thead>', text, re.DOTALL):
            marks = MARKED.findall(part)
            tables += len(marks) > 1
            assert len(marks) == len(set(marks)) or "<figure" in part, path.name
    assert tables > 10


def test_the_page_has_every_entry_with_its_caution(shared_demo: Path) -> None:
    text = html.unescape((shared_demo / "glossary.html").read_text(encoding="utf-8"))
    for word in words():
        assert f'id="{word.id}"' in text and word.text in text and word.caution in text


def opened(browser: webdriver.Chrome, address: str) -> None:
    browser.get("about:blank")
    browser.get(address)


def shown(browser: webdriver.Chrome) -> list[str]:
    return [word.text for word in browser.find_elements(By.CSS_SELECTOR, ".word") if word.is_displayed()]


def wait_for(browser: webdriver.Chrome, term: str) -> None:
    """Until one entry stands there, and begins with this term."""
    WebDriverWait(browser, PATIENCE_S, 0.02).until(
        lambda _: len(shown(browser)) == 1 and shown(browser)[0].startswith(term)
    )


@pytest.mark.parametrize("width", [320, 1200])
def test_a_mark_opens_by_pointer_and_closes_beside_it(
    browser: webdriver.Chrome, demo: Path, width: int
) -> None:
    size = {"width": width, "height": 800, "deviceScaleFactor": 1, "mobile": width < 500}
    browser.execute_cdp_cmd("Emulation.setDeviceMetricsOverride", size)
    try:
        opened(browser, (demo / "batches.html").as_uri())
        assert shown(browser) == []
        mark = browser.find_element(By.CSS_SELECTOR, MARK)
        mark.click()
        wait_for(browser, "Oil")
        (word,) = browser.find_elements(By.CSS_SELECTOR, ".word")
        assert "Used cooking oil" in word.text
        assert word.rect["x"] >= 0 and word.rect["x"] + word.rect["width"] <= width
        below = word.rect["y"] - mark.rect["y"]
        assert -word.rect["height"] - 20 < below < 50, "it stands beside its mark"
        browser.find_element(By.TAG_NAME, "h1").click()
        assert shown(browser) == []
    finally:
        browser.execute_cdp_cmd("Emulation.clearDeviceMetricsOverride", {})


def test_a_mark_opens_by_keyboard_and_its_link_is_next(browser: webdriver.Chrome, demo: Path) -> None:
    opened(browser, (demo / "batches.html").as_uri())
    first, mark, *_ = browser.find_elements(By.CSS_SELECTOR, MARK)
    first.send_keys(Keys.ENTER)
    wait_for(browser, "Oil")
    mark.send_keys(Keys.ENTER)
    wait_for(browser, "Acid value")
    browser.switch_to.active_element.send_keys(Keys.ESCAPE)
    assert shown(browser) == []
    assert browser.switch_to.active_element == mark
    mark.send_keys(Keys.ENTER)
    wait_for(browser, "Acid value")
    browser.switch_to.active_element.send_keys(Keys.TAB)
    link = browser.switch_to.active_element
    assert link.text == "Acid value"
    link.send_keys(Keys.ENTER)
    assert browser.current_url.endswith("glossary.html#acid-value")
    assert browser.find_element(By.ID, "acid-value").is_displayed()


def test_without_scripts_a_mark_leads_to_the_glossary(demo: Path) -> None:
    driver = started(scripts=False)
    try:
        opened(driver, (demo / "batches.html").as_uri())
        driver.find_elements(By.CSS_SELECTOR, MARK)[1].click()
        assert driver.current_url.endswith("glossary.html#acid-value")
        assert driver.find_element(By.ID, "acid-value").is_displayed()
    finally:
        driver.quit()
