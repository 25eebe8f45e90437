"""The batches as an Atom feed (RFC 4287), and every late change as an entry of its own: newest first, dates from the logbook.

Where `logbook.yaml` gives no address, ids are made from the title and the batch, and links are relative to the feed.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from urllib.parse import quote, urlsplit
from uuid import NAMESPACE_URL, uuid5
from xml.etree import ElementTree as Xml

from generator.compute.changes import CHANGED, REMOVED
from generator.compute.frames import Row
from generator.compute.results import Results
from generator.language import say
from generator.pages.history import PATH as LATE
from generator.pages.history import history_link, moved_figure, moved_value, told_late
from generator.pages.parts import batch_link, grouped
from generator.pages.view import Page
from generator.pages.words import shown

PATH = "feed.xml"
ATOM = "http://www.w3.org/2005/Atom"
FOUNDED = "2026"  # of the feed itself, which has no day of its own
MOST = 50  # batches, a reader who is further behind has the site; of late changes each is told


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
    late = _late_by_day(results)
    _text(feed, "updated", _moment(max([*days.values(), *(day for day, _ in late)], default=_first(results))))
    _text(Xml.SubElement(feed, "author"), "name", results.title)
    _text(feed, "generator", "Esterday")
    address = results.address or ""
    Xml.SubElement(feed, "link", {"rel": "alternate", "type": "text/html", "href": f"{address}index.html"})
    if address:
        Xml.SubElement(
            feed, "link", {"rel": "self", "type": "application/atom+xml", "href": f"{address}{PATH}"}
        )
    ordered = sorted(
        results.rows("batches"), key=lambda row: (days[row["batch"]], row["batch"]), reverse=True
    )
    entries = [
        (days[row["batch"]], _of_batch(results, row, found[batch_link(row["batch"])], days[row["batch"]]))
        for row in ordered[:MOST]
    ]
    entries += [(day, _of_change(results, day, rows)) for (day, _), rows in late.items()]
    feed.extend(entry for _, entry in sorted(entries, key=lambda each: each[0], reverse=True))
    text: bytes = Xml.tostring(feed, encoding="utf-8", xml_declaration=True)
    return text + b"\n"


def _of_batch(results: Results, row: Row, page: Page, day: str) -> Xml.Element:
    summary = " ".join(part for part in (page.finding, row["public_note"]) if part)
    return _entry(results, page.title, page.path, "", (row["date"], day), summary)


def _of_change(results: Results, day: str, rows: Sequence[Row]) -> Xml.Element:
    """What was changed late or taken away on one day, of one batch or of the limits: each is told, and none of them changes again."""
    name = rows[0]["batch"]
    here = any(row["batch"] == name for row in results.rows("batches"))
    told = {"day": day, "name": name}
    if name is None:
        title, path = say("Limits changed on {day}", **told), LATE
    elif rows[0]["what"] == REMOVED:
        title, path = say("Batch {name} taken away on {day}", **told), LATE
    else:
        title, path = say("Batch {name} changed on {day}", **told), history_link(name)
    if not here and name is not None:
        path = LATE
    figures = "; ".join(
        say(
            "{figure}: {before}, then {after}",
            figure=moved_figure(row),
            before=moved_value(row, "before", shown(results)),
            after=moved_value(row, "after", shown(results)),
        )
        for row in rows
        if row["figure"] is not None
    )
    return _entry(results, title, path, f"{name or ''}/{day}", (day, day), figures or title)


def _entry(
    results: Results, title: str, path: str, of_change: str, days: tuple[str, str], summary: str
) -> Xml.Element:
    entry = Xml.Element("entry")
    _text(entry, "title", title)
    _text(entry, "id", _id(results, f"{path}/{of_change}" if of_change else path, days[0]))
    _text(entry, "published", _moment(days[0]))
    _text(entry, "updated", _moment(days[1]))
    link = {"rel": "alternate", "type": "text/html", "href": f"{results.address or ''}{path}"}
    Xml.SubElement(entry, "link", link)
    _text(entry, "summary", summary)
    return entry


def _late_by_day(results: Results) -> dict[tuple[str, str], list[Row]]:
    """What was changed late or taken away, by day and batch; what is not committed has no day."""
    found: dict[tuple[str, str], list[Row]] = {}
    for row in told_late(results):
        if row["date"] is not None:
            found.setdefault((row["date"], row["batch"] or ""), []).append(row)
    return found


def _text(parent: Xml.Element, name: str, text: str) -> None:
    Xml.SubElement(parent, name).text = text


def _id(results: Results, path: str, day: str) -> str:
    """A tag (RFC 4151) of the site's host; without an address a UUID made from the title."""
    if results.address is None:
        return f"urn:uuid:{uuid5(NAMESPACE_URL, f'esterday:{results.title}/{path}')}"
    parts = urlsplit(results.address)
    return f"tag:{parts.hostname},{day or FOUNDED}:{quote(parts.path + path)}"


def _day(
    row: Row,
    tests: Mapping[str, Sequence[Row]],
    runs: Mapping[str, Sequence[Row]],
    changes: Mapping[str, Sequence[Row]],
) -> str:
    name = row["batch"]
    days = [row["date"], *(one["date"] for one in tests.get(name, []))]
    days += [one["start"][:10] for one in runs.get(name, [])]
    return str(max([*days, *(one["date"] for one in changes.get(name, []) if one["what"] == CHANGED)]))


def _first(results: Results) -> str:
    """What a feed without entries is dated by."""
    return results.as_of if results.as_of[:1].isdigit() else "1970-01-01"


def _moment(day: str) -> str:
    """A day as the moment it begins: no clock, and no time zone of the maker's."""
    return f"{day[:10]}T00:00:00Z"
