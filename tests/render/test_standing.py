"""Files that stand are taken where nothing they are made from has changed; the site is what a build from nothing gives."""

from __future__ import annotations

import os
import shutil
from collections.abc import Callable, Iterator, Mapping
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from generator.build import build_site
from generator.kept import Kept
from generator.pages.downloads import KINDS
from generator.pages.view import Cell, Chart, Head, Page, TableView, Unmade
from generator.render import tree
from generator.render.standing import Standing
from generator.tables import ALL
from tests.site.building import ROOT

LOGBOOK = ROOT / "tests" / "logbooks" / "gallons"
TABLE = TableView("t", "Lots", (Head("Lot"),), ((Cell("oil-1", "oil-1"),),))
PAGE = Page("batches/b.html", "Batch b", "batch.html", "Well.", "batches", {"tables": [TABLE]})
COMMON = {"title": "Fuel circle", "names": {"b": "batches/b.html"}}


def content(site: Path) -> dict[str, bytes]:
    return {
        str(path.relative_to(site)): path.read_bytes() for path in sorted(site.rglob("*")) if path.is_file()
    }


class Build:
    """A build that finds what the last one left; counts how often the files of a page were asked for."""

    def __init__(self, tmp_path: Path, common: Mapping[str, object] = COMMON) -> None:
        self.site, self.times = tmp_path / "site", 0
        self.standing = Standing(Kept(tmp_path / "cache"), self.site, common)

    def files(self, page: Page) -> dict[str, bytes]:
        self.times += 1
        return {page.path: b"<p>Well.</p>", page.path.replace(".html", ".js"): b"well()"}

    def asked(self, unmade: Unmade) -> Page:
        """A page with its files, published; the line of it is kept."""
        page, files = self.standing.page(unmade, self.files)
        for path, content in files.items():
            (self.site / path).parent.mkdir(parents=True, exist_ok=True)
            (self.site / path).write_bytes(content)
        self.standing.keep()
        return page


def asked(tmp_path: Path, page: Page = PAGE, common: Mapping[str, object] = COMMON) -> int:
    """How often a page is rendered by a build that finds what the last one left."""
    build = Build(tmp_path, common)
    assert build.asked(Unmade(page.path, lambda: page)) == page
    return build.times


def of(value: object, *, charts: tuple[Chart, ...] = ()) -> Unmade:
    """A page that is made from one value, as it says."""
    content = {"value": value, "charts": charts} if charts else {"value": value}
    return Unmade(
        PAGE.path, lambda given: replace(PAGE, title=f"Batch {given}", content=content), lambda: value
    )


def test_a_page_of_one_value_is_made_where_that_is_another(tmp_path: Path) -> None:
    titles, times = [], []
    for value in (1.5, 1.5, 1.25, 1.25, 1.5):
        build = Build(tmp_path)
        titles.append(build.asked(of(value)).title)
        times.append(build.times)
    assert titles == ["Batch 1.5", "Batch 1.5", "Batch 1.25", "Batch 1.25", "Batch 1.5"]
    assert times == [1, 0, 1, 0, 1]


@pytest.mark.parametrize("name", ["batches/b.html", "batches/b.js"])
def test_a_page_of_one_value_is_made_where_one_of_its_files_is_not_as_it_was(
    tmp_path: Path, name: str
) -> None:
    times = []
    for change in (
        lambda path: None,
        lambda path: path.write_bytes(b"another"),
        lambda path: None,
        lambda path: path.unlink(),
        lambda path: None,
    ):
        build = Build(tmp_path)
        build.asked(of(1.5))
        times.append(build.times)
        change(tmp_path / "site" / name)
    assert times == [1, 0, 1, 0, 1]


def test_a_page_with_charts_is_always_made_as_its_site_lists_them(tmp_path: Path) -> None:
    chart = Chart("c", "Yield", "Well.", "yield_time", (), TABLE)
    builds = [Build(tmp_path) for _ in range(2)]
    assert [build.asked(of(1.5, charts=(chart,))).content["charts"] for build in builds] == [(chart,)] * 2


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


