"""What scripts load when they are first used: the entries of the search, each batch as its page shows it, the words of the glossary.

Scripts with data and no JSON, for a page that is opened from a folder may fetch nothing.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import asdict
from typing import Any

from generator.language import say, spoken
from generator.pages.glossary import briefly
from generator.pages.search import KINDS, Found
from generator.pages.view import Figure, Page
from generator.render.scripts import script_text

ENTRIES = "assets/entries.js"
TERMS = "assets/terms.js"


def terms_script() -> bytes:
    """The script with what the words of the pages mean, one for all pages."""
    return f"window.glossaryTerms = {script_text(briefly())};\n".encode()


def finding_scripts(pages: Sequence[Page]) -> dict[str, bytes]:
    """The scripts with data that belong to these pages, by their path in the site."""
    files: dict[str, bytes] = {}
    for page in pages:
        if page.template == "find.html":
            files[ENTRIES] = _entries(page.content["entries"])
        elif page.template == "batch.html":
            files[f"{page.path.removesuffix('.html')}.js"] = _batch(page)
    return files


def _entries(entries: Sequence[Found]) -> bytes:
    found = [asdict(each) for each in entries]
    kinds = {kind: [say(name) for name in names] for kind, names in KINDS.items()}
    told = {"kinds": kinds, "months": spoken().months, "entries": found}
    return f"window.logbookEntries = {script_text(told)};\n".encode()


def _batch(page: Page) -> bytes:
    """One batch: groups of figures, its results and how they stand, then what was written, as label, text and what stands under it."""
    name = page.path.removeprefix("batches/").removesuffix(".html")
    of_figures = {**page.content["figures"], **page.content["compared"]}
    groups = [[group, [_figure(item) for item in items]] for group, items in of_figures.items()]
    told = {"groups": [*groups, *_written(page.content["entries"])], "finding": page.finding}
    return (
        f"(window.logbookBatches = window.logbookBatches || {{}})[{script_text(name)}] = {script_text(told)};\n"
    ).encode()


def _figure(item: Figure) -> list[str]:
    return [item.label, item.text, item.missing or item.basis]


def _written(entries_of: Iterable[Any]) -> list[list[Any]]:
    """Entries by section; those of one label in one text, as a batch may hold several readings of a thing."""
    sections: dict[str, dict[str, list[str]]] = {}
    for item in entries_of:
        sections.setdefault(item.section, {}).setdefault(item.label, []).append(item.text)
    return [
        [
            say("As written: {section}", section=section),
            [[label, "; ".join(texts), ""] for label, texts in labels.items()],
        ]
        for section, labels in sections.items()
    ]
