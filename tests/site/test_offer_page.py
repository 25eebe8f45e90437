"""An offer on other terms in a real browser, from a folder: what is moved there is what the command prints."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest
from selenium import webdriver
from selenium.webdriver.common.by import By
from selenium.webdriver.common.keys import Keys

from tests.site.browsing import started
from tests.site.building import ROOT

OFFER = "2026-10-hospital"
MOVED = ("cost", "cost_low", "cost_high", "saving", "highest", "highest_at_pump")
NAMES = {
    "cost": "cost_per_l",
    "cost_low": "cost_low_per_l",
    "cost_high": "cost_high_per_l",
    "saving": "saving_per_l",
    "highest": "highest_price_as_asked",
    "highest_at_pump": "highest_at_pump_as_asked",
}


@pytest.fixture
def page(browser: webdriver.Chrome, demo: Path) -> webdriver.Chrome:
    browser.get_log("browser")
    browser.get((demo / "offers" / f"{OFFER}.html").as_uri())
    return browser


def command(*options: str, offer: str = OFFER, logbook: str = "logbook") -> dict[str, Any]:
    """What the command says of the same offer."""
    done = subprocess.run(
        [sys.executable, "-m", "generator", "offer", offer, logbook, "--json", *options],
        cwd=ROOT, capture_output=True, text=True, check=True,
    )  # fmt: skip
    values: dict[str, Any] = json.loads(done.stdout)
    return values


def told(browser: webdriver.Chrome) -> dict[str, str]:
    """The numbers that stand on the page, the two ends of the range among them."""
    low, high, *_ = browser.find_element(By.CSS_SELECTOR, "#mover [data-range]").text.split(" to ") * 2
    places = {
        name: browser.find_element(By.CSS_SELECTOR, f"#mover [data-plane='{name}']").text
        for name in MOVED
        if name not in ("cost_low", "cost_high")
    }
    return {
        name: text.split("\u202f")[0] for name, text in {**places, "cost_low": low, "cost_high": high}.items()
    }


def expected(values: dict[str, Any]) -> dict[str, str]:
    return {name: f"{values[column]:.3f}".replace("-", "\u2212") for name, column in NAMES.items()}


def test_what_stands_there_before_the_script_is_what_the_script_writes(
    page: webdriver.Chrome, demo: Path
) -> None:
    written = "return [...document.querySelectorAll('#mover [data-plane], #mover [data-range], #mover [data-text]')].map(each => each.textContent)"
    after = page.execute_script(written)
    source = (demo / "offers" / f"{OFFER}.html").read_text(encoding="utf-8")
    before = page.execute_script(
        "const read = new DOMParser().parseFromString(arguments[0], 'text/html');"
        + written.replace("document", "read"),
        source,
    )
    assert len(before) == 10 and before == after
    assert "unknown" not in before


def slide_to(browser: webdriver.Chrome, name: str, start: str) -> None:
    """Move a slider with the keyboard until its text begins so."""
    slider = browser.find_element(By.ID, f"move-{name}")
    slider.send_keys(Keys.HOME)
    for _ in range(120):
        if (slider.get_attribute("aria-valuetext") or "").startswith(start):
            return
        slider.send_keys(Keys.ARROW_RIGHT)
    pytest.fail(f"no step of {name} begins with {start}")


def type_in(browser: webdriver.Chrome, name: str, text: str) -> None:
    field = browser.find_element(By.ID, f"move-{name}")
    field.send_keys(Keys.CONTROL, "a")
    field.send_keys(Keys.DELETE, text)


def test_it_begins_with_what_is_offered(page: webdriver.Chrome) -> None:
    assert told(page) == expected(command())
    assert not [entry for entry in page.get_log("browser") if entry["level"] in ("SEVERE", "WARNING")]


@pytest.mark.parametrize(
    ("acid", "water", "price", "diesel"),
    [("3.6", "1,500", "0.50", "1.60"), ("1.4", "0", "0", "2.05"), ("2.0", "20,000", "1.25", "0.35"),
     ("4.0", "100,000", "0.615", "1.7315")],
)  # fmt: skip
def test_what_is_moved_is_what_the_command_prints(
    page: webdriver.Chrome, acid: str, water: str, price: str, diesel: str
) -> None:
    slide_to(page, "acid", acid)
    slide_to(page, "water", water)
    type_in(page, "asked", price)
    type_in(page, "diesel", diesel)
    plain = water.replace(",", "")
    values = command(
        f"--acid-value={acid} mg KOH/g",
        f"--water={plain} mg/kg",
        f"--price={price} EUR/L",
        f"--diesel={diesel} EUR/L",
    )
    assert told(page) == expected(values)
    dose = page.find_element(By.CSS_SELECTOR, "#mover [data-text='dose']").text
    assert dose.split("\u202f")[0] == f"{values['dose_g_per_l']:.1f}"
    advice = page.find_element(By.CSS_SELECTOR, "#mover [data-text='advice']").text
    assert advice == (values["advice"] or "nothing by the workshop's lines")


def test_prices_by_the_gallon_are_moved_by_the_gallon(browser: webdriver.Chrome, gallons: Path) -> None:
    """A logbook in US gallons and dollars: 3.785411784 L each, exact by definition."""
    browser.get((gallons / "offers" / "2025-05-cafe.html").as_uri())
    type_in(browser, "asked", "1.45")
    type_in(browser, "diesel", "4.05")
    said = ("--price=1.45 USD/US gal", "--diesel=4.05 USD/US gal")
    values = command(*said, offer="2025-05-cafe", logbook="tests/logbooks/gallons")
    for column in ("cost_per_l", "cost_low_per_l", "cost_high_per_l", "saving_per_l"):
        values[column] *= 3.785411784
    assert told(browser) == expected(values)


def test_beyond_the_own_record_it_says_unknown(page: webdriver.Chrome) -> None:
    """As the command does: no batch had oil like it."""
    slide_to(page, "acid", "9.0")
    assert command("--acid-value=9.0 mg KOH/g")["cost_per_l"] is None
    assert page.find_element(By.CSS_SELECTOR, "#mover [data-plane='cost']").text == "unknown"
    assert page.find_element(By.CSS_SELECTOR, "#mover [data-range]").text.startswith("at least 0.")
    type_in(page, "asked", "")
    assert page.find_element(By.CSS_SELECTOR, "#mover [data-range]").text == "unknown"


def test_a_price_that_is_none_leaves_what_hangs_on_it_unknown(page: webdriver.Chrome) -> None:
    before = told(page)
    type_in(page, "asked", "")
    now = told(page)
    assert (now["cost"], now["saving"], now["highest"]) == ("unknown", "unknown", before["highest"])
    assert page.find_element(By.ID, "move-asked").get_attribute("aria-invalid") == "true"
    page.find_element(By.ID, "move-back").click()
    assert told(page) == before


def test_a_comma_is_a_sign_of_decimals_too_and_what_may_be_thousands_is_no_price(
    page: webdriver.Chrome,
) -> None:
    type_in(page, "asked", "0.45")
    wanted = told(page)
    type_in(page, "asked", "0,45")
    assert told(page) == wanted
    for text in ("1,450", "-1", "4e2", "0.4.5", "EUR"):
        type_in(page, "asked", text)
        assert told(page)["cost"] == "unknown", text
        assert page.find_element(By.ID, "move-asked").get_attribute("aria-invalid") == "true"


def test_it_is_told_to_those_who_do_not_see_it(page: webdriver.Chrome) -> None:
    """One live sentence that is read as a whole, a label for every field, a step told in words and units."""
    live = page.find_elements(By.CSS_SELECTOR, "#mover [aria-live]")
    assert [(one.tag_name, one.get_attribute("aria-atomic")) for one in live] == [("output", "true")]
    slide_to(page, "acid", "3.6")
    assert "0." in live[0].text and "g/L of pure base" in live[0].text
    for field in page.find_elements(By.CSS_SELECTOR, "#mover input"):
        assert field.accessible_name
    slider = page.find_element(By.ID, "move-acid")
    assert slider.get_attribute("aria-valuetext") == "3.6\u202fmg KOH/g"


def test_every_field_is_reached_with_the_tabulator(page: webdriver.Chrome) -> None:
    page.find_element(By.ID, "move-acid").send_keys("")
    reached = []
    for _ in range(5):
        reached.append(page.switch_to.active_element.get_attribute("id"))
        page.switch_to.active_element.send_keys(Keys.TAB)
    assert reached == ["move-acid", "move-water", "move-asked", "move-diesel", "move-back"]


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_on_a_phone_nothing_is_wider_than_it(page: webdriver.Chrome, demo: Path, scheme: str) -> None:
    size = {"width": 320, "height": 640, "deviceScaleFactor": 1, "mobile": True}
    page.execute_cdp_cmd("Emulation.setDeviceMetricsOverride", size)
    media = {"features": [{"name": "prefers-color-scheme", "value": scheme}]}
    page.execute_cdp_cmd("Emulation.setEmulatedMedia", media)
    try:
        page.get((demo / "offers" / f"{OFFER}.html").as_uri())
        assert page.execute_script("return document.documentElement.scrollWidth") <= 320
        slider = page.find_element(By.ID, "move-acid")
        assert slider.is_displayed() and slider.size["height"] >= 24
    finally:
        page.execute_cdp_cmd("Emulation.clearDeviceMetricsOverride", {})
        page.execute_cdp_cmd("Emulation.setEmulatedMedia", {"features": []})


def test_without_scripts_the_steps_are_a_table(demo: Path) -> None:
    driver = started(scripts=False)
    try:
        driver.get((demo / "offers" / f"{OFFER}.html").as_uri())
        assert not driver.find_element(By.ID, "mover").is_displayed()
        heads = [head.text for head in driver.find_elements(By.CSS_SELECTOR, "table#by-acid tbody th")]
        assert heads[:4] == ["0.0", "1.0", "2.0", "2.8"] and len(heads) == 12
        assert len(driver.find_elements(By.CSS_SELECTOR, "table#by-water tbody tr")) == 15
    finally:
        driver.quit()


def test_a_settled_offer_has_nothing_to_move(browser: webdriver.Chrome, demo: Path) -> None:
    browser.get((demo / "offers" / "2026-04-cannery.html").as_uri())
    assert not browser.find_elements(By.ID, "mover")
    assert "Off the forecast by" in browser.find_element(By.TAG_NAME, "main").text


def test_what_a_figure_rests_on_stands_below_it(page: webdriver.Chrome) -> None:
    """In all lists of figures alike, also where a script writes them: smaller, and on lines of its own."""
    places = page.execute_script(
        "return [...document.querySelectorAll('.figures > div')].map(figure => [...figure.querySelectorAll('dd')].map("
        "each => [each.getBoundingClientRect().top, each.getBoundingClientRect().bottom,"
        " parseFloat(getComputedStyle(each).fontSize), each.children.length && !each.querySelector('a')]))"
    )
    based = [figure for figure in places if len(figure) == 2]
    assert len(page.find_elements(By.CSS_SELECTOR, "#mover .figures dd + dd")) == 3
    assert len(based) > 8
    for (_, end, size, inner), (start, _, small, _) in based:
        assert start >= end and small < size and not inner
