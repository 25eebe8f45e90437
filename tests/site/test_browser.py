"""The site in a real browser, opened from a folder: charts are drawn, tables sort and filter, nothing complains."""

from __future__ import annotations

import os
import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from selenium import webdriver
from selenium.webdriver.chrome.options import Options
from selenium.webdriver.chrome.service import Service
from selenium.webdriver.common.by import By
from selenium.webdriver.support.wait import WebDriverWait

CHROMIUM, DRIVER = shutil.which("chromium"), shutil.which("chromedriver")
IN_CI = bool(os.environ.get("CI"))
CHARTED = ("index", "batches", "quality", "costs", "oil", "columns", "tanks")


def started(*, scripts: bool = True) -> webdriver.Chrome:
    """A browser without a window; a skip where there is none, and a failure in CI."""
    if CHROMIUM is None or DRIVER is None:
        if IN_CI:
            pytest.fail("chromium and chromium-driver are missing: .ci/run installs them")
        pytest.skip("chromium and chromium-driver are not installed")
    options = Options()
    options.binary_location = CHROMIUM
    for flag in (
        "--headless",
        "--no-sandbox",
        "--disable-gpu",
        "--no-first-run",
        "--disable-background-networking",
        "--disable-component-update",
        "--disable-sync",
    ):
        options.add_argument(flag)
    if not scripts:
        options.add_experimental_option("prefs", {"profile.managed_default_content_settings.javascript": 2})
    options.set_capability("goog:loggingPrefs", {"browser": "ALL", "performance": "ALL"})
    return webdriver.Chrome(options=options, service=Service(DRIVER))


@pytest.fixture(scope="module")
def browser() -> Iterator[webdriver.Chrome]:
    driver = started()
    yield driver
    driver.quit()


def _open(browser: webdriver.Chrome, site: Path, page: str) -> None:
    browser.get_log("browser")
    browser.get_log("performance")
    browser.get((site / page).as_uri())


def _complaints(browser: webdriver.Chrome) -> list[str]:
    return [
        entry["message"] for entry in browser.get_log("browser") if entry["level"] in ("SEVERE", "WARNING")
    ]


def _asked_elsewhere(browser: webdriver.Chrome) -> list[str]:
    import json

    events = [json.loads(entry["message"])["message"] for entry in browser.get_log("performance")]
    asked = [
        event["params"]["request"]["url"]
        for event in events
        if event["method"] == "Network.requestWillBeSent"
    ]
    return [url for url in asked if not url.startswith(("file:", "data:"))]


@pytest.mark.parametrize("page", CHARTED)
def test_charts_are_drawn_from_a_folder_without_complaint(
    browser: webdriver.Chrome, demo: Path, page: str
) -> None:
    _open(browser, demo, f"{page}.html")
    figures = browser.find_elements(By.CSS_SELECTOR, "figure[data-chart]")
    assert figures
    WebDriverWait(browser, 30).until(lambda _: all(figure.get_attribute("data-state") for figure in figures))
    assert {figure.get_attribute("data-state") for figure in figures} == {"drawn"}
    for figure in figures:
        assert figure.find_elements(
            By.CSS_SELECTOR, ".view svg .mark-group, .view svg g[role='graphics-object'], .view svg path"
        )
    assert _complaints(browser) == []
    assert _asked_elsewhere(browser) == []


@pytest.mark.parametrize("page", ["methods.html", "problems.html", "downloads.html", "batches/2026-002.html"])
def test_other_pages_open_without_complaint(browser: webdriver.Chrome, demo: Path, page: str) -> None:
    _open(browser, demo, page)
    assert browser.find_element(By.TAG_NAME, "h1").text
    assert _complaints(browser) == []
    assert _asked_elsewhere(browser) == []


def test_a_table_sorts_by_its_numbers(browser: webdriver.Chrome, demo: Path) -> None:
    _open(browser, demo, "batches.html")
    table = browser.find_element(By.CSS_SELECTOR, "table#all-batches")
    heads = table.find_elements(By.CSS_SELECTOR, "thead th")
    place = next(number for number, head in enumerate(heads) if head.text.startswith("Fuel"))
    heads[place].find_element(By.TAG_NAME, "button").click()
    assert heads[place].get_attribute("aria-sort") in ("ascending", "descending")
    cells = [
        row.find_elements(By.CSS_SELECTOR, "th, td")[place].text
        for row in table.find_elements(By.CSS_SELECTOR, "tbody tr")
    ]
    numbers = [float(text) for text in cells if text != "–"]
    assert numbers in (sorted(numbers), sorted(numbers, reverse=True))
    assert len(set(numbers)) > 10


def test_a_filter_leaves_the_rows_that_match(browser: webdriver.Chrome, demo: Path) -> None:
    _open(browser, demo, "batches.html")
    field = browser.find_element(By.ID, "find-all-batches")
    field.send_keys("2025-00")
    shown = [
        row
        for row in browser.find_elements(By.CSS_SELECTOR, "table#all-batches tbody tr")
        if row.is_displayed()
    ]
    assert 0 < len(shown) <= 10
    assert all("2025-00" in row.text for row in shown)


def test_everything_is_there_without_scripts(demo: Path) -> None:
    driver = started(scripts=False)
    try:
        driver.get((demo / "costs.html").as_uri())
        figure = driver.find_element(By.CSS_SELECTOR, "figure.chart")
        assert figure.find_element(By.CSS_SELECTOR, "svg").is_displayed()
        assert len(driver.find_elements(By.CSS_SELECTOR, "table#costs-table tbody tr")) >= 60
    finally:
        driver.quit()


@pytest.mark.parametrize(
    "page", ["index.html", "batches/2026-002.html", "costs.html", "columns.html", "oil.html"]
)
def test_a_phone_scrolls_only_down(browser: webdriver.Chrome, demo: Path, page: str) -> None:
    browser.execute_cdp_cmd(
        "Emulation.setDeviceMetricsOverride",
        {"width": 320, "height": 640, "deviceScaleFactor": 1, "mobile": True},
    )
    try:
        _open(browser, demo, page)
        wide = browser.execute_script("return document.documentElement.scrollWidth")
        assert wide <= 320
    finally:
        browser.execute_cdp_cmd("Emulation.clearDeviceMetricsOverride", {})
