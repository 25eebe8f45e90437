"""All pages, tables and assets -> the files of a site, path and bytes, one after the other: they are never all in memory."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from functools import partial
from pathlib import Path
from typing import Any

from generator.compute.results import Results
from generator.digests import digest
from generator.kept import NOTHING, Kept
from generator.language import count, say
from generator.pages.downloads import KINDS, SUMS
from generator.pages.names import addresses
from generator.pages.search import PATH as FIND
from generator.pages.site import Pages
from generator.pages.view import Page, Unmade
from generator.problems import Problem
from generator.render.assets import assets
from generator.render.exports import (
    Columns,
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
from generator.render.pictures import Pictures, together
from generator.render.site import Renderer
from generator.render.standing import Line, Standing
from generator.spreading import Helped
from generator.tables import ALL, Table, public_columns

SPELT: dict[str, Callable[[Table, Columns], bytes]] = {
    "csv": csv_bytes,
    "json": json_bytes,
    "parquet": parquet_bytes,
}


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


@dataclass(frozen=True, slots=True)
class _Made:
    """What comes of a page: itself, its files, what its charts are drawn from, the line that is kept of it."""

    page: Page
    files: Mapping[str, bytes]
    specifications: Mapping[str, dict[str, Any]]
    line: Line | None = None

    def light(self) -> _Made:
        """The same without the contents of the page."""
        return replace(self, page=replace(self.page, content={}))


def rendered(
    results: Results,
    pages: Pages,
    widened: tuple[str, ...],
    problems: int,
    kept: Kept | None = None,
    out: Path | None = None,
    processes: int = 1,
) -> Iterator[tuple[str, bytes]]:
    """The files of a site; the same results and pages give the same bytes, whatever was kept of earlier ones.

    They speak the language that is set where they are asked for. `out` is where the last site may stand, of which
    pages that nothing changed are taken. Pages of which there are many are made by several `processes`.
    """
    pictures = Pictures(kept)
    renderer = Renderer(pictures.picture)
    same = common(results, pages, problems)
    standing = Standing(pictures.kept, out, {**same, "locale": results.locale})
    besides = _Besides(results)

    def of_page(page: Page) -> dict[str, bytes]:
        return {page.path: renderer.render(page, same), **finding_scripts([page])}

    def made(unmade: Unmade) -> _Made:
        page, files = standing.page(unmade, of_page)
        return _Made(page, files, pictures.specifications([page]), standing.now.get(page.path))

    def files(one: _Made) -> Iterator[tuple[str, bytes]]:
        if one.line is not None:
            standing.now[one.page.path] = one.line
        return besides.files(one)

    known, many = [], {}

    def passing(several: Iterator[tuple[int, _Made]]) -> Iterator[tuple[str, bytes]]:
        for place, one in several:
            many[place] = one.page
            yield from files(one)

    with Helped(pages.many(), lambda unmade: made(unmade).light(), processes) as work:
        for unmade in pages.alone:
            one = made(unmade)
            known.append(one.page)
            yield from files(one)
            yield from passing(work.ready())
        for table in exports(results, widened, standing):
            yield table
            yield from passing(work.ready())
        yield from passing(work.rest())
    known += [many[place] for place in sorted(many)]
    yield from files(made(Unmade(FIND, partial(pages.last, known))))
    standing.keep()
    yield from besides.rest()
    pictures.kept.prune()


def beside(results: Results, pages: Pages, widened: tuple[str, ...], pictures: Pictures) -> dict[str, bytes]:
    """What stands beside the pages: assets, tables, the data of the scripts that find and compare."""
    besides = _Besides(results)
    scripts = {
        path: content
        for page in pages
        for path, content in besides.files(
            _Made(page, finding_scripts([page]), pictures.specifications([page]))
        )
    }
    return {**scripts, **dict(exports(results, widened, Standing(NOTHING, None, {}))), **dict(besides.rest())}


@dataclass(slots=True)
class _Besides:
    """The files beside the pages, made as these pass."""

    results: Results
    passed: list[Page] = field(default_factory=list)
    specifications: dict[str, dict[str, Any]] = field(default_factory=dict)

    def files(self, one: _Made) -> Iterator[tuple[str, bytes]]:
        """The files of a page, which passes."""
        self.passed.append(replace(one.page, content={}))
        together(one.page.path, one.specifications, self.specifications)
        yield from one.files.items()

    def rest(self) -> Iterator[tuple[str, bytes]]:
        """What belongs to all pages, when they have passed."""
        yield from assets(dict(sorted(self.specifications.items())), self.results).items()
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


def exports(results: Results, widened: tuple[str, ...], standing: Standing) -> Iterator[tuple[str, bytes]]:
    """The tables of the audience as CSV and JSON by their path in the site, with the dictionary of their columns.

    Those that stand, and are of the same columns, are taken.
    """
    digests: dict[str, str] = {}
    for path, content in _tables(results, widened, standing):
        digests[path] = digest(content)
        yield path, content
    yield SUMS, sums_bytes(digests)


def _tables(results: Results, widened: tuple[str, ...], standing: Standing) -> Iterator[tuple[str, bytes]]:
    described, resources = [], []
    for table in ALL:
        names = public_columns(table, widened) if results.audience == "shared" else table.names
        if not names:
            continue
        shown = replace(table, columns=tuple(table.column(name) for name in names))
        columns = results.passing(table.name).columns
        made_of = standing.of(shown, *(columns[name] for name in names))
        for kind in KINDS:
            path = f"data/{table.name}.{kind}"
            yield path, standing.file(path, made_of, partial(SPELT[kind], shown, columns))
        described.append(shown)
        resources.append(resource(shown, columns))
    yield "data/dictionary.json", dictionary_bytes(described)
    yield "data/datapackage.json", package_bytes(results.title, resources)
    yield from ((f"batches/{batch}.json", record) for batch, record in results.published.items())
