"""Home in a real browser: its three answers in the first screen of a laptop, and no script of charts to wait for."""

from __future__ import annotations

from pathlib import Path

import pytest
from selenium import webdriver

from tests.site.browsing import asked, go, look, run

HEIGHT = 800  # px of a window 1280 wide, as many laptops have
BOTTOMS = """
return [...document.querySelectorAll('.today > .part')].map(each => {
  const inner = [...each.querySelectorAll('*')].filter(one => one.checkVisibility());
  return Math.max(...inner.map(one => one.getBoundingClientRect().bottom)); })"""


def test_what_to_do_the_beds_and_the_last_batch_stand_in_one_screen(
    browser: webdriver.Chrome, demo: Path
) -> None:
    look(browser)
    go(browser, (demo / "index.html").as_uri())
    bottoms = run(browser, BOTTOMS)
    assert len(bottoms) == 3 and max(bottoms) <= HEIGHT
    assert not [address for address in asked(browser) if "vega" in address]


@pytest.mark.parametrize(
    ("page", "before", "behind"),
    [
        ("barn-2026-23", "barn-2026-22", "2026-025"),
        ("2026-025", "barn-2026-23", "barn-2026-24"),
        ("barn-2026-24", "2026-025", None),
    ],
)
def test_planned_batches_stand_behind_the_recorded_ones(
    demo: Path, page: str, before: str, behind: str | None
) -> None:
    text = (demo / "batches" / f"{page}.html").read_text(encoding="utf-8")
    assert f'<a rel="prev" href="{before}.html">' in text
    assert (f'<a rel="next" href="{behind}.html">' in text) if behind else ('rel="next"' not in text)


def test_a_shared_batch_knows_of_no_plan(shared_demo: Path) -> None:
    text = (shared_demo / "batches" / "barn-2026-23.html").read_text(encoding="utf-8")
    assert 'rel="prev"' in text and 'rel="next"' not in text
