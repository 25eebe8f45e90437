"""Pages that need no template: made of the same as last time, and still as they were written in the site that stands.

No page is kept a second time, and nothing says which page hangs on what. Of each page a line is kept: a name of all that its
template was handed, of this program and of the bytes that came of it. What the site holds under the page's path is taken
only where it gives that very name, so that a lost, spoilt or foreign line, or a page that was touched, costs a rendering.
"""

from __future__ import annotations

import copyreg
import io
import json
import pickle
from collections.abc import Callable, Mapping
from dataclasses import fields
from operator import attrgetter
from pathlib import Path
from typing import Any

from generator.kept import Kept, digest
from generator.pages.search import Found
from generator.pages.view import Cell, Chart, Entry, Figure, Head, Page, TableView
from generator.program import program

PARTS = (Cell, Chart, Entry, Figure, Found, Head, Page, TableView)


class Standing:
    """The pages of the site at `out`, as the last build left them; nothing is taken where `kept` has no folder."""

    def __init__(self, kept: Kept, out: Path | None, common: Mapping[str, Any]) -> None:
        """`common` is what all pages are handed alike."""
        self.kept, self.out = kept, out
        self.now: dict[str, str] = {}
        self.known: dict[str, str] = {}
        self.same = ""
        if out is None or kept.folder is None:
            return
        told = _pickled(dict(common))
        if told is not None:
            self.same = digest(program(), told)
            self.place = digest("pages", str(out.absolute()))
            text = kept.found(self.place)
            self.known = dict(json.loads(text)) if text is not None else {}  # whole, so it is as we wrote it

    def page(self, page: Page, render: Callable[[], bytes]) -> bytes:
        """The bytes of a page: those that stand, or rendered."""
        told = _pickled(page) if self.same else None
        if told is None:
            return render()
        made_of = digest(self.same, told)
        content = self._there(page.path)
        if content is None or self.known[page.path] != digest(made_of, content):
            content = render()
        self.now[page.path] = digest(made_of, content)
        return content

    def keep(self) -> None:
        """Keep the lines for the next build."""
        if self.same:
            self.kept.keep(self.place, json.dumps(self.now))

    def _there(self, path: str) -> bytes | None:
        if path not in self.known or self.out is None:
            return None
        try:
            return (self.out / path).read_bytes()
        except OSError:
            return None


def _taken_apart(part: type) -> Callable[[Any], tuple[Any, ...]]:
    names = [each.name for each in fields(part)]
    values = attrgetter(*names)
    return lambda whole: (part, values(whole))


_APART = copyreg.dispatch_table | {part: _taken_apart(part) for part in PARTS}


def _pickled(value: object) -> bytes | None:
    """All of a value as bytes, only to be compared and never read; None for a value that cannot be told so.

    Without a memo, for which equal texts are two where they are not one in memory.
    """
    out = io.BytesIO()
    pickler = pickle.Pickler(out, protocol=5)
    pickler.fast = True
    pickler.dispatch_table = _APART
    try:
        pickler.dump(value)
    except (pickle.PicklingError, TypeError, AttributeError, RecursionError, ValueError):
        return None
    return out.getvalue()
