"""The glossary: what the words of the pages mean, for readers who make no fuel; and which of them are marked where they stand."""

from __future__ import annotations

import functools
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from generator.data import rows
from generator.language import Language, say, spoken
from generator.pages.places import placed
from generator.pages.view import Page

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
    return _said(spoken())


@functools.cache
def _said(language: Language) -> tuple[Word, ...]:
    del language  # what the entries are said in
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
    return _by_label(spoken())


@functools.cache
def _by_label(language: Language) -> Mapping[str, Word]:
    del language  # what the labels are said in
    return {label: word for word in said_words() for label in (word.term, *word.heads)}


def marks() -> Mapping[str, str]:
    """The entry of each label that is marked where it stands, in the language in use."""
    return {label: word.id for label, word in by_label().items() if not word.plain}


def briefly() -> Mapping[str, tuple[str, str, str]]:
    """Of each entry what is told beside its mark: term, how its figure is given, text; in the language in use."""
    return {
        word.id: (word.term, ", ".join(filter(None, (word.unit, word.basis))), word.text)
        for word in by_label().values()
    }


def page() -> Page:
    """Every entry by topic, and all terms from A to Z above them."""
    topics: dict[str, list[Word]] = {}
    for word in said_words():
        topics.setdefault(word.topic, []).append(word)
    return placed(
        "glossary",
        finding=say("What the words of these pages mean, for readers who make no fuel."),
        content={
            "topics": list(topics.items()),
            "sorted": sorted(said_words(), key=lambda word: word.term.casefold()),
        },
    )
