"""Every kind of page by the rules of axe-core for WCAG A and AA: light and dark, wide and on a phone, and the shared site.

Source: axe-core, npm package `axe-core` 4.14.1 (MPL-2.0), rules tagged wcag2a to wcag22aa; published. It is not part of
this project: `npm install --prefix .corpora axe-core@4.14.1` fetches it.
"""

from __future__ import annotations

from functools import cache
from pathlib import Path
from typing import Any

import pytest
from selenium import webdriver

from tests.site.browsing import PHONE, WIDE, every_kind, go, look, wanting

SCRIPT = Path(__file__).parents[2] / ".corpora" / "node_modules" / "axe-core" / "axe.min.js"
TAGS = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"]
# Best practices beside the success criteria: order of headings, landmarks, regions, what is named twice. Not that of
# empty heads of tables: it does not read MathML, in which the heads of the tables of symbols are set.
RULES = [
    "heading-order",
    "page-has-heading-one",
    "landmark-one-main",
    "landmark-unique",
    "region",
    "empty-heading",
]
RULES += ["landmark-no-duplicate-main", "landmark-no-duplicate-banner", "landmark-no-duplicate-contentinfo"]
RULES += [
    "scope-attr-valid",
    "skip-link",
    "tabindex",
    "target-size",
    "label-title-only",
]
# Rows of a table are alike, and so are marks of a chart: the first eight of each stand for all.
RUN = """
const done = arguments[arguments.length - 1], [tags, rules] = arguments;
document.querySelectorAll('details').forEach(each => { each.open = true; });
document.querySelector('main').style.backgroundImage = 'none'; // the ruled margin: contrast above a picture is not judged
document.querySelectorAll('tbody, svg g').forEach(each => { [...each.children].slice(8).forEach(one => one.remove()); });
axe.run(document, {runOnly: {type: 'tag', values: [...tags, 'best-practice']}, resultTypes: ['violations'],
  rules: Object.fromEntries(axe.getRules(['best-practice']).map(each => [each.ruleId, {enabled: rules.includes(each.ruleId)}]))})
  .then(found => done({passes: found.passes.length, violations: found.violations.map(each =>
    [each.id, each.nodes.length, each.nodes[0].target.join(' '), each.nodes[0].failureSummary])}), error => done(String(error)));"""


@cache
def _axe() -> str:
    if not SCRIPT.is_file():
        wanting("axe-core is not installed", "fetch it with npm as this module says")
    return SCRIPT.read_text(encoding="utf-8")


def _judged(browser: webdriver.Chrome) -> dict[str, Any]:
    browser.execute_script(_axe())
    found = browser.execute_async_script(RUN, TAGS, RULES)
    assert isinstance(found, dict), found
    return found


def _violations(browser: webdriver.Chrome, address: str) -> dict[str, Any]:
    """What is found, by mode; each mode must have had enough to look at."""
    out: dict[str, Any] = {}
    go(browser, address)
    for width in (WIDE, PHONE):
        for scheme in ("light", "dark"):
            look(browser, width=width, prefers_color_scheme=scheme)
            found = _judged(browser)
            assert found["passes"] >= 15
            if found["violations"]:
                out[f"{width} {scheme}"] = found["violations"]
    return out


@every_kind
def test_nothing_is_found_on_any_kind_of_page(browser: webdriver.Chrome, demo: Path, page: str) -> None:
    assert _violations(browser, (demo / page).as_uri()) == {}


@pytest.mark.parametrize("page", ["index.html", "batches/2026-020.html"])
def test_nor_on_the_shared_site(browser: webdriver.Chrome, shared_demo: Path, page: str) -> None:
    assert _violations(browser, (shared_demo / page).as_uri()) == {}


def test_a_fault_is_found(browser: webdriver.Chrome, demo: Path) -> None:
    """That the rules run at all: text that is hard to see, a picture without a name, a heading out of order."""
    go(browser, (demo / "pages" / "about.html").as_uri())
    browser.execute_script(
        "const main = document.querySelector('main'); main.innerHTML += '<h5>Late</h5><img src=data:,>';"
        "main.querySelector('p').style.color = '#999';"
    )
    rules = {violation[0] for violation in _judged(browser)["violations"]}
    assert {"color-contrast", "image-alt", "heading-order"} <= rules
