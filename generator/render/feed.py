"""The batches as an Atom feed (RFC 4287): newest first, dates from the logbook, addresses that stay.

Where `logbook.yaml` gives no address, ids are made from the title and the batch, and links are relative to the feed.
"""

from __future__ import annotations

from collections.abc import Sequence
from urllib.parse import quote, urlsplit
from uuid import NAMESPACE_URL, uuid5
from xml.etree import ElementTree as Xml

from generator.compute.changes import CHANGED, RECORDED
from generator.compute.frames import Row
from generator.compute.results import Results
from generator.language import said, say
from generator.pages.history import moved_figure
from generator.pages.parts import grouped
from generator.pages.view import Page

PATH = "feed.xml"
ATOM = "http://www.w3.org/2005/Atom"
FOUNDED = "2026"  # of the feed itself, which has no day of its own
MOST = 50  # batches; a reader who is further behind has the site


def feed_bytes(results: Results, pages: Sequence[Page]) -> bytes:
    """The feed as UTF-8; a batch is dated by the last thing that is known of it."""
    found = {page.path: page for page in pages}
    tests = grouped(results.rows("tests"), "subject")
    runs = grouped(results.rows("runs"), "batch")
    feed = Xml.Element("feed", {"xmlns": ATOM})
    _text(feed, "title", results.title)
    _text(feed, "id", _id(results, "", ""))
    changes = grouped(results.rows("changes"), "batch")
    days = {row["batch"]: _day(row, tests, runs, changes) for row in results.rows("batches")}
    _text(feed, "updated", _moment(max(days.values(), default=_first(results))))
    _text(Xml.SubElement(feed, "author"), "name", results.title)
    _text(feed, "generator", "Esterday")
    address = results.address or ""
    Xml.SubElement(feed, "link", {"rel": "alternate", "type": "text/html", "href": f"{address}index.html"})
    if address:
        Xml.SubElement(
            feed, "link", {"rel": "self", "type": "application/atom+xml", "href": f"{address}{PATH}"}
        )
    for row in sorted(
        results.rows("batches"), key=lambda row: (days[row["batch"]], row["batch"]), reverse=True
    )[:MOST]:
        path = f"batches/{row['batch']}.html"
        last = _last_change(changes.get(row["batch"], []))
        _entry(Xml.SubElement(feed, "entry"), results, row, found[path], days[row["batch"]], last)
    text: bytes = Xml.tostring(feed, encoding="utf-8", xml_declaration=True)
    return text + b"\n"


def _entry(entry: Xml.Element, results: Results, row: Row, page: Page, day: str, last: str) -> None:
    _text(entry, "title", page.title)
    _text(entry, "id", _id(results, page.path, row["date"]))
    _text(entry, "published", _moment(row["date"]))
    _text(entry, "updated", _moment(day))
    link = {"rel": "alternate", "type": "text/html", "href": f"{results.address or ''}{page.path}"}
    Xml.SubElement(entry, "link", link)
    _text(entry, "summary", " ".join(part for part in (page.finding, row["public_note"], last) if part))


def _last_change(changes: Sequence[Row]) -> str:
    """Which figures the latest day of changes moved; nothing where none moved one."""
    moved = [row for row in changes if row["what"] == CHANGED and row["figure"] is not None]
    if not moved:
        return ""
    day = max(row["date"] for row in moved)
    figures = dict.fromkeys(said(moved_figure(row)) for row in moved if row["date"] == day)
    return say("Changed on {day}: {figures}.", day=day, figures="; ".join(figures))


def _text(parent: Xml.Element, name: str, text: str) -> None:
    Xml.SubElement(parent, name).text = text


def _id(results: Results, path: str, day: str) -> str:
    """A tag (RFC 4151) of the site's host; without an address a UUID made from the title."""
    if results.address is None:
        return f"urn:uuid:{uuid5(NAMESPACE_URL, f'esterday:{results.title}/{path}')}"
    parts = urlsplit(results.address)
    return f"tag:{parts.hostname},{day or FOUNDED}:{quote(parts.path + path)}"


def _day(
    row: Row, tests: dict[str, list[Row]], runs: dict[str, list[Row]], changes: dict[str, list[Row]]
) -> str:
    name = row["batch"]
    days = [row["date"], *(one["date"] for one in tests.get(name, []))]
    days += [one["start"][:10] for one in runs.get(name, [])]
    return str(max([*days, *(one["date"] for one in changes.get(name, []) if one["what"] != RECORDED)]))


def _first(results: Results) -> str:
    """What a feed without entries is dated by."""
    return results.as_of if results.as_of[:1].isdigit() else "1970-01-01"


def _moment(day: str) -> str:
    """A day as the moment it begins: no clock, and no time zone of the maker's."""
    return f"{day[:10]}T00:00:00Z"
