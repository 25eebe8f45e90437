"""The site of a logbook while it is being written: made anew in memory when a file is saved, with the errors on the page.

Only what is asked for is rendered. A logbook with an error leaves the last good pages standing and says so on each.
"""

from __future__ import annotations

import os
import threading
from collections.abc import Iterator
from dataclasses import dataclass, field
from html import escape
from pathlib import Path

from generator.build import checked_folder
from generator.compute.audience import shared, without_private
from generator.compute.quality import limits_of
from generator.compute.results import Results
from generator.compute.tally import tally
from generator.ledger.ledgers import Ledgers
from generator.pages import Told, assemble
from generator.pages.view import Page
from generator.problems import Problem
from generator.render.assets import assets
from generator.render.pictures import specifications
from generator.render.site import Renderer, template_dir
from generator.render.tree import Live, common, exports
from generator.validate.logbook import Checked

SCRIPT = "assets/preview.js"
POLL_S = 0.1
Signature = tuple[tuple[str, int, int], ...]


@dataclass(slots=True)
class _Good:
    """What the last logbook without an error gave."""

    results: Results
    pages: dict[str, Page]
    widened: tuple[str, ...]
    warnings: int
    files: dict[str, bytes] = field(default_factory=dict)


class Preview:
    """The site of one logbook and audience as it is now; `get` and `newer` are asked by several threads."""

    def __init__(self, logbook: Path, audience: str) -> None:
        """Read it for the first time."""
        self.logbook, self.audience = logbook, audience
        self.renderer = Renderer(pictures=False)  # where this runs, scripts do too, and draw them
        self.changed = threading.Condition()
        self.version = 0
        self.good: _Good | None = None
        self.errors: list[Problem] = []
        self.rendered: dict[str, bytes] = {}
        self.signature = _signature(logbook)
        self._make()

    def refresh(self) -> bool:
        """Look at the files; make the site anew where one of them has changed, and say whether it did."""
        now = _signature(self.logbook)
        if now == self.signature:
            return False
        self.signature = now
        self._make()
        return True

    def _make(self) -> None:
        folder, checked = checked_folder(self.logbook)
        good = self._computed(checked) if checked.fit and checked.ledgers is not None else None
        if good is not None:
            lines = {one.place.file: folder.lines(one.place.file) for one in checked.problems}
            files = {entry.document.file: entry.id for entry in checked.ledgers.log.written_batches()}  # type: ignore[union-attr]
            told = Told(checked.problems, lines, files)
            limits = limits_of(checked.ledgers.log)  # type: ignore[union-attr]
            good.pages = {page.path: page for page in assemble(good.results, limits, told, good.widened)}
        with self.changed:
            self.good = good or self.good
            self.errors = [one for one in checked.problems if one.is_error]
            self.rendered = {}
            self.version += 1
            self.changed.notify_all()

    def _computed(self, checked: Checked) -> _Good:
        assert checked.ledgers is not None
        if self.audience == "workshop":
            return _Good(tally(checked.ledgers), {}, (), len(checked.problems))
        log = without_private(checked.ledgers.log)
        widened = log.settings.public
        return _Good(shared(tally(Ledgers(log)), widened), {}, widened, 0)

    def newer(self, version: int, timeout_s: float) -> int:
        """Wait until the version is another one, or the time is over; the version then."""
        with self.changed:
            self.changed.wait_for(lambda: self.version != version, timeout_s)
            return self.version

    def get(self, path: str) -> bytes | None:
        """The bytes of a file of the site as it is now; None where there is none."""
        with self.changed:
            if path not in self.rendered and (made := self._rendered(path)) is not None:
                self.rendered[path] = made
            return self.rendered.get(path)

    def _rendered(self, path: str) -> bytes | None:
        if path == SCRIPT:
            return (template_dir() / "preview.js").read_bytes()
        live = Live(self.version, SCRIPT, tuple(self.errors), f"{self.logbook}/")
        if self.good is None:
            return _nothing_yet(live) if path.endswith(".html") else None
        good = self.good
        if path in good.pages:
            pages = list(good.pages.values())
            return self.renderer.render(good.pages[path], common(good.results, pages, good.warnings, live))
        if not good.files:
            specs = specifications(good.pages.values())
            good.files = {**assets(specs), **exports(good.results, good.widened)}
        return good.files.get(path)


def _nothing_yet(live: Live) -> bytes:
    """What stands where no page could be made so far: the errors alone."""
    listed = "".join(f"<li>{escape(line)}</li>" for line in live.lines)
    text = (
        '<!doctype html>\n<html lang="en"><head><meta charset="utf-8"><title>Preview</title></head><body>\n'
        f"<h1>{escape(live.heading)}: nothing can be shown yet</h1>\n<ul>{listed}</ul>\n"
        f'<script src="/{live.script}" data-version="{live.version}"></script>\n</body></html>\n'
    )
    return text.encode()


def _signature(logbook: Path) -> Signature:
    """Name, time and size of every file; what cannot be looked at is left to the check."""
    return tuple(sorted(_stats(logbook)))


def _stats(folder: Path) -> Iterator[tuple[str, int, int]]:
    try:
        with os.scandir(folder) as entries:
            for entry in entries:
                if entry.name.startswith("."):
                    continue
                if entry.is_dir(follow_symlinks=False):
                    yield from _stats(Path(entry.path))
                else:
                    found = entry.stat(follow_symlinks=False)
                    yield entry.path, found.st_mtime_ns, found.st_size
    except OSError:
        return
