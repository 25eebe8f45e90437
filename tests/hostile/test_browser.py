"""A real browser with the content policy taken away: with every script payload on the pages, nothing runs and nothing is asked for.

The policy is the second wall. Here only the first one stands, which is that what a page shows is escaped.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from html import escape
from pathlib import Path

import pytest
from markupsafe import Markup
from selectolax.lexbor import LexborHTMLParser
from selenium import webdriver

from generator.build import Computed, computed
from generator.pages.view import Page
from generator.render.assets import assets
from generator.render.finding import TERMS, finding_scripts, terms_script
from generator.render.pictures import Pictures
from generator.render.site import Renderer
from generator.render.tree import common
from generator.validate.logbook import checked_folder
from tests.conftest import Counted
from tests.site.browsing import asked, complaints, go, run, started

from .books import fits, write
from .corpora import needs_corpora, scripts

pytestmark = needs_corpora
TOGETHER, ALL_KINDS = 300, 100
EMPTY = "Infinite extent for field"  # what Vega says of a layer of a chart without a mark in it
DEAR = ("batches", "offers", "tanks")
POLICY = re.compile(rb'<meta http-equiv="Content-Security-Policy"[^>]*>')
LISTS = ("index.html", "costs.html", "oil.html", "find.html")
# What a payload would call is noted instead of done, before any script of the page runs.
TRAP = """
window.sprung = [];
for (const name of ["alert", "confirm", "prompt", "print", "open", "fetch", "eval", "importScripts", "Worker", "WebSocket"])
  window[name] = (...given) => { window.sprung.push(name + "(" + given + ")"); };
navigator.sendBeacon = (...given) => { window.sprung.push("sendBeacon(" + given + ")"); };
"""


@pytest.fixture(scope="module")
def trapped() -> Iterator[webdriver.Chrome]:
    browser = started()
    browser.execute_cdp_cmd("Page.addScriptToEvaluateOnNewDocument", {"source": TRAP})
    yield browser
    browser.quit()


def site_of(root: Path, texts: Sequence[str], without: Sequence[str] = ()) -> Computed:
    folder, checked = checked_folder(write(root, texts, without))
    assert checked.fit
    return computed(folder, checked, "workshop")


def without_policy(site: Computed, pages: Sequence[Page], to: Path) -> list[Path]:
    """Pages of a site with all their scripts and no policy; the scripts draw what a picture would stand for."""
    same, renderer = common(site.results, site.pages, 0), Renderer(lambda _: Markup('<svg role="img"></svg>'))
    tree = {page.path: renderer.render(page, same) for page in pages}
    scripts_of = {**assets(Pictures().specifications(pages), site.results), **finding_scripts(pages)}
    scripts_of[TERMS] = terms_script()
    for path, content in {**tree, **scripts_of}.items():
        (to / path).parent.mkdir(parents=True, exist_ok=True)
        open_, taken = POLICY.subn(b"", content) if path in tree else (content, 1)
        assert taken == 1
        (to / path).write_bytes(open_)
    return [to / page.path for page in pages]


def sprung(browser: webdriver.Chrome, page: Path) -> list[str]:
    """All that a page did which it must not: calls noted, foreign addresses, complaints, another title."""
    go(browser, page.as_uri())
    title = LexborHTMLParser(page.read_text(encoding="utf-8")).css_first("title")
    assert title is not None
    found = list(run(browser, "return window.sprung"))
    found += [address for address in asked(browser) if not address.startswith("file:")]
    found += [each for each in complaints(browser) if EMPTY not in each]
    shown = run(browser, "return document.title")
    return found + ([] if shown.split() == title.text().split() else [f"title {shown}"])


def test_the_trap_closes(trapped: webdriver.Chrome, tmp_path: Path) -> None:
    """On pages that do not escape what they show."""
    bad = [
        "<script>alert(1)</script>",
        "<img src=x onerror=confirm(1)>",
        "<svg onload=\"document.title='x'\">",
        "<img src='http://127.0.0.1:9/x'>",
    ]
    for number, text in enumerate(bad):
        page = tmp_path / f"{number}.html"
        page.write_text(f"<!doctype html><meta charset=utf-8><title>a</title>{text}", encoding="utf-8")
        assert sprung(trapped, page), text
        page.write_text(
            f"<!doctype html><meta charset=utf-8><title>a</title>{escape(text)}", encoding="utf-8"
        )
        assert not sprung(trapped, page), text


def fitting() -> list[str]:
    return sorted({text for text in scripts() if fits(text)})


def test_no_payload_runs_on_any_kind_of_page(
    trapped: webdriver.Chrome, tmp_path: Path, counted: Counted
) -> None:
    texts = fitting()[:: len(fitting()) // ALL_KINDS][:ALL_KINDS]
    site = site_of(tmp_path / "book", texts)
    one_of_each = {page.template: page for page in site.pages}
    for page in without_policy(site, [*one_of_each.values()], tmp_path / "site"):
        assert not sprung(trapped, page), page
    assert len(one_of_each) > 15
    counted("pages without a policy on which nothing ran", len(one_of_each))


def test_no_payload_runs_in_a_list(trapped: webdriver.Chrome, tmp_path: Path, counted: Counted) -> None:
    opened = 0
    for number in range(0, len(fitting()), TOGETHER):
        some = fitting()[number : number + TOGETHER]
        site = site_of(tmp_path / f"book{number}", some, DEAR)
        lists = [page for page in site.pages if page.path in LISTS]
        for page in without_policy(site, lists, tmp_path / f"site{number}"):
            assert not sprung(trapped, page), (page, number)
            opened += 1
    assert len(fitting()) > 4000 and opened > 50
    counted("script payloads on pages without a policy", len(fitting()))
    counted("pages without a policy on which nothing ran", opened)
