"""A browser without popovers: on a phone the names of the pages stand in the page, and a mark leads to the glossary."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest
from selenium import webdriver
from selenium.webdriver.common.by import By

from tests.site.browsing import PHONE, complaints, go, look, run

PAGES = ("index.html", "batches/2026-020.html", "quality.html")
NO_POPOVERS = "for (const name of ['popover', 'showPopover', 'hidePopover', 'togglePopover']) delete HTMLElement.prototype[name];"


@pytest.fixture(scope="module")
def older(demo: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The demo as such a browser has it: what it does not know in sheets and pages says nothing to it."""
    site = tmp_path_factory.mktemp("older") / "site"
    site.mkdir()
    for name in ("assets", *(page for page in (*PAGES, "glossary.html"))):
        (site / name).parent.mkdir(parents=True, exist_ok=True)
        if (demo / name).is_dir():
            shutil.copytree(demo / name, site / name)
        else:
            text = (demo / name).read_text(encoding="utf-8")
            assert ' id="pages" popover>' in text
            (site / name).write_text(
                text.replace(' id="pages" popover>', ' id="pages">').replace("popovertarget", "data-none"),
                "utf-8",
            )
    for sheet in (site / "assets").glob("*.css"):
        sheet.write_text(sheet.read_text("utf-8").replace(":popover-open", ":not-yet-known"), "utf-8")
    return site


@pytest.mark.parametrize("page", PAGES)
def test_every_page_is_reached_without_a_popover(
    browser: webdriver.Chrome, demo: Path, older: Path, page: str
) -> None:
    look(browser, width=PHONE)
    go(browser, (demo / page).as_uri())
    links = browser.find_elements(By.CSS_SELECTOR, "#pages a")
    assert browser.find_element(By.CSS_SELECTOR, ".top nav button").is_displayed()
    assert not any(link.is_displayed() for link in links)
    go(browser, (older / page).as_uri())
    shown = [link for link in browser.find_elements(By.CSS_SELECTOR, "#pages a") if link.is_displayed()]
    assert len(shown) == len(links) > 8
    assert not browser.find_element(By.CSS_SELECTOR, ".top nav button").is_displayed()
    assert run(browser, "return document.documentElement.scrollWidth <= innerWidth")
    assert all(link.size["height"] >= 24 for link in shown)
    target = str(shown[0].get_attribute("href"))
    shown[0].click()
    assert browser.current_url == target


def test_a_mark_leads_to_the_glossary_without_popovers(browser: webdriver.Chrome, older: Path) -> None:
    script = browser.execute_cdp_cmd("Page.addScriptToEvaluateOnNewDocument", {"source": NO_POPOVERS})
    try:
        look(browser, width=PHONE)
        go(browser, (older / "quality.html").as_uri())
        mark = next(each for each in browser.find_elements(By.CSS_SELECTOR, ".what") if each.is_displayed())
        address = str(mark.get_attribute("href"))
        browser.execute_script("arguments[0].scrollIntoView({block: 'center'})", mark)
        mark.click()
        assert browser.current_url == address and "/glossary.html#" in address
        assert complaints(browser) == []
    finally:
        browser.execute_cdp_cmd("Page.removeScriptToEvaluateOnNewDocument", script)
