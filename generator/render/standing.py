"""Files that need not be made: made of the same as last time, and still as they were written in the site that stands.

Nothing is kept a second time, and nothing says which file hangs on what. Of each page and table a line is kept: a name of all
that it is made from, of this program and of the bytes that came of it. What a page is made from is the value it says so of, else
all that its template is handed; a table is made from its columns. What the site holds under the path, and under those of the files
that belong to a page, is taken only where it gives that very name, so that a lost, spoilt or foreign line, or a file that was
touched, costs the making of it.
"""

from __future__ import annotations

import copyreg
import io
import json
import pickle
from collections.abc import Callable, Mapping, Sequence
from dataclasses import fields
from operator import attrgetter
from pathlib import Path
from typing import Any

from generator.compute.steps import Step, Term, Worked
from generator.kept import Kept, digest
from generator.pages.search import Found
from generator.pages.view import Cell, Chart, Entry, Figure, Head, Page, TableView, Unmade
from generator.plain import OURS, plain_bytes
from generator.program import program

PARTS = (Cell, Chart, Entry, Figure, Found, Head, Page, Step, TableView, Term, Worked)
TITLES = ("title", "template", "finding", "section")
Line = tuple[str, list[str], list[str]]  # the name, the titles, the paths of the files


def place(out: Path) -> str:
    """Under what key the lines of a site are kept."""
    return digest("pages", program(), str(out.absolute()))


class Standing:
    """The files of the site at `out`, as the last build left them; nothing is taken where `kept` has no folder."""

    def __init__(self, kept: Kept, out: Path | None, common: Mapping[str, Any]) -> None:
        """`common` is what all pages are handed alike."""
        self.kept, self.out = kept, out
        self.now: dict[str, Line] = {}
        self.known: dict[str, Line] = {}
        self.place = self.same = ""
        if out is None or kept.folder is None:
            return
        self.place = place(out)
        self.same = self.of(dict(common))
        text = kept.found(self.place)
        self.known = dict(json.loads(text)) if text is not None else {}  # whole, so it is as we wrote it

    def of(self, *values: object) -> str:
        """A name of what a file is made from, and of this program; none where that cannot be told, or nothing is kept."""
        if not self.place:
            return ""
        names = []
        for value in values:
            told = _pickled(value)
            if told is None:
                return ""
            names.append(digest(told))
        return digest(program(), *names)

    def file(self, path: str, name: str, make: Callable[[], bytes]) -> bytes:
        """A file that belongs to no page: the one that stands, where it was made from what has this name, or made."""
        made_of = digest(name, path)
        if name and (stands := self._standing(path, made_of)) is not None:
            return stands[1][path]
        content = make()
        if name:
            self.now[path] = (self._sign(made_of, [], {path: content}), [], [path])
        return content

    def page(
        self, unmade: Unmade, files: Callable[[Page], dict[str, bytes]]
    ) -> tuple[Page, dict[str, bytes]]:
        """A page and its `files`: those that stand, or made. A page that stands and says what it is made from has no contents."""
        of = unmade.of() if unmade.of is not None else None
        page = unmade.how() if unmade.of is None else None
        made_of = self.of(self.same, page or of) if self.same else ""
        if made_of and (stands := self._standing(unmade.path, made_of)) is not None:
            titles, found = stands
            return page or Page(unmade.path, **dict(zip(TITLES, titles, strict=True)), content={}), found
        page = page or unmade.how(of)
        made = files(page)
        if made_of and (of is None or not page.content.get("charts")):  # of which a site has a list
            titles = [str(getattr(page, name)) for name in TITLES]
            self.now[unmade.path] = (self._sign(made_of, titles, made), titles, list(made))
        return page, made

    def _standing(self, path: str, made_of: str) -> tuple[list[str], dict[str, bytes]] | None:
        """The titles and files that stand of a path, if they are made of this."""
        if path not in self.known:
            return None
        sign, titles, paths = self.known[path]
        found = {each: content for each in paths if (content := self._read(each)) is not None}
        if sign != self._sign(made_of, titles, found):
            return None
        self.now[path] = (sign, titles, paths)
        return titles, found

    def _sign(self, made_of: str, titles: Sequence[str], files: Mapping[str, bytes]) -> str:
        return digest(made_of, *titles, *(part for file in files.items() for part in file))

    def keep(self) -> None:
        """Keep the lines for the next build."""
        if self.place:
            self.kept.keep(self.place, json.dumps(self.now))

    def _read(self, path: str) -> bytes | None:
        try:
            return plain_bytes(self.out / path, OURS) if self.out is not None else None
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
