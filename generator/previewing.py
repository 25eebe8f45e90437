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

from generator.build import Computed, computed, report
from generator.kept import Kept
from generator.language import speaking
from generator.pages.view import Page
from generator.problems import Problem
from generator.program import FEW, figures_before
from generator.read.folder import Folder
from generator.read.root import front_of
from generator.render.assets import ASSETS, SPECIFICATIONS, assets
from generator.render.finding import ENTRIES, TERMS, finding_scripts
from generator.render.pictures import Pictures
from generator.render.site import Renderer, template_dir
from generator.render.tree import Live, beside, common
from generator.validate.logbook import checked_folder

SCRIPT = "assets/preview.js"
POLL_S = 0.1
MADE_OF_ALL = (ENTRIES, TERMS)  # of the assets, those that tell of every page
Signature = tuple[tuple[str, int, int], ...]


@dataclass(slots=True)
class _Good:
    """What the last logbook without an error gave."""

    folder: Folder
    site: Computed
    warnings: int
    opened: list[Page] = field(default_factory=list)
    files: dict[str, bytes] = field(default_factory=dict)


class Preview:
    """The site of one logbook and audience as it is now; `get` and `newer` are asked by several threads."""

    def __init__(self, logbook: Path, audience: str, cache: Path | None = None) -> None:
        """Read it for the first time; `cache` as for a build."""
        self.logbook, self.audience = logbook, audience
        self.renderer = Renderer()  # where this runs, scripts do too, and draw the charts
        self.kept = Kept(cache)
        self.dear = figures_before(self.kept, logbook, audience)
        self.pictures = Pictures(self.kept)
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
        folder, checked = checked_folder(self.logbook, kept=self.kept)
        site = computed(folder, checked, self.audience, dear=self.dear) if checked.fit else None
        with self.changed:
            if site is not None:
                self.good = _Good(folder, site, len(checked.problems))
            self.errors = [one for one in checked.problems if one.is_error]
            self.rendered = {}
            self.version += 1
            self.changed.notify_all()

    def newer(self, version: int, timeout_s: float) -> int:
        """Wait until the version is another one, or the time is over; the version then."""
        with self.changed:
            self.changed.wait_for(lambda: self.version != version, timeout_s)
            return self.version

    def get(self, path: str) -> bytes | None:
        """The bytes of a file of the site as it is now; None where there is none."""
        with self.changed:
            if path not in self.rendered and (made := self._rendered(path)) is not None:
                if path == SPECIFICATIONS:  # of the pages that were opened, which may be more the next time
                    return made
                self.rendered[path] = made
            return self.rendered.get(path)

    def _rendered(self, path: str) -> bytes | None:
        if path == SCRIPT:
            return (template_dir() / "preview.js").read_bytes()
        live = Live(self.version, SCRIPT, tuple(self.errors), front_of(self.logbook))
        if self.good is None:
            return _nothing_yet(live) if path.endswith(".html") else None
        if path in self.good.site.results.attached:
            return report(self.good.folder, self.good.site.results.attached[path])
        with speaking(self.good.site.results.locale):
            if path.endswith(".html"):
                return self._page(self.good, path, live)
            return self._beside(self.good, path)

    def _page(self, good: _Good, path: str, live: Live) -> bytes | None:
        page = good.site.pages.page(path)
        if page is None:
            return None
        good.opened.append(page)
        self.dear.keep(FEW, rest=True)
        return self.renderer.render(page, common(good.site.results, good.site.pages, good.warnings, live))

    def _beside(self, good: _Good, path: str) -> bytes | None:
        """A file beside the pages; what a page needs to be shown is made without the other pages."""
        if path.startswith(ASSETS) and path not in MADE_OF_ALL:
            return assets(self.pictures.specifications(good.opened), good.site.results).get(path)
        if (page := good.site.pages.page(path.removesuffix(".js") + ".html")) is not None:
            return finding_scripts([page]).get(path)
        if not good.files:
            good.files = beside(good.site.results, good.site.pages, good.site.widened, self.pictures)
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
