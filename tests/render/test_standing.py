"""Pages that stand are taken where nothing they are made from has changed; the site is what a build from nothing gives."""

from __future__ import annotations

import shutil
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest

from generator.build import build_site
from generator.kept import Kept
from generator.pages.view import Cell, Head, Page, TableView
from generator.render.standing import Standing
from tests.site.building import ROOT

LOGBOOK = ROOT / "tests" / "logbooks" / "gallons"
TABLE = TableView("t", "Lots", (Head("Lot"),), ((Cell("oil-1", "oil-1"),),))
PAGE = Page("batches/b.html", "Batch b", "batch.html", "Well.", "batches", {"tables": [TABLE]})
COMMON = {"title": "Fuel circle", "names": {"b": "batches/b.html"}}


def content(site: Path) -> dict[str, bytes]:
    return {
        str(path.relative_to(site)): path.read_bytes() for path in sorted(site.rglob("*")) if path.is_file()
    }


class Asked:
    """Renders a page, and counts how often it was asked to."""

    def __init__(self) -> None:
        self.times = 0

    def __call__(self) -> bytes:
        self.times += 1
        return b"<p>Well.</p>"


def asked(tmp_path: Path, page: Page = PAGE, common: object = None) -> int:
    """How often a page is rendered by a build that finds what the last one left."""
    render = Asked()
    standing = Standing(Kept(tmp_path / "cache"), tmp_path / "site", common or COMMON)  # type: ignore[arg-type]
    (tmp_path / "site/batches").mkdir(parents=True, exist_ok=True)
    (tmp_path / "site/batches/b.html").write_bytes(standing.page(page, render))
    standing.keep()
    return render.times


def test_a_page_is_rendered_once(tmp_path: Path) -> None:
    assert [asked(tmp_path) for _ in range(3)] == [1, 0, 0]


@pytest.mark.parametrize(
    "changed",
    [
        replace(PAGE, title="Batch c"),
        replace(PAGE, content={"tables": [replace(TABLE, rows=((Cell("oil-2", "oil-1"),),))]}),
        replace(PAGE, content={"tables": [replace(TABLE, rows=((Cell("oil-1", "oil-1", id="x"),),))]}),
        replace(PAGE, content={"tables": [TABLE], "note": ""}),
    ],
)
def test_a_page_that_is_told_anything_else_is_rendered(tmp_path: Path, changed: Page) -> None:
    assert [asked(tmp_path), asked(tmp_path, changed), asked(tmp_path, changed)] == [1, 1, 0]


def test_what_all_pages_are_told_counts(tmp_path: Path) -> None:
    other = {**COMMON, "title": "Shed"}
    assert [asked(tmp_path), asked(tmp_path, common=other), asked(tmp_path, common=other)] == [1, 1, 0]


def test_what_cannot_be_compared_is_rendered(tmp_path: Path) -> None:
    page = replace(PAGE, content={"call": lambda: None})
    assert [asked(tmp_path, page) for _ in range(2)] == [1, 1]


@pytest.mark.parametrize("content", [b"", b"<p>Well.</p>\n", b"<p>Ill.</p>"])
def test_a_page_that_was_touched_is_rendered(tmp_path: Path, content: bytes) -> None:
    assert asked(tmp_path) == 1
    (tmp_path / "site/batches/b.html").write_bytes(content)
    assert asked(tmp_path) == 1


def spoil(cache: Path, change: Callable[[bytes], bytes]) -> None:
    for path in cache.rglob("*"):
        if path.is_file():
            path.write_bytes(change(path.read_bytes()))


@pytest.mark.parametrize(
    "state",
    ["whole", "absent", "cut short", "of another key", "of another version", "site gone", "site spoilt"],
)
def test_a_change_gives_what_a_build_from_nothing_gives(
    tmp_path: Path, state: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    logbook, site, cache = tmp_path / "logbook", tmp_path / "site", tmp_path / "cache"
    shutil.copytree(LOGBOOK, logbook)
    if state == "of another version":
        with monkeypatch.context() as before:
            before.setattr("generator.render.standing.program", lambda: "an older one")
            before.setattr("generator.repeated.program", lambda: "an older one")
            build_site(logbook, site, "workshop", None, cache)
    else:
        build_site(logbook, site, "workshop", None, cache)
    batch = sorted((logbook / "batches").rglob("*.yaml"))[0]
    text = batch.read_text(encoding="utf-8")
    batch.write_text(f"{text[: text.index('public_note:')]}public_note: Another word.\n", encoding="utf-8")
    if state == "absent":
        shutil.rmtree(cache)
    elif state == "cut short":
        spoil(cache, lambda kept: kept[: len(kept) // 2])
    elif state == "of another key":
        spoil(cache, lambda kept: kept[::-1])
    elif state == "site gone":
        shutil.rmtree(site)
    elif state == "site spoilt":
        for path in site.rglob("*.html"):
            path.write_bytes(path.read_bytes()[:-1])
    build_site(logbook, site, "workshop", None, cache)
    build_site(logbook, tmp_path / "fresh", "workshop", None, None)
    assert content(site) == content(tmp_path / "fresh")
    assert any(b"Another word." in page for page in content(site).values())
