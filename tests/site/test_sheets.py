"""Sheet and label on paper: one page each, and a code that a reader's telephone would read."""

from __future__ import annotations

import base64
import io
import re
from pathlib import Path

import pypdfium2
import pytest
import zxingcpp
from PIL import Image
from selenium import webdriver

from tests.site.browsing import WIDE, look

ADDRESS = "https://wendlow.example/fuel/"
# the fullest of the demo, one in parts, the first, one not finished or without columns where there is one
BATCHES = ("2026-020", "2026-002", "2024-001")


def printed(browser: webdriver.Chrome, path: Path) -> pypdfium2.PdfDocument:
    browser.get(path.as_uri())
    made = browser.execute_cdp_cmd("Page.printToPDF", {"preferCSSPageSize": True, "printBackground": True})
    return pypdfium2.PdfDocument(io.BytesIO(base64.b64decode(made["data"])))


def longest(site: Path, kind: str) -> list[str]:
    """The three largest pages of a kind."""
    found = sorted((site / kind).glob("*.html"), key=lambda path: path.stat().st_size, reverse=True)
    return [path.stem for path in found[:3]]


@pytest.mark.parametrize("kind", ["sheets", "labels"])
def test_each_is_one_page(shared_demo: Path, demo: Path, browser: webdriver.Chrome, kind: str) -> None:
    for site in (shared_demo, demo):
        for batch in dict.fromkeys((*longest(site, kind), *BATCHES)):
            assert len(printed(browser, site / kind / f"{batch}.html")) == 1, (kind, batch)


@pytest.mark.parametrize("kind", ["sheets", "labels"])
@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_the_code_leads_to_the_page_of_the_batch(
    shared_demo: Path, browser: webdriver.Chrome, kind: str, scheme: str
) -> None:
    look(browser, width=2 * WIDE, zoom=2, prefers_color_scheme=scheme)
    browser.get((shared_demo / kind / "2026-020.html").as_uri())
    code = browser.find_element("css selector", "figure.code")
    browser.execute_script(
        "arguments[0].scrollIntoView({block: 'center'})", code
    )  # a picture of it shows what is in view
    picture = code.screenshot_as_png
    (found,) = zxingcpp.read_barcodes(Image.open(io.BytesIO(picture)).convert("L"))
    assert found.text == f"{ADDRESS}batches/2026-020.html"
    assert (shared_demo / found.text.removeprefix(ADDRESS)).is_file()


@pytest.mark.parametrize("kind", ["sheets", "labels"])
def test_the_code_on_paper_leads_there_too(shared_demo: Path, browser: webdriver.Chrome, kind: str) -> None:
    """It is smaller there than on the screen, and was once cut off where it ought to have shrunk."""
    (page,) = printed(browser, shared_demo / kind / "2026-020.html")
    (found,) = zxingcpp.read_barcodes(page.render(scale=300 / 72).to_pil().convert("L"))
    assert found.text == f"{ADDRESS}batches/2026-020.html"


def test_without_an_address_there_is_no_code_and_the_page_says_so(gallons: Path) -> None:
    for kind in ("sheets", "labels"):
        for path in (gallons / kind).glob("*.html"):
            text = path.read_text(encoding="utf-8")
            assert 'class="code"' not in text and "no code to scan" in text


def test_a_bench_reading_is_called_one_on_the_sheet_too(demo: Path) -> None:
    """As on the page of its batch: only a laboratory's result has a verdict without a word before it."""
    text = (demo / "sheets" / "2026-023.html").read_text(encoding="utf-8")
    rows = re.findall(r"<tr>.*?</tr>", text, re.DOTALL)
    on_bench = [row for row in rows if ">bench<" in row and ">at most" in row]
    assert on_bench, "no bench reading beside a limit was found"
    assert all("bench reading" in row for row in on_bench)
