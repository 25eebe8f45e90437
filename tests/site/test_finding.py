"""Finding in a real browser, from a folder and from a server: search, filters and order in the address, comparison."""

from __future__ import annotations

import json
import re
import shutil
import threading
from collections.abc import Callable, Iterator
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path

import pytest
from selenium import webdriver
from selenium.webdriver.common.by import By
from selenium.webdriver.common.keys import Keys
from selenium.webdriver.remote.webelement import WebElement
from selenium.webdriver.support.wait import WebDriverWait

from generator.previewing import Preview
from tests.site.browsing import started
from tests.site.building import ROOT, build

TICKS = "table#all-batches .pick input"


class _Quiet(SimpleHTTPRequestHandler):
    def log_message(self, format: str, *args: object) -> None:  # noqa: A002 - the name is the library's
        """Say nothing."""


@pytest.fixture(scope="module")
def served(demo: Path) -> Iterator[str]:
    server = ThreadingHTTPServer(("127.0.0.1", 0), partial(_Quiet, directory=str(demo)))
    threading.Thread(target=server.serve_forever, daemon=True).start()
    yield f"http://127.0.0.1:{server.server_address[1]}"
    server.shutdown()
    server.server_close()


@pytest.fixture(scope="module", params=["folder", "server"])
def site(request: pytest.FixtureRequest, demo: Path, served: str) -> str:
    """Where the workshop site of the demo lies, without the slash behind it."""
    return demo.as_uri() if request.param == "folder" else served


@pytest.fixture(scope="module")
def browser() -> Iterator[webdriver.Chrome]:
    driver = started()
    yield driver
    driver.quit()


@pytest.fixture(autouse=True)
def nothing_complains(browser: webdriver.Chrome, served: str) -> Iterator[None]:
    """After each test: no message of the console, and nothing asked of another place."""
    browser.get_log("browser")
    browser.get_log("performance")
    yield
    assert [entry for entry in browser.get_log("browser") if entry["level"] in ("SEVERE", "WARNING")] == []
    events = [json.loads(entry["message"])["message"] for entry in browser.get_log("performance")]
    asked = [
        event["params"]["request"]["url"]
        for event in events
        if event["method"] == "Network.requestWillBeSent"
    ]
    assert [url for url in asked if not url.startswith(("file:", "data:", served))] == []


def opened(browser: webdriver.Chrome, address: str) -> None:
    """Open an address anew, also where only what stands behind its # is another."""
    browser.get("about:blank")
    browser.get(address)


def until(browser: webdriver.Chrome, true: Callable[[], object]) -> None:
    WebDriverWait(browser, 10).until(lambda _: true())


def hits(browser: webdriver.Chrome) -> list[WebElement]:
    return [link for link in browser.find_elements(By.CSS_SELECTOR, ".hits a") if link.is_displayed()]


def texts(browser: webdriver.Chrome) -> list[str]:
    return [link.text for link in hits(browser)]


def pressed(browser: webdriver.Chrome, *keys: str) -> None:
    for key in keys:
        browser.switch_to.active_element.send_keys(key)


def focused(browser: webdriver.Chrome) -> WebElement:
    return browser.switch_to.active_element


def loaded(browser: webdriver.Chrome) -> list[str]:
    return [
        str(script.get_attribute("src"))
        for script in browser.find_elements(By.CSS_SELECTOR, "script[src]")
        if "entries" in str(script.get_attribute("src")) or "minisearch" in str(script.get_attribute("src"))
    ]


def test_a_slash_searches_from_any_page_and_arrows_go_through_the_hits(
    browser: webdriver.Chrome, site: str
) -> None:
    opened(browser, f"{site}/batches/2026-001.html")
    assert loaded(browser) == [], "what a search needs is loaded before it is used"
    pressed(browser, "/")
    assert focused(browser).get_attribute("id") == "seek"
    assert focused(browser).get_attribute("value") == ""
    pressed(browser, "heater tripped")
    until(browser, lambda: len(hits(browser)) == 1)
    assert len(loaded(browser)) == 2
    (only,) = texts(browser)
    assert only.startswith("Batch 2026-002") and "The heater had tripped" in only
    pressed(browser, Keys.ARROW_DOWN)
    assert "Batch 2026-002" in focused(browser).text
    pressed(browser, Keys.ARROW_UP)
    assert focused(browser).get_attribute("id") == "seek"
    pressed(browser, Keys.ARROW_DOWN, Keys.ENTER)
    until(browser, lambda: browser.current_url.endswith("/batches/2026-002.html"))


