"""Every kind of page in a real browser, from a folder and from a server: nothing complains, charts draw, scripts serve."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from selenium import webdriver
from selenium.webdriver.common.action_chains import ActionChains
from selenium.webdriver.common.by import By
from selenium.webdriver.common.keys import Keys
from selenium.webdriver.remote.webelement import WebElement
from selenium.webdriver.support.wait import WebDriverWait

from tests.site.browsing import (
    KINDS,
    NAMED,
    PATIENCE_S,
    asked,
    complaints,
    every_kind,
    go,
    look,
    run,
    started,
)

CHARTED = ("batches", "quality", "drift", "costs", "oil", "columns", "tanks")

# Of each chart: its state, how many marks of it have a size, and the colours they are filled or drawn with.
MARKS = """
return [...document.querySelectorAll('figure[data-chart]')].map(figure => {
  const marks = [...figure.querySelectorAll('.stage svg .mark-group path, .stage svg .mark-rule line,'
    + '.stage svg .mark-symbol path, .stage svg .mark-rect path, .stage svg .mark-line path')];
  const drawn = marks.filter(mark => { const box = mark.getBoundingClientRect(); return box.width + box.height > 1; });
  const colours = drawn.flatMap(mark => [getComputedStyle(mark).fill, getComputedStyle(mark).stroke]);
  return [figure.dataset.state, drawn.length, [...new Set(colours)].sort().join()];
})"""


@pytest.fixture(params=["file", "http"])
def root(request: pytest.FixtureRequest, demo: Path) -> str:
    """Where the demo stands, ending in a slash: a folder, a server."""
    return demo.as_uri() + "/" if request.param == "file" else str(request.getfixturevalue("served"))


def test_the_pages_named_are_of_templates_that_exist() -> None:
    assert set(NAMED) <= set(KINDS)
    assert len(KINDS) >= 15


@every_kind
def test_a_page_opens_without_complaint_in_the_light_and_in_the_dark(
    browser: webdriver.Chrome, root: str, page: str
) -> None:
    """From a folder it opens in the light and then darkens, from a server the other way round."""
    schemes = ("light", "dark") if root.startswith("file:") else ("dark", "light")
    papers, drawn = {}, {}
    for scheme in schemes:
        look(browser, prefers_color_scheme=scheme)
        if scheme == schemes[0]:
            go(browser, root + page)
        papers[scheme] = run(browser, "return getComputedStyle(document.body).backgroundColor")
        drawn[scheme] = run(browser, MARKS)
    assert browser.find_element(By.TAG_NAME, "h1").text
    assert complaints(browser) == []
    assert [address for address in asked(browser) if not address.startswith(root)] == []
    assert papers == {"light": "rgb(255, 255, 255)", "dark": "rgb(21, 24, 28)"}
    for light, dark in zip(drawn["light"], drawn["dark"], strict=True):
        assert light[0] == dark[0] == "drawn"
        assert light[1] == dark[1] > 0
        assert light[2] != dark[2]  # charts follow the page into the dark


def test_a_chart_is_heard_as_its_sentence_and_has_its_table_beside(
    browser: webdriver.Chrome, demo: Path
) -> None:
    """By the tree that the browser hands to a screen reader."""
    go(browser, (demo / "costs.html").as_uri())
    tree = browser.execute_cdp_cmd("Accessibility.getFullAXTree", {})["nodes"]
    heard = [
        (node["role"]["value"], node.get("name", {}).get("value", "")) for node in tree if not node["ignored"]
    ]
    sentences = [each.text for each in browser.find_elements(By.TAG_NAME, "figcaption")]
    assert [name for role, name in heard if role == "figure"] == sentences
    described = [name for role, name in heard if role.casefold() in ("graphics-document", "graphicsdocument")]
    assert len(described) == len(sentences)
    assert all(len(name) > 40 for name in described)
    assert sum(name == "The same as a table" for role, name in heard if role == "DisclosureTriangle") == len(
        sentences
    )


@pytest.mark.parametrize("page", CHARTED)
def test_pages_of_figures_have_charts(demo: Path, page: str) -> None:
    """So that the test above cannot pass for want of any."""
    assert "<figure" in (demo / f"{page}.html").read_text(encoding="utf-8")


# What the scripts do, by mouse and by keyboard.


def _column(browser: webdriver.Chrome, label: str) -> tuple[WebElement, int]:
    """The head of a column of all batches, and its place."""
    heads = browser.find_elements(By.CSS_SELECTOR, "table#all-batches thead th")
    place = next(number for number, head in enumerate(heads) if head.text.startswith(label))
    return heads[place], place


def _cells(browser: webdriver.Chrome, place: int) -> list[str]:
    """The texts of a column from top to bottom."""
    script = "return [...document.querySelector('#all-batches').tBodies[0].rows].map(row => row.cells[arguments[0]].innerText)"
    return list(run(browser, script, place))


@pytest.mark.parametrize("by", ["mouse", Keys.ENTER, Keys.SPACE], ids=["mouse", "enter", "space"])
def test_a_table_sorts_by_its_numbers(browser: webdriver.Chrome, demo: Path, by: str) -> None:
    go(browser, (demo / "batches.html").as_uri())
    head, place = _column(browser, "Fuel")
    button = head.find_element(By.TAG_NAME, "button")
    before = _cells(browser, place)
    for way in ("ascending", "descending"):
        if by == "mouse":
            button.click()
        else:
            run(browser, "arguments[0].focus()", button)
            ActionChains(browser).send_keys(by).perform()
        assert head.get_attribute("aria-sort") == way
        cells = _cells(browser, place)
        numbers = [float(text) for text in cells if text != "–"]
        assert numbers == sorted(numbers, reverse=way == "descending")
        assert set(cells[len(numbers) :]) <= {"–"}  # unknown ones last, both ways
        assert sorted(cells) == sorted(before)
    assert len(set(numbers)) > 10


def test_a_filter_leaves_the_rows_that_match_and_stays_in_the_address(
    browser: webdriver.Chrome, demo: Path
) -> None:
    def shown() -> list[str]:
        rows = "return [...document.querySelectorAll('#all-batches tbody tr')]"
        return list(run(browser, f"{rows}.filter(row => row.checkVisibility()).map(row => row.innerText)"))

    go(browser, (demo / "batches.html").as_uri())
    everything = len(shown())
    browser.find_element(By.CSS_SELECTOR, "#find-all-batches").send_keys("2025-00")
    some = shown()
    assert 0 < len(some) <= 10
    assert all("2025-00" in row for row in some)
    browser.refresh()
    assert shown() == some
    assert browser.find_element(By.CSS_SELECTOR, ".find output").text == f"{len(some)} of {everything} rows"
    browser.find_element(By.CSS_SELECTOR, "#find-all-batches").send_keys(Keys.ESCAPE)
    assert len(shown()) == everything


def test_an_id_that_is_there_is_found_as_it_is_and_its_beginning_finds_more(
    browser: webdriver.Chrome, demo: Path
) -> None:
    """There are the lots meoh-recovered and meoh-recovered-barn."""

    def first() -> list[str]:
        rows = "return [...document.querySelectorAll('#lots-table tbody tr')]"
        return list(run(browser, f"{rows}.filter(row => !row.hidden).map(row => row.cells[0].innerText)"))

    go(browser, (demo / "oil.html").as_uri())
    field = browser.find_element(By.CSS_SELECTOR, "#find-lots-table")
    field.send_keys("meoh-recovere")
    assert sorted(first()) == ["meoh-recovered", "meoh-recovered-barn"]
    field.send_keys("d")
    assert first() == ["meoh-recovered"]
    field.send_keys("-barn")
    assert first() == ["meoh-recovered-barn"]


def test_the_keyboard_alone_reaches_everything_in_order_and_shows_where_it_is(
    browser: webdriver.Chrome, demo: Path
) -> None:
    """Tab from the top: the link past the navigation first, never back up in the document, an outline on each."""
    go(browser, (demo / "batches.html").as_uri())
    wanted = run(
        browser,
        "return [...document.querySelectorAll('a[href], button, input, summary, [tabindex]')]"
        ".filter(each => each.checkVisibility()).slice(0, 60).map(each => each.outerHTML)",
    )
    reached = []
    for _ in wanted:
        ActionChains(browser).send_keys(Keys.TAB).perform()
        one = browser.switch_to.active_element
        reached.append(str(one.get_attribute("outerHTML")))
        style, width, top = run(
            browser,
            "const a = arguments[0], s = getComputedStyle(a); return [s.outlineStyle, s.outlineWidth, a.getBoundingClientRect().top]",
            one,
        )
        assert (style, width) == ("solid", "2px"), reached[-1]
        assert 0 <= top < 900, reached[-1]  # scrolled into view, behind nothing
    assert reached == wanted
    assert "Skip to the text" in reached[0]


def test_the_skip_link_leads_past_the_navigation(browser: webdriver.Chrome, demo: Path) -> None:
    go(browser, (demo / "methods.html").as_uri())
    ActionChains(browser).send_keys(Keys.TAB, Keys.ENTER, Keys.TAB).perform()
    assert run(browser, "return document.querySelector('main').contains(document.activeElement)")


def test_a_chart_tells_about_the_mark_that_is_pointed_at(browser: webdriver.Chrome, demo: Path) -> None:
    go(browser, (demo / "costs.html").as_uri())
    longest = run(
        browser,
        "const size = bar => bar.getBoundingClientRect().height;"
        "return [...document.querySelectorAll('#chart-cost-parts .stage .mark-rect path')]"
        ".reduce((one, other) => size(one) < size(other) ? other : one)",
    )
    ActionChains(browser).move_to_element(longest).perform()
    told = browser.find_element(By.CSS_SELECTOR, "#vg-tooltip-element")
    WebDriverWait(browser, PATIENCE_S).until(lambda _: told.is_displayed())
    assert "batch" in told.text and "EUR/L" in told.text


@pytest.mark.parametrize("by", ["mouse", "keyboard"])
def test_the_table_beside_a_chart_opens(browser: webdriver.Chrome, demo: Path, by: str) -> None:
    go(browser, (demo / "costs.html").as_uri())
    summary = browser.find_element(By.CSS_SELECTOR, "#chart-cost-parts summary")
    if by == "mouse":
        summary.click()
    else:
        run(browser, "arguments[0].focus()", summary)
        ActionChains(browser).send_keys(Keys.ENTER).perform()
    assert browser.find_element(By.CSS_SELECTOR, "table#parts-table").is_displayed()


# Without scripts: a second browser, in which none runs.

# What is neither drawn nor told: rows, pictures and paragraphs without a box, once all that folds away is open.
LACKING = """
document.querySelectorAll('details').forEach(each => { each.open = true; });
return [...document.querySelectorAll('main tr, main svg[role=img], main p, main li, main dd')]
  .filter(each => !each.checkVisibility() && !each.matches('.signed, .signed *, [popover], [popover] *, .with, .with *, #mover, #mover *, .chosen, .chosen *'))
  .map(each => each.outerHTML.slice(0, 200))"""


@pytest.fixture(scope="module")
def still() -> Iterator[webdriver.Chrome]:
    driver = started(scripts=False)
    yield driver
    driver.quit()


@every_kind
def test_everything_is_there_without_scripts(still: webdriver.Chrome, demo: Path, page: str) -> None:
    still.get_log("browser")
    still.get((demo / page).as_uri())
    assert not run(still, "return document.querySelectorAll('button.sort, .find, .stage').length")
    assert run(still, LACKING) == []
    pictures, charts = run(
        still,
        "return ['figure:not(.code, .flow) svg[role=img]', 'figure[data-chart]'].map(each => document.querySelectorAll(each).length)",
    )
    assert pictures == charts
    assert complaints(still) == []


def test_long_tables_are_long_without_scripts_too(still: webdriver.Chrome, demo: Path) -> None:
    still.get((demo / "costs.html").as_uri())
    rows = "return [...document.querySelectorAll('#costs-table tbody tr')].filter(row => row.checkVisibility()).length"
    assert run(still, rows) >= 100