def test_a_pipe_in_the_place_of_a_page_is_not_waited_for(tmp_path: Path) -> None:
    assert asked(tmp_path) == 1
    (tmp_path / "site/batches/b.html").unlink()
    os.mkfifo(tmp_path / "site/batches/b.html")
    build = Build(tmp_path)
    build.standing.page(Unmade(PAGE.path, lambda: PAGE), build.files)
    assert build.times == 1


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
        for path in (*site.rglob("*.html"), *site.glob("data/*")):
            path.write_bytes(path.read_bytes()[:-1])
    build_site(logbook, site, "workshop", None, cache)
    build_site(logbook, tmp_path / "fresh", "workshop", None, None)
    assert content(site) == content(tmp_path / "fresh")
    assert any(b"Another word." in page for page in content(site).values())


# Each moves what stands on pages of batches that it does not name: their cost, how they are told, what is beside them.
EDITS = (
    ("logbook.yaml", "volume: US gal", "volume: L"),
    ("logbook.yaml", "burette: 0.05 mL", "burette: 0.1 mL"),
    ("logbook.yaml", "locale: en", "locale: de"),
    ("logbook.yaml", "locale: de", "locale: en"),
    ("logbook.yaml", "paid: 900.00 USD", "paid: 950.00 USD"),
    ("logbook.yaml", "grade: S15", "grade: S500"),
    ("lots/oil-a.yaml", "paid: 1.20 USD/US gal", "paid: 1.30 USD/US gal"),
    ("materials/all.yaml", "Used soybean oil", "Old soybean oil"),
    ("materials/all.yaml", "density: 7.68 lb/US gal", "density: 7.70 lb/US gal"),
    ("columns/porch.yaml", "name: Two resin columns", "name: Both resin columns"),
    (
        "columns/porch.yaml",
        "vessel: B, volume: 5 US gal, diameter: 8 in",
        "vessel: B, volume: 5 US gal, diameter: 9 in",
    ),
    ("prices/electricity.yaml", "value: 0.14 USD/kWh", "value: 0.15 USD/kWh"),
    ("tanks/drum.yaml", "behind the shed", "beside the shed"),
    ("batches/2025/003.yaml", "after A, sample: 50 g, acid: 1.15 mL", "after A, sample: 50 g, acid: 1.25 mL"),
    ("batches/2025/003.yaml", "value: 0.28 mg KOH/g", "value: 0.58 mg KOH/g"),
    ("batches/2025/003.yaml", "batch: 2025-003", "batch: 2025-003x"),
)


def test_edits_one_after_the_other_give_what_builds_from_nothing_give(tmp_path: Path) -> None:
    logbook, site, cache = tmp_path / "logbook", tmp_path / "site", tmp_path / "cache"
    shutil.copytree(LOGBOOK, logbook)
    build_site(logbook, site, "workshop", None, cache)
    last = content(site)
    for number, (file, old, new) in enumerate(EDITS):
        text = (logbook / file).read_text(encoding="utf-8")
        assert old in text
        (logbook / file).write_text(text.replace(old, new, 1), encoding="utf-8")
        build_site(logbook, site, "workshop", None, cache)
        build_site(logbook, tmp_path / str(number), "workshop", None, Path(tmp_path / "apart" / str(number)))
        now = content(site)
        assert now == content(tmp_path / str(number)), (file, new)
        assert now != last, (file, new)
        last = now


@pytest.fixture
def spelt(monkeypatch: pytest.MonkeyPatch) -> Iterator[list[str]]:
    """The tables that were written out, each as often as it was."""
    names: list[str] = []

    def counted(make: Callable[..., bytes]) -> Callable[..., bytes]:
        def write(table: Any, columns: Any) -> bytes:
            names.append(table.name)
            return make(table, columns)

        return write

    for kind, make in tree.SPELT.items():
        monkeypatch.setitem(tree.SPELT, kind, counted(make))
    yield names


