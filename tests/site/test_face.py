"""The face of a site in a real browser: the mark at the size of a tab, a workshop's own colours, the edges of paper."""

from __future__ import annotations

import base64
import shutil
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from pypdfium2 import PdfDocument
from selenium import webdriver
from selenium.webdriver.common.by import By
from selenium.webdriver.support.wait import WebDriverWait

from generator.colours import contrast
from generator.render.site import template_dir
from tests.site.browsing import started
from tests.site.building import ROOT, build

GALLONS = ROOT / "tests" / "logbooks" / "gallons"
THEME = 'theme:\n  light: {link: "#7a2e0b", accent: "#9c3d10", paper: "#fffdf7"}\n  dark: {link: "#ffb38a"}\n'
# the two columns and the drop around and between them, where they lie of sixteen
COLUMNS, DROP = ((5.5, 9), (5.5, 12), (9.5, 11.5)), ((3.5, 11), (7.5, 11), (12.5, 11), (9.5, 8))
PIXELS = """
const done = arguments[arguments.length - 1], image = new Image(), canvas = document.createElement('canvas');
canvas.width = canvas.height = 16;
image.onload = () => {
  const brush = canvas.getContext('2d');
  brush.fillStyle = arguments[1];
  brush.fillRect(0, 0, 16, 16);
  brush.drawImage(image, 0, 0, 16, 16);
  done(Array.from(brush.getImageData(0, 0, 16, 16).data));
};
image.src = arguments[0];
"""


@pytest.fixture(scope="module")
def browser() -> Iterator[webdriver.Chrome]:
    driver = started()
    yield driver
    driver.quit()


@pytest.fixture(scope="module")
def coloured(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A site with colours of its own."""
    folder = tmp_path_factory.mktemp("coloured")
    shutil.copytree(GALLONS, folder / "log")
    settings = folder / "log" / "logbook.yaml"
    settings.write_text(settings.read_text(encoding="utf-8") + THEME, encoding="utf-8")
    return build(folder / "log", folder / "site")


def prefer(browser: webdriver.Chrome, scheme: str) -> None:
    wish = [{"name": "prefers-color-scheme", "value": scheme}]
    browser.execute_cdp_cmd("Emulation.setEmulatedMedia", {"features": wish})


def hexed(colour: str) -> str:
    numbers = colour[colour.index("(") + 1 : -1].split(",")[:3]
    return "#" + "".join(f"{int(number):02x}" for number in numbers)


@pytest.mark.parametrize(("scheme", "ground"), [("light", "#ffffff"), ("dark", "#202124")])
def test_the_mark_is_told_apart_at_sixteen_pixels(
    browser: webdriver.Chrome, scheme: str, ground: str
) -> None:
    """Every part of it is there, and each stands out from its ground by 3 to 1 (WCAG 2.2, 1.4.11)."""
    prefer(browser, scheme)
    browser.get("data:text/html,<meta name='color-scheme' content='light dark'>")
    picture = base64.b64encode((template_dir() / "mark.svg").read_bytes()).decode()
    data = browser.execute_async_script(PIXELS, f"data:image/svg+xml;base64,{picture}", ground)

    def at(place: tuple[float, float]) -> str:
        start = 4 * (16 * int(place[1]) + int(place[0]))
        return "#" + "".join(f"{value:02x}" for value in data[start : start + 3])

    for column in COLUMNS:
        for drop in DROP:
            assert contrast(at(column), at(drop)) >= 3, (column, drop, at(column), at(drop))
    for drop in DROP:
        assert contrast(at(drop), ground) >= 3, drop


@pytest.mark.parametrize(
    ("scheme", "link", "paper"), [("light", "#7a2e0b", "#fffdf7"), ("dark", "#ffb38a", "#15181c")]
)
def test_a_workshop_s_own_colours_are_on_its_pages(
    browser: webdriver.Chrome, coloured: Path, scheme: str, link: str, paper: str
) -> None:
    prefer(browser, scheme)
    browser.get((coloured / "batches.html").as_uri())
    seen: list[Any] = browser.execute_script(
        "const style = (what) => getComputedStyle(document.querySelector(what));"
        "return [style('tbody a').color, style('body').backgroundColor,"
        " style('.top a[aria-current]').borderBottomColor];"
    )
    assert [hexed(seen[0]), hexed(seen[1])] == [link, paper]
    assert hexed(seen[2]) == ("#9c3d10" if scheme == "light" else "#f2853a")


def printed(browser: webdriver.Chrome, address: str, awaited: str = "main") -> list[str]:
    """The text of every sheet of paper, once what is awaited stands on the page."""
    browser.get("about:blank")
    browser.get(address)
    WebDriverWait(browser, 10).until(lambda _: browser.find_elements(By.CSS_SELECTOR, awaited))
    made = browser.execute_cdp_cmd("Page.printToPDF", {"preferCSSPageSize": True})
    return [sheet.get_textpage().get_text_range() for sheet in PdfDocument(base64.b64decode(made["data"]))]


def test_every_sheet_says_whose_as_of_when_and_which_it_is(browser: webdriver.Chrome, demo: Path) -> None:
    prefer(browser, "light")
    sheets = printed(browser, (demo / "batches" / "2026-002.html").as_uri())
    assert len(sheets) >= 3
    for number, text in enumerate(sheets, 1):
        assert f"{number} of {len(sheets)}" in text
        assert "Wendlow fuel co-op" in text and "Private: workshop copy" in text
        assert "As of 2026-11-20" in text if number == 1 else "as of 2026-11-20" in text
    assert sheets[0].count("Wendlow fuel co-op") == 1, "the head of the first sheet is the page's own"


def test_a_comparison_is_printed_without_the_table_it_was_chosen_from(
    browser: webdriver.Chrome, demo: Path
) -> None:
    address = f"{(demo / 'compare.html').as_uri()}#compare=2026-001,2026-002"
    compared = printed(browser, address, "#beside table")
    assert "2026-001" in compared[0] and not any("barn-2026-20" in text for text in compared)
    assert any("barn-2026-20" in text for text in printed(browser, (demo / "compare.html").as_uri()))


def test_the_marks_are_on_every_page(demo: Path) -> None:
    for path in [demo / "index.html", demo / "batches" / "2026-002.html"]:
        text = path.read_text(encoding="utf-8")
        assert 'rel="icon"' in text and text.count("assets/mark.svg") == 2
        assert 'assets/name-mark.svg" alt="Esterday"' in text
    assert (demo / "assets" / "name-mark.svg").is_file()
