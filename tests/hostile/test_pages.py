"""Every hostile text in every free text of every kind of record: the page holds the elements it holds for harmless words.

Read by a parser that follows the HTML standard as browsers do (lexbor). Notes are Markdown, and may hold what that makes
of them, and no more.
"""

from __future__ import annotations

import inspect
from collections.abc import Iterator, Mapping, Sequence
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from pydantic import BaseModel
from selectolax.lexbor import LexborHTMLParser, LexborNode

from generator import records
from generator.build import computed
from generator.render.site import Renderer
from generator.render.tree import common
from generator.validate.logbook import checked_folder
from tests.attaching.samples import pdf
from tests.render.outline import OF_LENGTH

from .books import PLAIN, fits, quoted, write
from .corpora import markdown, naughty, needs_corpora, payloads, scripts

pytestmark = needs_corpora
REPORTS = 40
REPORT = pdf(picture=False)
TOGETHER = 100  # records of a kind in one logbook
GROUPS = 56  # of the texts that fit, each in a logbook of its own
NOTE_TAGS = frozenset(
    [
        "a",
        "blockquote",
        "br",
        "code",
        "del",
        "em",
        "h3",
        "h4",
        "h5",
        "h6",
        "hr",
        "li",
        "ol",
        "p",
        "pre",
        "s",
        "strong",
        "table",
        "tbody",
        "td",
        "th",
        "thead",
        "tr",
        "ul",
    ]
)
NOTE_ATTRIBUTES = {"a": {"href", "rel", "title"}, "ol": {"start"}, "code": {"class"}}
LINKS = ("http://", "https://", "mailto:")
Outline = list[tuple[str, tuple[str, ...]]]


def pages(root: Path, texts: Sequence[str], audience: str = "workshop") -> dict[str, str]:
    """All pages of a logbook with these texts in it, without pictures."""
    return pages_of(write(root, texts), audience)


def pages_of(root: Path, audience: str = "workshop") -> dict[str, str]:
    folder, checked = checked_folder(root)
    assert checked.fit, [str(problem) for problem in checked.problems if problem.is_error][:5]
    site = computed(folder, checked, audience)
    same = common(site.results, site.pages, 0)
    renderer = Renderer()
    return {page.path: renderer.render(page, same).decode() for page in site.pages}


def taken_apart(html: str) -> tuple[Outline, list[LexborNode]]:
    """Elements with the names of their attributes, without those of notes; and the elements of notes."""
    tree = LexborHTMLParser(html)
    assert tree.root is not None
    inside = [node for note in tree.css(".note") for node in note.css("*")[1:]]
    for note in tree.css(".note"):
        note.inner_html = ""
    outline = [(node.tag or "", tuple(sorted(_named(node)))) for node in tree.root.css("*")]
    return outline, inside


def _named(node: LexborNode) -> Iterator[str]:
    return (name for name, value in node.attributes.items() if (name, value) not in OF_LENGTH)


@cache
def fitting() -> list[str]:
    return [text for text in payloads() if fits(text)]


def test_the_collections_are_whole() -> None:
    assert (len(naughty()), len(scripts()), len(markdown())) == (485, 4931, 652)
    assert len(fitting()) > 5000


def test_every_free_text_of_the_grammar_is_filled(tmp_path: Path) -> None:
    """But those that must be a word that is known."""
    _, checked = checked_folder(write(tmp_path / "logbook", [PLAIN]))
    assert checked.log is not None
    log = checked.log
    tables = (log.materials, log.lots, log.batches, log.purifiers, log.tanks, log.offers, log.prices)
    found = {place for table in tables for entry in table.values() for place in _filled(entry.record)}
    found |= set(_filled(log.settings))
    known = {("SoapSample", "point"), ("SpecificationChoice", "standard"), ("SpecificationChoice", "edition")}
    known |= {("Report", "file")}  # the name of a file that lies there: see below
    assert set(_free_texts()) - found - known == {("PageHead", "title")}  # kept as a Page


def _free_texts() -> Iterator[tuple[str, str]]:
    for name, model in inspect.getmembers(records, inspect.isclass):
        if issubclass(model, BaseModel):
            yield from (
                (name, key) for key, field in model.model_fields.items() if "_free_text" in repr(field)
            )


def _filled(value: Any) -> Iterator[tuple[str, str]]:
    if isinstance(value, BaseModel):
        for key in type(value).model_fields:
            inner = getattr(value, key)
            if inner == PLAIN:
                yield type(value).__name__, key
            yield from _filled(inner)
    elif isinstance(value, Mapping):
        yield from (place for inner in value.values() for place in _filled(inner))
    elif isinstance(value, tuple | list):
        yield from (place for inner in value for place in _filled(inner))


@pytest.fixture(scope="module")
def harmless(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Outline]:
    texts = [f"{PLAIN} {number:04}" for number in range(TOGETHER)]
    made = pages(tmp_path_factory.mktemp("plain") / "logbook", texts)
    return {path: taken_apart(html)[0] for path, html in made.items()}


@pytest.mark.parametrize("group", range(GROUPS))
def test_no_hostile_text_changes_an_element(tmp_path: Path, harmless: dict[str, Outline], group: int) -> None:
    some = fitting()[group::GROUPS]
    assert 0 < len(some) <= TOGETHER
    made = pages(
        tmp_path / "logbook", [*some, *[f"{PLAIN} {place:04}" for place in range(len(some), TOGETHER)]]
    )
    assert made.keys() == harmless.keys()
    for path, html in made.items():
        outline, inside = taken_apart(html)
        assert outline == harmless[path], (path, some)
        for node in inside:
            _is_of_a_note(node)


def test_no_hostile_name_of_a_report_changes_an_element(tmp_path: Path) -> None:
    fit = [text for text in fitting() if "/" not in text and text == text.strip() and len(text.encode()) < 50]
    names = fit[:: len(fit) // REPORTS][:REPORTS]
    made = []
    for kind in ("plain", "hostile"):
        root = write(tmp_path / kind, [PLAIN] * REPORTS)
        (root / "attachments").mkdir()
        for number, hostile in enumerate(names):
            name = f"{hostile if kind == 'hostile' else PLAIN}{number}.pdf"
            (root / "attachments" / name).write_bytes(REPORT)
            batch = root / f"batches/b-{number:04}.yaml"
            text = batch.read_text(encoding="utf-8")
            line = "tests: [{property: water, value: 310 mg/kg, "
            assert line in text
            batch.write_text(
                text.replace(line, f"{line}report: {{file: {quoted(name)}}}, "), encoding="utf-8"
            )
        found = pages_of(root)
        made.append({path: taken_apart(html)[0] for path, html in found.items()})
        assert sum(".pdf" in html for html in found.values()) >= REPORTS
    assert made[0] == made[1]


def _is_of_a_note(node: LexborNode) -> None:
    tag, attributes = node.tag or "", node.attributes
    if tag == "h2":  # the template's own heading of the section
        assert not attributes
        return
    assert tag in NOTE_TAGS, tag
    assert set(attributes) <= NOTE_ATTRIBUTES.get(tag, set()), (tag, attributes)
    if tag == "a":
        assert (attributes["href"] or "").lower().startswith(LINKS), attributes
