"""Everything in a table that is the id of a batch, lot, charge, offer, tank or problem is a link to where it is told of."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from html.parser import HTMLParser
from pathlib import Path

import pytest

from generator.pages.names import addresses
from generator.render.linking import linked
from tests.compute.test_audience import results
from tests.site.test_pages import pages

OF_COLUMN = {"Batch": "batches", "Charge": "charges", "Lot": "lots", "Offer": "offers", "Tank": "tanks"}
ID_OF = {"batches": "batch", "charges": "charge", "lots": "lot", "offers": "offer", "tanks": "tank"}
PLACE = {
    "batches": r"batches/{}\.html",
    "charges": r"charges/{}\.html",
    "lots": r"oil\.html#lot-{}",
    "offers": r"offers/{}\.html",
    "tanks": r"tanks\.html#tank-{}",
}
WORD = re.compile(r"[A-Za-z0-9]+(?:-[A-Za-z0-9]+)*")


class Cells(HTMLParser):
    """The body cells of every table: label of the column, text outside of links, texts of the links by their address."""

    def __init__(self, path: Path) -> None:
        super().__init__()
        self.cells: list[tuple[str, str, dict[str, str]]] = []
        self.heads: list[str] = []
        self.body = self.label = False
        self.href: str | None = None
        self.text, self.links, self.place = "", dict[str, str](), -1
        self.feed(path.read_text(encoding="utf-8"))

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        named = dict(attrs)
        if tag == "table":
            self.heads, self.body = [], False
        elif tag == "tbody":
            self.body = True
        elif tag == "tr":
            self.place = -1
        elif tag in ("td", "th"):
            self.place += 1
            self.text, self.links = "", {}
        elif tag == "a":
            self.href = str(named.get("href"))
        self.label = tag == "th" and not self.body

    def handle_endtag(self, tag: str) -> None:
        if tag == "a":
            self.href = None
        elif tag in ("td", "th") and self.body:
            head = self.heads[self.place] if self.place < len(self.heads) else ""
            self.cells.append((head, self.text.strip(), self.links))
        self.label = False

    def handle_data(self, data: str) -> None:
        if self.label:
            self.heads.append(data.strip())
            self.label = False
        elif self.href is not None:
            self.links[self.href] = self.links.get(self.href, "") + data
        else:
            self.text += data


def ids(site: Path) -> dict[str, set[str]]:
    """The ids of each table that the site has."""
    found = {}
    for table, column in ID_OF.items():
        file = site / "data" / f"{table}.json"
        rows = json.loads(file.read_text(encoding="utf-8"))["rows"] if file.is_file() else []
        found[table] = {row[column] for row in rows}
    return found


def faults(site: Path) -> Iterator[str]:
    known = ids(site)
    telling = {
        name: table
        for table, names in known.items()
        for name in names
        if len(name) > 3 and ("-" in name or (re.search(r"\d", name) and not name.isdecimal()))
    }
    for path in pages(site):
        for head, text, links in Cells(path).cells:
            for word in WORD.findall(text):
                if word in telling:
                    yield f"{path.name}, {head}: {text!r}"
            if head in OF_COLUMN and text in known[OF_COLUMN[head]]:
                yield f"{path.name}, {head}: {text!r}"
            for href, shown in links.items():
                if head in OF_COLUMN and shown in known[OF_COLUMN[head]]:
                    place = PLACE[OF_COLUMN[head]].format(re.escape(shown))
                    if not re.fullmatch(rf"(\.\./)*{place}(#history)?", href):  # or where its changes stand
                        yield f"{path.name}, {head}: {shown!r} leads to {href}"


def test_ids_in_tables_are_links(demo: Path, shared_demo: Path, gallons: Path) -> None:
    for site in (demo, shared_demo, gallons):
        assert list(faults(site)) == []


def test_every_kind_of_id_was_seen_in_a_table(demo: Path) -> None:
    """Else the test above would say nothing of it."""
    seen = {
        head for path in pages(demo) for head, _, links in Cells(path).cells if head in OF_COLUMN and links
    }
    assert seen == set(OF_COLUMN)


def test_an_id_that_is_no_link_is_seen(demo: Path, tmp_path: Path) -> None:
    site = tmp_path / "site"
    (site / "data").mkdir(parents=True)
    for file in (demo / "data").glob("*.json"):
        (site / "data" / file.name).write_bytes(file.read_bytes())
    text = (demo / "tanks.html").read_text(encoding="utf-8")
    plain = re.sub(r'<a href="tanks\.html#tank-tank-2">tank-2</a></td>', "tank-2</td>", text, count=1)
    assert plain != text
    (site / "tanks.html").write_text(plain, encoding="utf-8")
    assert list(faults(site)) == ["tanks.html, Tank: 'tank-2'"] * 2  # by its column, and by how it looks


def test_codes_of_problems_are_links(demo: Path) -> None:
    text = (demo / "problems.html").read_text(encoding="utf-8")
    codes = re.findall(r'<a href="explained\.html#([\w-]+)">([\w-]+)</a>', text)
    assert len(codes) >= 10 and all(target == shown for target, shown in codes)
    told = [path for path in pages(demo) if "Told by the check" in path.read_text(encoding="utf-8")]
    assert told
    for path in told:
        assert re.search(r'\(<a href="\.\./explained\.html#([\w-]+)">\1</a>\)', path.read_text("utf-8"))


NAMES = {"oil-1": "oil.html#lot-oil-1", "2026-001": "batches/2026-001.html"}


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("from oil-1.", 'from <a href="../oil.html#lot-oil-1">oil-1</a>.'),
        ("oil-12, x-oil-1, oil-1-b, OIL-1", "oil-12, x-oil-1, oil-1-b, OIL-1"),
        ("2026-001 of 2026-001-05", '<a href="../batches/2026-001.html">2026-001</a> of 2026-001-05'),
        ("<b>oil-1</b>", '&lt;b&gt;<a href="../oil.html#lot-oil-1">oil-1</a>&lt;/b&gt;'),
        ("", ""),
    ],
)
def test_words_of_a_sentence_that_are_ids_become_links(text: str, expected: str) -> None:
    assert linked(text, NAMES, "../") == expected


def test_a_page_does_not_link_to_itself() -> None:
    assert linked("Batch 2026-001", NAMES, "../", "batches/2026-001.html") == "Batch 2026-001"


def test_an_id_that_could_be_a_number_or_a_word_is_left_to_its_column(tmp_path: Path) -> None:
    found = addresses(results(tmp_path))
    assert found["oil-1"] == "oil.html#lot-oil-1" and found["tank-1"] == "tanks.html#tank-tank-1"
    assert "b1" not in found and "b2" not in found and "school" not in found
