"""Older versions of files as plain values, read out of git at one go."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from generator.read.document import MAX_BYTES, Document, parse
from generator.read.git import Past, Version, contents
from generator.read.text import decoded


def documents_of(
    found: Past, versions: Mapping[str, Sequence[Version]]
) -> Mapping[tuple[str, str], Document]:
    """The versions of these files that can be read, each by its file's name and its blob."""
    old = dict(contents(found, (each.blob for listed in versions.values() for each in listed), MAX_BYTES))
    read = {
        (name, blob): _document(name, old[blob])
        for name, listed in versions.items()
        for blob in dict.fromkeys(each.blob for each in listed)
        if blob in old
    }
    return {key: document for key, document in read.items() if document is not None}


def _document(file: str, content: bytes) -> Document | None:
    text, refused = decoded(file, content)
    return parse(file, text).document if not refused else None