def built(logbook: Path, tmp_path: Path, spelt: list[str], audience: str = "workshop") -> list[str]:
    """The tables that a build writes out, which finds what the last one left; the site is what a build from nothing gives."""
    spelt.clear()
    build_site(logbook, tmp_path / "site", audience, None, tmp_path / "cache")
    found = sorted(spelt)
    shutil.rmtree(tmp_path / "fresh", ignore_errors=True)
    build_site(logbook, tmp_path / "fresh", audience, None, None)
    assert content(tmp_path / "site") == content(tmp_path / "fresh")
    return found


def changed(logbook: Path, before: str, behind: str) -> None:
    """One batch in which something is written otherwise."""
    path = next(
        path for path in sorted((logbook / "batches").rglob("*.yaml")) if before in path.read_text("utf-8")
    )
    path.write_text(path.read_text("utf-8").replace(before, behind), "utf-8")


def test_a_table_in_which_nothing_has_changed_is_not_written_out_again(
    tmp_path: Path, spelt: list[str]
) -> None:
    logbook = tmp_path / "logbook"
    shutil.copytree(LOGBOOK, logbook)
    kinds = len(KINDS)
    assert built(logbook, tmp_path, spelt) == sorted(table.name for table in ALL for _ in range(kinds))
    changed(logbook, "public_note:", "public_note: Or so.  #")
    assert set(built(logbook, tmp_path, spelt)) == {"batches"}
    touched = tmp_path / "site/data/tests.json"
    touched.write_bytes(touched.read_bytes().replace(b"1", b"2", 1))
    changed(logbook, "Or so.", "Well.")
    assert built(logbook, tmp_path, spelt) == sorted(["batches"] * kinds + ["tests"])


def test_of_each_audience_the_tables_are_its_own(tmp_path: Path, spelt: list[str]) -> None:
    """A site that another audience had: what a column shows fewer, or other values, is written out."""
    built(LOGBOOK, tmp_path, spelt)
    assert "batches" in built(LOGBOOK, tmp_path, spelt, "shared")
    assert "batches" in built(LOGBOOK, tmp_path, spelt)


@pytest.mark.parametrize("line", ["of another", ("0" * 40, [], ["a.csv"]), ("", [], [])])
def test_a_line_that_is_not_of_a_file_costs_the_making_of_it_alone(tmp_path: Path, line: Any) -> None:
    """Lines that are of another file, of nothing that stands, and of no file."""

    def made(*, spoilt: bool = False) -> list[str]:
        standing, asked = Standing(Kept(tmp_path / "cache"), tmp_path, COMMON), []
        if spoilt:
            standing.known["a.csv"] = standing.known["b.csv"] if line == "of another" else line
        for path in ("a.csv", "b.csv"):

            def make(path: str = path) -> bytes:
                asked.append(path)
                return path.encode()

            assert standing.file(path, standing.of("both"), make) == path.encode()
            (tmp_path / path).write_bytes(path.encode())
        standing.keep()
        return asked

    assert [made(), made(), made(spoilt=True), made()] == [["a.csv", "b.csv"], [], ["a.csv"], []]


def test_what_a_table_is_made_of_is_told_apart(tmp_path: Path) -> None:
    """Values that are equal and are not written alike, and texts whose letters fall into other cells."""
    standing = Standing(Kept(tmp_path), tmp_path, COMMON)
    several: list[list[list[Any]]] = [
        [["a", "b"]],
        [["ab", ""]],
        [["a"], ["b"]],
        [[1]],
        [[1.0]],
        [[True]],
        [["1"]],
        [[None]],
        [[0.0]],
        [[-0.0]],
    ]
    assert len({standing.of(*columns) for columns in several}) == len(several)
    assert standing.of(["a" * 2, "b"]) == standing.of(["".join(["a", "a"]), "b"]) != ""
    assert (
        Standing(Kept(None), tmp_path, COMMON).of(["a"])
        == Standing(Kept(tmp_path), None, COMMON).of(["a"])
        == ""
    )