@pytest.mark.parametrize(
    ("asked", "first", "leads_to"),
    [
        ("oil-012", "Lot oil-012", "oil.html#lot-oil-012"),
        ("2026-10-hospital", "Offer 2026-10-hospital", "offers/2026-10-hospital.html"),
        ("tank-2", "Tank tank-2", "tanks.html#tank-tank-2"),
        ("shed-A-11", "Charge shed-A-11", "charges/shed-A-11.html"),
        ("acid value 2026-003", "Acid value of batch 2026-003", "batches/2026-003.html#tests"),
        ("decimal-comma", "decimal-comma", "explained.html#decimal-comma"),
        ("breakthrugh", "", "glossary.html#breakthrough"),
        ("what is soap", "Soap", "glossary.html#soap"),
        ("FFA", "Free fatty acid", "glossary.html#free-fatty-acid"),
        ("diesel pump costs", "Costs", "costs.html"),
        ("no phone on the bench", "Opening the shed in winter", "pages/opening-the-shed-in-winter.html"),
        ("fire authorities", "", "methods.html#cautions"),
        ("heater january 2026", "Batch 2026-002", "batches/2026-002.html"),
    ],
)
def test_each_kind_is_found_and_leads_there(
    browser: webdriver.Chrome, site: str, asked: str, first: str, leads_to: str
) -> None:
    opened(browser, f"{site}/find.html")
    pressed(browser, "/", asked)
    until(browser, lambda: hits(browser))
    addresses = [str(link.get_attribute("href")) for link in hits(browser)]
    assert texts(browser)[0].startswith(first)
    assert any(f"{site}/{leads_to}" in address for address in addresses)
    if first:
        assert addresses[0].endswith(leads_to)
        target = leads_to.partition("#")[2]
        if target:
            browser.get(addresses[0])
            assert browser.find_element(By.ID, target).is_displayed()


def test_an_id_finds_what_names_it_and_nothing_that_is_like_it(browser: webdriver.Chrome, site: str) -> None:
    opened(browser, f"{site}/find.html#q=oil-012")
    until(browser, lambda: hits(browser))
    assert texts(browser)[0].startswith("Lot oil-012")
    assert len(hits(browser)) == 3
    for link in hits(browser)[1:]:
        assert link.find_element(By.CSS_SELECTOR, ".name").text in ("Batch 2025-017", "Batch 2025-018")


def test_all_that_is_found_stands_on_a_page_whose_address_keeps_it(
    browser: webdriver.Chrome, site: str
) -> None:
    opened(browser, f"{site}/index.html")
    pressed(browser, "/", "methanol")
    until(browser, lambda: hits(browser))
    pressed(browser, Keys.ENTER)
    until(browser, lambda: "find.html#q=methanol" in browser.current_url and hits(browser))
    every = texts(browser)
    kinds = browser.find_elements(By.CSS_SELECTOR, ".kinds button")
    assert kinds[0].text == f"All {len(every)}"
    chosen = next(button for button in kinds if button.text.startswith("Batches "))
    expected = int(chosen.text.split()[-1])
    chosen.click()
    assert len(hits(browser)) == expected < len(every)
    assert "kind=Batch" in browser.current_url
    browser.refresh()
    until(browser, lambda: len(hits(browser)) == expected)
    assert browser.find_element(By.ID, "seek").get_attribute("value") == "methanol"


def test_what_is_not_there_is_said_not_to_be(browser: webdriver.Chrome, site: str) -> None:
    opened(browser, f"{site}/index.html")
    pressed(browser, "/", "zirconium")
    told = browser.find_element(By.ID, "seek-told")
    until(browser, lambda: told.text == "nothing found")
    assert hits(browser) == []


