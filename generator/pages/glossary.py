"""The glossary: what the words of the pages mean, for readers who make no fuel; and which of them a page uses."""

from __future__ import annotations

import functools
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from generator.data import rows
from generator.language import say, spoken
from generator.pages.view import Chart, Page, TableView

PATH = "glossary.html"


@dataclass(frozen=True, slots=True)
class Word:
    """One entry: id, term, two plain sentences, how its figure is given, its method, a caution.

    `heads` are the labels it explains, `also` other words that it is found by; a `plain` one needs no mark.
    """

    id: str
    topic: str
    term: str
    text: str
    heads: tuple[str, ...] = ()
    also: tuple[str, ...] = ()
    unit: str = ""
    basis: str = ""
    method: str = ""
    caution: str = ""
    plain: bool = False


@functools.cache
def words() -> tuple[Word, ...]:
    """Every entry, in the order of the glossary, with its caution in full; ValueError where there is none of that beginning."""
    cautions = rows("cautions")
    return tuple(
        Word(name, topic, **_fields(entry, cautions))
        for topic, entries in rows("glossary").items()
        for name, entry in entries.items()
    )


def _fields(entry: Mapping[str, Any], cautions: Sequence[str]) -> dict[str, Any]:
    listed = {name: tuple(entry.get(name, ())) for name in ("heads", "also")}
    return {**entry, **listed, "caution": _whole(entry, cautions)}


def _whole(entry: Mapping[str, Any], cautions: Sequence[str]) -> str:
    start = entry.get("caution")
    if start is None:
        return ""
    (found,) = [text for text in cautions if text.startswith(start)]
    return found


def said_words() -> tuple[Word, ...]:
    """Every entry in the language in use."""
    return _said(spoken().code)


@functools.cache
def _said(code: str) -> tuple[Word, ...]:
    del code  # what the entries are said in
    return tuple(
        replace(
            word,
            topic=say(word.topic),
            term=say(word.term),
            text=say(word.text),
            heads=tuple(map(say, word.heads)),
            unit=say(word.unit),
            basis=say(word.basis),
            caution=say(word.caution),
        )
        for word in words()
    )


def by_label() -> Mapping[str, Word]:
    """The entry that explains each label, in the language in use: its term and its heads."""
    return _by_label(spoken().code)


@functools.cache
def _by_label(code: str) -> Mapping[str, Word]:
    del code  # what the labels are said in
    return {label: word for word in said_words() for label in (word.term, *word.heads)}


def used(page: Page) -> list[Word]:
    """The entries that a page marks: those of the labels of its tables and the titles of its charts, each once, in their order."""
    marked = {
        word.id for label in _labels(page.content) if (word := by_label().get(label)) and not word.plain
    }
    return [word for word in said_words() if word.id in marked]


def _labels(content: Any) -> Iterator[str]:
    """The labels of tables and charts anywhere in a page's content."""
    if isinstance(content, TableView):
        yield content.caption
        yield from (head.label for head in content.heads)
    elif isinstance(content, Chart):
        yield content.title
        yield from _labels(content.table)
    elif isinstance(content, Mapping):
        for item in content.values():
            yield from _labels(item)
    elif isinstance(content, list | tuple):
        for item in content:
            yield from _labels(item)


def page() -> Page:
    """Every entry by topic, and all terms from A to Z above them."""
    topics: dict[str, list[Word]] = {}
    for word in said_words():
        topics.setdefault(word.topic, []).append(word)
    return Page(
        path=PATH,
        title=say("Glossary"),
        template="glossary.html",
        section="glossary",
        finding=say("What the words of these pages mean, for readers who make no fuel."),
        content={
            "topics": list(topics.items()),
            "sorted": sorted(said_words(), key=lambda word: word.term.casefold()),
        },
    )
