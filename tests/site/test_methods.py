"""How figures are made, on the built site: formulas set by the browser, checks below them, links from every table."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from selenium import webdriver
from selenium.webdriver.common.by import By

from generator.methods import methods
from tests.site.browsing import PHONE, WIDE, complaints, go, look
from tests.site.test_pages import pages, seen

HOW = "a.how:not(.what)"  # to a method, and no mark that leads to the glossary


def test_every_entry_shows_its_formulas_symbols_and_checks(demo: Path) -> None:
    text = (demo / "methods.html").read_text(encoding="utf-8")
    for entry in methods():
        section = re.search(rf'<section class="part method" id="{entry.id}".*?</section>', text, re.DOTALL)
        assert section is not None, entry.id
        assert f'href="#{entry.id}"' in text
        formulas = sum(len(each.formulas) for each in entry.functions)
        symbols = sum(len(each.symbols) for each in entry.functions)
        assert section[0].count('<math display="block"') == formulas
        assert section[0].count('<tr><th scope="row">') == symbols
        assert section[0].count("Source: ") == section[0].count("Range: ") == len(entry.functions)
        held = [each for each in entry.functions if each.checks]
        assert section[0].count('<details class="held">') == len(held)
    assert text.count("Held by ") > 30


def test_columns_of_figures_link_to_how_they_are_made(demo: Path, shared_demo: Path) -> None:
    for site in (demo, shared_demo):
        ids = set(seen(site / "methods.html").ids)
        links = 0
        for path in pages(site):
            for root, method in re.findall(
                r'<a class="how"[^>]* href="((?:\.\./)*)methods\.html#([^"]+)"', path.read_text("utf-8")
            ):
                links += 1
                assert method in ids
                assert root == "../" * (len(path.relative_to(site).parts) - 1)
        assert links > 50


@pytest.mark.parametrize("width", [PHONE, WIDE])
def test_formulas_are_set_and_a_wide_one_scrolls_in_its_own_box(
    browser: webdriver.Chrome, demo: Path, width: int
) -> None:
    look(browser, width=width)
    go(browser, (demo / "methods.html").as_uri())
    assert browser.execute_script("return document.documentElement.scrollWidth") <= width
    boxes = browser.find_elements(By.CSS_SELECTOR, ".formula")
    assert len(boxes) > 40
    wide = 0
    for box in boxes:
        inner, outer, fraction, line = browser.execute_script(
            "const b = arguments[0], f = b.querySelector('mfrac');"
            "return [b.scrollWidth, b.clientWidth, f ? f.getBoundingClientRect().height : null,"
            " parseFloat(getComputedStyle(b).fontSize)];",
            box,
        )
        wide += inner > outer
        assert fraction is None or fraction > 1.6 * line, "a fraction is not stacked"
    assert (wide > 0) == (width == PHONE)
    assert complaints(browser) == []


def test_a_head_still_sorts_and_its_link_leads_to_the_method(browser: webdriver.Chrome, demo: Path) -> None:
    go(browser, (demo / "batches.html").as_uri())
    heads = browser.find_elements(By.CSS_SELECTOR, "table#all-batches thead th")
    head = next(head for head in heads if head.find_elements(By.CSS_SELECTOR, HOW))
    button = head.find_element(By.TAG_NAME, "button")
    assert not button.find_elements(By.TAG_NAME, "a"), "a link inside a button cannot be followed"
    button.click()
    assert head.get_attribute("aria-sort") == "ascending"
    link = head.find_element(By.CSS_SELECTOR, HOW)
    target = str(link.get_attribute("href"))
    link.click()
    assert browser.current_url == target
    assert browser.find_element(By.CSS_SELECTOR, f"[id='{target.partition('#')[2]}']").is_displayed()
