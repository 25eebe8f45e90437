"""What a reader meets of a site: every text with its element, and what of it is neither translated nor data of the logbook."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

from selectolax.lexbor import LexborHTMLParser, LexborNode

from generator.data import rows
from generator.tables import ALL
from tests.translation.pseudo import scalars

WORD = re.compile(r"[A-Za-z][A-Za-z0-9]*(?:['’.][A-Za-z0-9]+)*")
STRING = re.compile(r'"((?:[^"\\\n]|\\.)*)"|\'((?:[^\'\\\n]|\\.)*)\'')
# what is read by a machine or is no language; an element that says itself that it is English is passed over too
SKIPPED = ("script", "style", "code", "pre", "kbd", "samp", "math")
ATTRIBUTES = ("title", "aria-label", "aria-description", "aria-valuetext", "alt", "placeholder", "data-label")
# keys of the logbook whose value is no free text and stands on pages as it was written
NAMED = (
    "batch",
    "lot",
    "material",
    "tank",
    "purifier",
    "vessel",
    "offer",
    "into",
    "code",
    "standard",
    "edition",
)
WRITTEN = ("method", "to", "use", "for", "from", "rinsings", "grade")
# names that are alike in every language: of the program, of kinds of files, of bodies that make standards, signs of stuff
NAMES = frozenset(
    [
        "Esterday",
        "CSV",
        "JSON",
        "YAML",
        "Parquet",
        "PDF",
        "SHA",
        "UTC",
        "EN",
        "ISO",
        "ASTM",
        "AOCS",
        "GUM",
        "JCGM",
        "IUPAC",
        "NIST",
        "KOH",
        "NaOH",
        "KOCH3",
        "NaOCH3",
        "H2SO4",
        "Na",
        "OH",
        "CN",
        "FAME",
        "esterday",
        "x",
        "k",
    ]
)
# no texts: a word of the language, what an element is found by, and a line for whoever opens the console of a browser
OF_SCRIPTS = (
    "use strict",
    "main details:not([open])",
    ".pick input",
    "input, textarea, select, [contenteditable]",
    "the chart ",
    " stays as it was: ",
)


@dataclass(frozen=True, slots=True)
class Met:
    """A text with the page and the element it stands in."""

    page: str
    element: str
    text: str


def met(site: Path) -> Iterator[Met]:
    """Every text of a site that is seen, read out or loaded by a script."""
    for page in sorted(site.rglob("*.html")):
        root = LexborHTMLParser(page.read_text(encoding="utf-8")).root
        assert root is not None
        yield from _below(root, str(page.relative_to(site)), "")
    for script in sorted((*site.glob("batches/*.js"), *site.glob("assets/*.js"))):
        name = str(script.relative_to(site))
        told = data_of(script) if script.name != "vega.js" else None
        found = of_script(script) if told is None else of_data(told)
        yield from (Met(name, "", text) for text in found)
    yield from (Met("feed.xml", "", text) for text in of_feed(site / "feed.xml"))


def _below(node: LexborNode, page: str, within: str) -> Iterator[Met]:
    for child in node.iter(include_text=True):
        tag, attributes = str(child.tag), child.attributes if str(child.tag)[0] not in "-_" else {}
        if tag == "-text":
            if (text := child.text().strip()) != "":
                yield Met(page, within, text)
        elif attributes.get("lang") != "en" and tag[0] not in "-_":
            element = f"{tag}.{attributes.get('class') or ''}"
            for name in ATTRIBUTES:
                if shown := attributes.get(name):
                    yield Met(page, f"{element}@{name}", shown)
            if tag == "meta" and attributes.get("name") == "description":
                yield Met(page, element, attributes.get("content") or "")
            if tag not in SKIPPED:
                yield from _below(child, page, f"{within}>{element}"[-120:])


def data_of(script: Path) -> Any:
    """What a script of data hands over; None for one that does something."""
    text = script.read_text(encoding="utf-8")
    begin = re.match(r"(?:window\.\w+|\(window\.\w+ = [^)]*\)\[\"[^\"]*\"\]) = ", text)
    return json.JSONDecoder().raw_decode(text[begin.end() :])[0] if begin else None


def of_data(value: Any, key: str = "") -> Iterator[str]:
    """The strings of data that are shown: of a specification of charts its titles and words, of all else every one."""
    if isinstance(value, str):
        yield value
    elif isinstance(value, dict):
        chart = "config" in value
        for name, one in value.items():
            if name in ("href", "id", "kind"):
                continue
            yield from of_chart(one) if chart else of_data(one, name)
    elif isinstance(value, list):
        for one in value:
            yield from of_data(one, key)


def of_chart(value: Any, key: str = "") -> Iterator[str]:
    """Titles and words of a chart, words in its expressions, and the names of months and days."""
    if isinstance(value, str):
        if key in (
            "title",
            "description",
            "text",
            "label",
            "domain",
            "days",
            "months",
            "shortDays",
            "shortMonths",
        ):
            yield value
        elif "datum" in value or "format(" in value:
            yield from (found[2] for found in STRING.finditer(value) if found[2] and " " in found[2])
    elif isinstance(value, Mapping):
        for name, one in value.items():
            if name != "font":
                yield from of_chart(one, name)
    elif isinstance(value, list):
        for one in value:
            yield from of_chart(one, key)


def of_script(script: Path) -> Iterator[str]:
    """The strings of a script that are sentences: a letter, a blank, a letter."""
    for found in STRING.finditer(script.read_text(encoding="utf-8")):
        text = found[1] or found[2] or ""
        if re.search(r"\w[,.:;]? \w", text) and text not in OF_SCRIPTS:
            yield text


def of_feed(feed: Path) -> Iterator[str]:
    """Titles and summaries of a feed."""
    for found in re.finditer(r"<(?:title|name|summary)[^>]*>([^<]*)<", feed.read_text(encoding="utf-8")):
        yield found[1]


class Data:
    """What a logbook brings along in plain letters: ids, methods and uses as they were written, and units."""

    def __init__(self, logbook: Path) -> None:
        found: dict[str, set[str]] = {}
        for path in sorted(logbook.rglob("*.yaml")):
            for key, node in scalars(path):
                found.setdefault(key, set()).add(node.value)
        ids = {value for key in NAMED for value in found.get(key, ())}
        ids |= {
            name
            for key, values in found.items()
            for name in values
            if re.fullmatch(r"[A-Za-z0-9-]*\d[A-Za-z0-9-]*", name)
        }
        ids |= {name for name in found["key"] if "-" in name}
        self.texts = {value for key in WRITTEN for value in found.get(key, ())}
        long = sorted((re.escape(one) for one in ids | self.texts if len(one) > 1), key=len, reverse=True)
        # an id may have a part behind it: a tank's lot its day, a charge its vessel and number
        self._ids = re.compile(
            rf"(?<![A-Za-z0-9-])(?:{'|'.join(long)})(?:-[A-Z]-\d+|-[\d-]+)?(?![A-Za-z0-9-])"
        )
        self.ids = ids

    def unsaid(self, text: str) -> list[str]:
        """The words of a text that are neither translated nor data."""
        bare = self._ids.sub(" ", _FILES.sub(" ", text))
        return [
            word
            for word in WORD.findall(bare)
            if word not in NAMES and word not in self.ids and word not in unit_words()
        ]


# addresses, files, numbers of standards, code in a text, places that a script fills
_FILES = re.compile(
    r"https?://\S+|[\w/-]+\.(?:yaml|csv|json|parquet|txt|xml|md|html)\b|\b[A-Z]\d+\b|`[^`]*`|\{\w+\}"
)


@cache
def unit_words() -> frozenset[str]:
    """Words that units are made of."""
    found = {
        word for group in rows("units").values() for symbol in group["units"] for word in WORD.findall(symbol)
    }
    return frozenset({*found, "EUR", "h", "I"})


@cache
def column_words() -> frozenset[str]:
    """Names of tables and columns, which downloads have in every language."""
    return frozenset(name for table in ALL for name in (table.name, *table.names))