def test_escape_closes_the_list_and_then_empties_the_field(browser: webdriver.Chrome, site: str) -> None:
    opened(browser, f"{site}/index.html")
    pressed(browser, "/", "soap")
    until(browser, lambda: hits(browser))
    pressed(browser, Keys.ARROW_DOWN, Keys.ARROW_DOWN, Keys.ESCAPE)
    assert hits(browser) == [] and focused(browser).get_attribute("id") == "seek"
    pressed(browser, Keys.ESCAPE)
    assert focused(browser).get_attribute("value") == ""


def test_the_slash_can_be_switched_off_and_types_itself_in_a_field(
    browser: webdriver.Chrome, site: str
) -> None:
    opened(browser, f"{site}/batches.html")
    field = browser.find_element(By.ID, "find-all-batches")
    field.send_keys("a/b")
    assert field.get_attribute("value") == "a/b"
    opened(browser, f"{site}/find.html")
    browser.find_element(By.ID, "slash").click()
    try:
        opened(browser, f"{site}/index.html")
        pressed(browser, "/")
        assert focused(browser).get_attribute("id") != "seek"
    finally:
        opened(browser, f"{site}/find.html")
        browser.find_element(By.ID, "slash").click()
    opened(browser, f"{site}/index.html")
    pressed(browser, "/")
    assert focused(browser).get_attribute("id") == "seek"


def rows(browser: webdriver.Chrome) -> list[str]:
    found = browser.find_elements(By.CSS_SELECTOR, "table#all-batches tbody tr")
    return [row.text for row in found if row.is_displayed()]


# what a reader or a maker would type, and where it is told; the newest sheet and label of the demo are its second workshop's
TYPED = {
    "print": "sheets/barn-2026-23.html",
    "sheet": "sheets/barn-2026-23.html",
    "label": "labels/barn-2026-23.html",
    "qr code": "labels/barn-2026-23.html",
    "download": "downloads.html",
    "excel": "downloads.html",
    "rss": "downloads.html",
    "cost per litre": "costs.html",
    "price of oil": "oil.html",
    "recipe": "batches/2026-025.html",
    "dose": "methods.html#dose",
    "next batch": "batches/2026-025.html",
    "weigh": "batches/2026-025.html",
    "change bed": "columns.html",
    "spent media": "columns.html",
    "limits": "quality.html",
    "water test": "quality.html",
    "flash point": "batches/2026-020.html#tests",
    "methanol danger": "methods.html#cautions",
    "fire": "methods.html#cautions",
    "who got fuel": "tracing.html",
    "delivery": "tanks.html",
    "tank level": "tanks.html",
    "stock": "oil.html",
    "methanol left": "oil.html",
    "error": "problems.html",
    "compare": "compare.html",
    "chart": "drift.html",
    "uncertainty": "methods.html#uncertainty",
    "yield": "batches.html",
    "help": "glossary.html",
    "taxes": "tracing.html",
    "oil-007 print": "oil.html#lot-oil-007",
    # as a question
    "how many litres are made here per year": "batches.html",
    "is this dangerous for the neighbours": "methods.html",
    "what chemicals are there": "methods.html",
    "what is in my jerrycan": "labels/barn-2026-23.html",
    "which batch had the lowest yield": "batches.html",
    "when must I change the resin": "columns.html",
    "what did a litre cost in summer": "costs.html",
    "which oil was the worst buy": "oil.html",
    "empty sheet": "downloads.html#blank",
    "has a figure changed": "glossary.html#history",
    "does it meet the norm": "quality.html",
    "EN 14214": "quality.html",
    "will it fit my car": "quality.html",
    "lab report": "quality.html",
    "how much should I pay": "oil.html",
    "what does soap mean": "glossary.html#soap",
    "accuracy": "methods.html",
    "who can I contact": "pages/about.html",
}


