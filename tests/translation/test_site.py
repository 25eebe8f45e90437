"""The demo in German: its pages say so, and what is translated is said in German everywhere."""

from __future__ import annotations

import json
import re
import shutil
from pathlib import Path

import pytest
from selectolax.lexbor import LexborHTMLParser

from generator.build import build_site
from tests.translation.catalogue import catalogue

ROOT = Path(__file__).resolve().parents[2]
NUMBER_WITH_POINT = re.compile(
    r"\d\.\d{1,2}(?!\d)|\d\.\d{4}|(?<!\d)0\.\d"
)  # thousands have one before three digits, no number begins so with a nought


@pytest.fixture(scope="module")
def site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("german")
    shutil.copytree(ROOT / "logbook", folder / "logbook")
    settings = folder / "logbook" / "logbook.yaml"
    text = settings.read_text(encoding="utf-8")
    assert "locale: en\n" in text
    settings.write_text(text.replace("locale: en\n", "locale: de\n"), encoding="utf-8")
    build_site(folder / "logbook", folder / "site", "workshop")
    return folder / "site"


def nodes(path: Path, within: str, *, whole: bool = True) -> list[str]:
    """The texts of nodes: all of each, or only what stands in none below it."""
    tree = LexborHTMLParser(path.read_text(encoding="utf-8"))
    return [text for found in tree.css(within) if (text := " ".join(found.text(deep=whole).split()))]


def test_every_page_is_marked_as_german(site: Path) -> None:
    pages = list(site.rglob("*.html"))
    assert len(pages) > 100
    assert all('<html lang="de">' in page.read_text(encoding="utf-8") for page in pages)


def test_no_label_of_a_batch_is_english(site: Path) -> None:
    english = {
        message.id
        for message in catalogue("de")
        if isinstance(message.id, str) and message.id != message.string
    }
    german = {message.string for message in catalogue("de")}
    pages = sorted((site / "batches").glob("*.html"))[:40]
    for page in (*pages, site / "batches.html", site / "index.html"):
        labels = nodes(page, ".figures dt, .margin h2, nav a, .foot a, h1")
        labels += nodes(page, "thead th", whole=False)
        assert len(labels) > 20
        assert not [label for label in labels if label in english and label not in german], page.name


def test_every_label_in_the_margin_of_a_batch_is_from_the_catalogue(site: Path) -> None:
    german = {message.string for message in catalogue("de")} | {
        "Je Liter Dieseläquivalent",
        "Je litre Dieseläquivalent",
    }
    for page in sorted((site / "batches").glob("*.html"))[:40]:
        assert not [label for label in nodes(page, ".margin h2, .margin dt") if label not in german], (
            page.name
        )


def test_computed_figures_carry_a_decimal_comma(site: Path) -> None:
    pages = sorted((site / "batches").glob("*.html"))[:40]
    seen = 0
    for page in pages:
        for text in nodes(page, ".figures dd, .bars dd, #runs td"):
            assert not NUMBER_WITH_POINT.search(text), (page.name, text)
            seen += bool(re.search(r"\d,\d", text))
    assert seen > 400


def test_downloads_stay_as_they_are(site: Path) -> None:
    head = (site / "data" / "batches.csv").read_text(encoding="utf-8").splitlines()[0]
    assert head.startswith("batch,date,")
    assert re.search(r",\d+\.\d+,", (site / "data" / "batches.csv").read_text(encoding="utf-8"))


def test_the_search_knows_months_by_their_german_names(site: Path) -> None:
    text = (site / "assets" / "entries.js").read_text(encoding="utf-8")
    told = json.loads(text.removeprefix("window.logbookEntries = ").rstrip(";\n"))
    assert (told["months"][0], told["months"][2], told["months"][9]) == ("Januar", "März", "Oktober")
