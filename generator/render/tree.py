"""All pages, tables and assets -> the files of a site, path and bytes, one after the other: they are never all in memory."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from functools import partial
from pathlib import Path
from typing import Any

from generator.compute.results import Results
from generator.digests import digest
from generator.kept import Kept
from generator.language import count, say
from generator.pages.downloads import SUMS, WRITES_PARQUET
from generator.pages.names import addresses
from generator.pages.site import Pages
from generator.pages.view import Page
from generator.problems import Problem
from generator.render.assets import assets
from generator.render.exports import (
    csv_bytes,
    dictionary_bytes,
    json_bytes,
    package_bytes,
    resource,
    sums_bytes,
)
from generator.render.face import CAUTION, NO_STATEMENT, units_text
from generator.render.feed import PATH as FEED
from generator.render.feed import feed_bytes
from generator.render.finding import TERMS, finding_scripts, terms_script
from generator.render.parquet import parquet_bytes
from generator.render.pictures import Pictures
from generator.render.site import Renderer
from generator.render.standing import Standing
from generator.tables import ALL, public_columns


@dataclass(frozen=True, slots=True)
class Live:
    """What a page of a preview knows more: its version, its script, and the errors that came since it was good."""

    version: int
    script: str
    errors: tuple[Problem, ...]
    folder: str

    @property
    def heading(self) -> str:
        """How much is wrong, in a line."""
        return count(len(self.errors), "error in the logbook", "errors in the logbook")

    @property
    def lines(self) -> list[str]:
        """Each error with its place and what to write instead."""
        return [
            f"{self.folder}{one.place}: {one.message}{f'; {one.hint}' if one.hint else ''}"
            for one in self.errors
        ]


def rendered(
    results: Results,
    pages: Pages,
    widened: tuple[str, ...],
    problems: int,
    kept: Kept | None = None,
    out: Path | None = None,
) -> Iterator[tuple[str, bytes]]:
    """The files of a site; the same results and pages give the same bytes, whatever was kept of earlier ones.

    They speak the language that is set where they are asked for. `out` is where the last site may stand, of which
    pages that nothing changed are taken.
    """
    pictures = Pictures(kept)
    renderer = Renderer(pictures.picture)
    same = common(results, pages, problems)
    standing = Standing(pictures.kept, out, same)
    besides = _Besides(results, widened, pictures)
    for page in pages:
        yield page.path, standing.page(page, partial(renderer.render, page, same))
        yield from besides.of(page)
    standing.keep()
    yield from besides.rest()
    pictures.kept.prune()


def beside(results: Results, pages: Pages, widened: tuple[str, ...], pictures: Pictures) -> dict[str, bytes]:
    """What stands beside the pages: assets, tables, the data of the scripts that find and compare."""
    besides = _Besides(results, widened, pictures)
    scripts = {path: content for page in pages for path, content in besides.of(page)}
    return {**scripts, **dict(besides.rest())}


@dataclass(slots=True)
class _Besides:
    """The files beside the pages, made as these pass."""

    results: Results
    widened: tuple[str, ...]
    pictures: Pictures
    passed: list[Page] = field(default_factory=list)
    specifications: dict[str, dict[str, Any]] = field(default_factory=dict)

    def of(self, page: Page) -> Iterator[tuple[str, bytes]]:
        """What belongs to a page."""
        self.passed.append(replace(page, content={}))
        self.pictures.specify(page, self.specifications)
        yield from finding_scripts([page]).items()

    def rest(self) -> Iterator[tuple[str, bytes]]:
        """What belongs to all of them."""
        yield from assets(dict(sorted(self.specifications.items())), self.results).items()
        yield from exports(self.results, self.widened)
        yield TERMS, terms_script()
        yield FEED, feed_bytes(self.results, self.passed)


def common(results: Results, pages: Pages, problems: int, live: Live | None = None) -> dict[str, Any]:
    """What all pages share; `live` only in a preview."""
    return {
        "live": live,
        "names": addresses(results),
        "title": results.title,
        "notice": results.notice,
        "as_of": results.as_of,
        "as_of_basis": say(results.as_of_basis),
        "audience": results.audience,
        "nav": pages.navigation(),
        "currency": results.currency,
        "units": units_text(results),
        "caution": say(CAUTION),
        "no_statement": say(NO_STATEMENT),
        "problems_count": problems if results.audience == "workshop" else 0,
    }


def exports(results: Results, widened: tuple[str, ...]) -> Iterator[tuple[str, bytes]]:
    """The tables of the audience as CSV and JSON by their path in the site, with the dictionary of their columns."""
    digests: dict[str, str] = {}
    for path, content in _tables(results, widened):
        digests[path] = digest(content)
        yield path, content
    yield SUMS, sums_bytes(digests)


def _tables(results: Results, widened: tuple[str, ...]) -> Iterator[tuple[str, bytes]]:
    described, resources = [], []
    for table in ALL:
        names = public_columns(table, widened) if results.audience == "shared" else table.names
        if not names:
            continue
        shown = replace(table, columns=tuple(table.column(name) for name in names))
        rows = results.rows(table.name)
        yield f"data/{table.name}.csv", csv_bytes(shown, rows)
        yield f"data/{table.name}.json", json_bytes(shown, rows)
        if WRITES_PARQUET:
            yield f"data/{table.name}.parquet", parquet_bytes(shown, rows)
        described.append(shown)
        resources.append(resource(shown, rows))
    yield "data/dictionary.json", dictionary_bytes(described)
    yield "data/datapackage.json", package_bytes(results.title, resources)
    yield from ((f"batches/{batch}.json", record) for batch, record in results.published.items())