def test_the_usual_words_find_the_right_page_among_the_first_five(
    browser: webdriver.Chrome, demo: Path
) -> None:
    missed = {}
    for words, page in TYPED.items():
        opened(browser, f"{demo.as_uri()}/find.html#q={words.replace(' ', '%20')}")
        until(browser, lambda: browser.find_element(By.CSS_SELECTOR, ".seek [role='status']").text)
        first = [
            str(link.get_attribute("href")).removeprefix(f"{demo.as_uri()}/")
            for link in browser.find_elements(By.CSS_SELECTOR, "#found a")[:5]
        ]
        if page not in first:
            missed[words] = first
    assert missed == {}


def test_tracing_of_the_oldest_lot_and_batch_finds_a_row(browser: webdriver.Chrome, demo: Path) -> None:
    opened(browser, f"{demo.as_uri()}/tracing.html")
    assert "the latest 500 of" in browser.find_element(By.CSS_SELECTOR, "#traces caption").text
    for page, place in (
        ("oil.html", "#lots-table tr:has(#lot-oil-001) a[href*=find-traces]"),
        ("batches/2024-001.html", ".entries a[href*=find-traces]"),
    ):
        opened(browser, f"{demo.as_uri()}/{page}")
        browser.find_element(By.CSS_SELECTOR, place).click()
        until(browser, lambda: browser.find_elements(By.ID, "find-traces"))
        shown = [
            row.text
            for row in browser.find_elements(By.CSS_SELECTOR, "#traces tbody tr")
            if row.is_displayed()
        ]
        assert any("oil-001" in text and "2024-001" in text and "member-07" in text for text in shown), shown


def test_filter_and_order_survive_in_the_address(browser: webdriver.Chrome, site: str) -> None:
    opened(browser, f"{site}/batches.html")
    before = rows(browser)
    browser.find_element(By.ID, "find-all-batches").send_keys("2025-0")
    heads = browser.find_elements(By.CSS_SELECTOR, "table#all-batches thead .sort")
    head = next(button for button in heads if button.text.startswith("Yield"))
    head.click()
    head.click()
    chosen = rows(browser)
    assert 1 < len(chosen) < len(before) and chosen != [row for row in before if row in chosen]
    address = browser.current_url
    opened(browser, address)
    assert rows(browser) == chosen
    sorted_by = browser.find_element(By.CSS_SELECTOR, "table#all-batches th[aria-sort]")
    assert sorted_by.get_attribute("aria-sort") == "descending"
    browser.execute_script("location.hash = ''")
    until(browser, lambda: rows(browser) == before)


@pytest.mark.parametrize(
    ("page", "place", "column"),
    [
        ("oil.html", "#lots-table tr:has(#lot-oil-006) a[href*=find-traces]", 0),
        ("batches/2026-020.html", ".entries a[href*=find-traces]", 1),
        ("tanks.html", "#tank-tank-2 a[href*=find-traces]", 2),
    ],
)
def test_tracing_of_a_lot_a_batch_and_a_tank_shows_their_rows_alone(
    browser: webdriver.Chrome, site: str, page: str, place: str, column: int
) -> None:
    opened(browser, f"{site}/{page}")
    link = browser.find_element(By.CSS_SELECTOR, place)
    name = str(link.get_attribute("href")).split("=")[1]
    link.click()
    until(browser, lambda: browser.find_elements(By.ID, "find-traces"))
    listed = browser.find_elements(By.CSS_SELECTOR, "#traces tbody tr")
    seen = [row for row in listed if row.is_displayed()]
    assert 0 < len(seen) < len(listed)
    cells = [row.find_elements(By.CSS_SELECTOR, "th, td")[column].text for row in seen]
    assert [text for text in cells if name not in re.split(r"\s*,\s*", text)] == []
    top = browser.execute_script("return document.getElementById('find-traces').getBoundingClientRect().top")
    assert 0 <= top < 900, "the rows are not in view"


