"""Every kind of page on paper: each row of each table once and whole, heads on every sheet, no heading left alone."""

from __future__ import annotations

import base64
import re
import unicodedata
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest
from pypdfium2 import PdfDocument, PdfPage
from selenium import webdriver

from tests.site.browsing import KINDS, go, look, run

LONG = {
    "batches": 200,
    "charge": 40,
    "columns": 200,
    "costs": 200,
    "quality": 500,
    "tanks": 900,
}  # rows at least

# Each table: the words of its head if that is seen, and those of each row. What is only heard, and the marks of sorting, are not printed.
TABLES = """
document.querySelectorAll('.hidden, .way, .how').forEach(each => each.remove());
document.querySelectorAll('.confidence').forEach(each => each.replaceWith(`(${each.textContent})`));
return [...document.querySelectorAll('main table')].map(table => [
  table.tHead && getComputedStyle(table.tHead).position !== 'absolute' ? [...table.tHead.rows[0].cells].map(cell => cell.textContent) : [],
  [...table.tBodies[0].rows].map(row => row.textContent)])"""
CAUTION = "Methanolburnsunseenandpoisonsthroughtheskin"
ALONE = 8  # signs at the foot of a sheet that is worth its paper
HEADINGS = "return [...document.querySelectorAll('h1, h2, h3, h4')].map(each => each.textContent)"


BOTTOM_PT = 20 / 25.4 * 72  # the margin, where the caution and the number of the sheet stand
FOOT_PT = 18  # a line of text and the space above it
SHEET_PX = (210 - 2 * 14) / 25.4 * 96  # between the margins
RIGHT_PT = (210 - 14) / 25.4 * 72  # A4 without its right margin, as the style sheet sets it


@dataclass(frozen=True)
class Paper:
    """A page as it prints: of each sheet its text, what stands at its foot, and how far to the right it reaches (pt).

    Its tables, each as heads and rows, and its headings; all without blanks.
    """

    sheets: list[str]
    feet: list[str]
    reach: list[float]
    tables: list[tuple[list[str], list[str]]]
    headings: list[str]


def close(text: str) -> str:
    """Text without blanks, ligatures and the reader's own sign for a hyphen that ends a line."""
    return re.sub(r"[\s\u00ad\u200b]+", "", unicodedata.normalize("NFKC", text).replace("\ufffe", "-"))


def _read(sheet: PdfPage) -> tuple[str, str, float]:
    """The text of a sheet, that of its lowest lines above the margin, and how far to the right it reaches."""
    text = sheet.get_textpage()
    boxes = [text.get_rect(number) for number in range(text.count_rects())]
    lowest = min(bottom for _, bottom, _, _ in boxes if bottom > BOTTOM_PT)
    foot = text.get_text_bounded(bottom=lowest - 1, top=lowest + FOOT_PT)
    return close(text.get_text_range()), close(foot), max(right for _, _, right, _ in boxes)


def printed(browser: webdriver.Chrome, address: str) -> Paper:
    """Print a page as its reader would, on A4."""
    go(browser, address)
    made = browser.execute_cdp_cmd("Page.printToPDF", {"preferCSSPageSize": True, "printBackground": False})
    read = [_read(sheet) for sheet in PdfDocument(base64.b64decode(made["data"]))]
    tables: list[Any] = run(browser, TABLES)
    return Paper(
        [text for text, _, _ in read],
        [foot for _, foot, _ in read],
        [right for _, _, right in read],
        [(list(map(close, heads)), list(map(close, rows))) for heads, rows in tables],
        [close(text) for text in run(browser, HEADINGS)],
    )


@pytest.mark.parametrize("address", [*KINDS.values(), "batches/2026-012.html"])
def test_nothing_is_wider_than_the_sheet(browser: webdriver.Chrome, demo: Path, address: str) -> None:
    """A browser prints all of a page smaller where one thing on it is wider; 182 mm are left between the margins."""
    look(browser, width=int(SHEET_PX))
    browser.execute_cdp_cmd("Emulation.setEmulatedMedia", {"media": "print"})
    try:
        go(browser, (demo / address).as_uri())
        assert run(browser, "return document.documentElement.scrollWidth") <= SHEET_PX
    finally:
        browser.execute_cdp_cmd("Emulation.setEmulatedMedia", {"media": ""})
        look(browser)


@pytest.mark.parametrize("kind", list(KINDS))
def test_every_row_is_printed_whole_below_the_head_of_its_table(
    browser: webdriver.Chrome, demo: Path, kind: str
) -> None:
    paper = printed(browser, (demo / KINDS[kind]).as_uri())
    assert sum(len(rows) for _, rows in paper.tables) >= LONG.get(kind, 0)
    for heads, rows in paper.tables:
        for row in rows:
            holding = [sheet for sheet in paper.sheets if row in sheet]
            assert holding, row
            assert any(all(head in sheet for head in heads) for sheet in holding), (heads, row)
    assert [foot for foot in paper.feet[:-1] if any(foot in heading for heading in paper.headings)] == []
    assert max(map(len, paper.feet)) < 600  # a few lines
    assert len(paper.feet[-1]) > ALONE or len(paper.sheets) == 1, "a last sheet of its own holds something"
    assert all(CAUTION in sheet for sheet in paper.sheets)
    assert max(paper.reach) <= RIGHT_PT + 1
    assert "Skiptothetext" not in "".join(paper.sheets)