def test_batches_are_chosen_and_stand_side_by_side(browser: webdriver.Chrome, site: str) -> None:
    opened(browser, f"{site}/batches.html")
    ticks = browser.find_elements(By.CSS_SELECTOR, TICKS)
    ids = [str(tick.get_attribute("value")) for tick in ticks[:5]]
    ticks[0].click()
    bar = browser.find_element(By.CSS_SELECTOR, ".chosen")
    assert bar.is_displayed() and "tick one more" in bar.text
    ticks[1].send_keys(Keys.SPACE)
    for tick in ticks[2:4]:
        tick.click()
    assert not ticks[4].is_enabled(), "a fifth one can be chosen"
    assert f"compare={'%2C'.join(ids[:4])}" in browser.current_url
    bar.find_element(By.TAG_NAME, "a").click()
    until(browser, lambda: browser.find_elements(By.CSS_SELECTOR, "#beside table"))
    heads = browser.find_elements(By.CSS_SELECTOR, "#beside thead a")
    assert [head.text for head in heads] == ids[:4]
    browser.find_element(By.CSS_SELECTOR, f"#beside button[aria-label='Leave out {ids[1]}']").click()
    until(browser, lambda: len(browser.find_elements(By.CSS_SELECTOR, "#beside thead a")) == 3)
    browser.refresh()
    until(browser, lambda: len(browser.find_elements(By.CSS_SELECTOR, "#beside thead a")) == 3)


def test_a_comparison_shows_what_the_pages_of_the_batches_show(browser: webdriver.Chrome, site: str) -> None:
    ids = ["2026-001", "2026-002"]
    opened(browser, f"{site}/compare.html#compare={','.join(ids)}")
    until(browser, lambda: browser.find_elements(By.CSS_SELECTOR, "#beside table"))
    shown = {}
    for row in browser.find_elements(By.CSS_SELECTOR, "#beside tbody tr:not(.group)"):
        label, *cells = (cell.text for cell in row.find_elements(By.CSS_SELECTOR, "th, td"))
        shown[label] = [cell.partition("\n")[0] for cell in cells]
    for place, id_ in enumerate(ids):
        opened(browser, f"{site}/batches/{id_}.html")
        for figure in browser.find_elements(By.CSS_SELECTOR, ".margin .figures > div"):
            label = figure.find_element(By.TAG_NAME, "dt").text
            value = figure.find_element(By.CSS_SELECTOR, "dd").text
            assert shown[label][place].split() == value.split()[: len(shown[label][place].split())], label
    assert len(shown) > 30


def test_only_what_differs_is_a_wish_that_the_address_keeps(browser: webdriver.Chrome, site: str) -> None:
    opened(browser, f"{site}/compare.html#compare=2026-001,2026-002")
    until(browser, lambda: browser.find_elements(By.CSS_SELECTOR, "#beside table"))
    every = browser.find_elements(By.CSS_SELECTOR, "#beside tbody tr:not(.group)")
    same = [row for row in every if "same" in str(row.get_attribute("class"))]
    assert 0 < len(same) < len(every)
    browser.find_element(By.ID, "differing").click()
    opened(browser, browser.current_url)
    until(browser, lambda: browser.find_elements(By.CSS_SELECTOR, "#beside table"))
    seen = [
        row
        for row in browser.find_elements(By.CSS_SELECTOR, "#beside tbody tr:not(.group)")
        if row.is_displayed()
    ]
    assert len(seen) == len(every) - len(same)


def test_an_address_with_a_strange_batch_says_so_and_loads_nothing_of_that_name(
    browser: webdriver.Chrome, site: str
) -> None:
    opened(browser, f"{site}/compare.html#compare=2026-001,2026-002,../assets/charts")
    until(browser, lambda: browser.find_elements(By.CSS_SELECTOR, "#beside table"))
    assert "Not a batch of this site: ../assets/charts" in browser.find_element(By.ID, "beside-told").text
    sources = [str(each.get_attribute("src")) for each in browser.find_elements(By.TAG_NAME, "script")]
    assert not [source for source in sources if "charts" in source]


def test_neighbours_of_a_batch_are_links(browser: webdriver.Chrome, site: str) -> None:
    opened(browser, f"{site}/batches/2026-002.html")
    after = browser.find_element(By.CSS_SELECTOR, "a[rel='next']")
    target = str(after.get_attribute("href"))
    after.click()
    assert browser.current_url == target
    browser.find_element(By.CSS_SELECTOR, "a[rel='prev']").click()
    assert browser.current_url.endswith("/batches/2026-002.html")
    browser.find_element(By.LINK_TEXT, "side by side with 2026-001").click()
    until(browser, lambda: len(browser.find_elements(By.CSS_SELECTOR, "#beside thead a")) == 2)


def test_without_scripts_the_index_and_the_table_are_there_and_nothing_pretends(demo: Path) -> None:
    driver = started(scripts=False)
    try:
        for name, least in (("find", 300), ("compare", 100)):
            driver.get((demo / f"{name}.html").as_uri())
            assert driver.find_element(By.CSS_SELECTOR, ".without").is_displayed()
            assert len(driver.find_elements(By.CSS_SELECTOR, "main a")) >= least
            for away in ("#seek", ".pick", ".with"):
                assert not [one for one in driver.find_elements(By.CSS_SELECTOR, away) if one.is_displayed()]
            assert driver.find_element(By.LINK_TEXT, "index").is_displayed()
    finally:
        driver.quit()


@pytest.mark.parametrize(
    "page", ["find.html#q=oil", "compare.html#compare=2026-001,2026-002", "batches.html"]
)
def test_a_phone_scrolls_only_down(browser: webdriver.Chrome, site: str, page: str) -> None:
    size = {"width": 320, "height": 640, "deviceScaleFactor": 1, "mobile": True}
    browser.execute_cdp_cmd("Emulation.setDeviceMetricsOverride", size)
    try:
        opened(browser, f"{site}/{page}")
        until(
            browser,
            lambda: (
                "#" not in page or hits(browser) or browser.find_elements(By.CSS_SELECTOR, "#beside table")
            ),
        )
        assert browser.execute_script("return document.documentElement.scrollWidth") <= 320
    finally:
        browser.execute_cdp_cmd("Emulation.clearDeviceMetricsOverride", {})


def test_hostile_words_of_a_note_stay_words(browser: webdriver.Chrome, tmp_path: Path) -> None:
    hostile = "<img src=x onerror=alert(1)><b>zebra</b> </script><script>document.title = 1</script>"
    copy = tmp_path / "log"
    shutil.copytree(ROOT / "tests" / "logbooks" / "gallons", copy)
    for name in ("001", "002"):
        path = copy / "batches" / "2025" / f"{name}.yaml"
        text = re.sub(r"^note: .*$", "", path.read_text(encoding="utf-8"), flags=re.MULTILINE)
        path.write_text(f"{text.rstrip()}\nnote: '{hostile}'\n", encoding="utf-8")
    made = build(copy, tmp_path / "site")
    opened(browser, f"{made.as_uri()}/find.html#q=zebra")
    until(browser, lambda: hits(browser))
    assert hostile[:40] in texts(browser)[0]
    assert browser.find_elements(By.CSS_SELECTOR, "#found img, #found b, #found script") == []
    ids = [text.split("\n")[0].split()[1] for text in texts(browser)]
    opened(browser, f"{made.as_uri()}/compare.html#compare={','.join(ids)}")
    until(browser, lambda: browser.find_elements(By.CSS_SELECTOR, "#beside table"))
    assert browser.find_elements(By.CSS_SELECTOR, "#beside img, #beside script") == []
    assert browser.title != "1"


def test_a_preview_has_what_the_scripts_load(tmp_path: Path) -> None:
    logbook = tmp_path / "gallons"  # in no repository, for a preview asks for no history
    shutil.copytree(ROOT / "tests" / "logbooks" / "gallons", logbook)
    preview = Preview(logbook, "workshop")
    made = build(logbook, tmp_path / "site")
    for name in ("assets/entries.js", "assets/minisearch/minisearch.js", "batches/2025-001.js"):
        assert preview.get(name) == (made / name).read_bytes()
