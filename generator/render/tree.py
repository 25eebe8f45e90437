"""All pages, tables and assets -> the tree of a site: path -> bytes, with nothing written yet."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Any

from generator.compute.results import Results
from generator.pages.view import Page
from generator.pages.words import shown
from generator.render.assets import assets
from generator.render.exports import csv_bytes, dictionary_bytes, json_bytes
from generator.render.pictures import specifications
from generator.render.site import Renderer
from generator.tables import ALL, public_columns

NAVIGATION = (
    "home",
    "batches",
    "quality",
    "costs",
    "oil",
    "columns",
    "tanks",
    "methods",
    "problems",
    "downloads",
)


def rendered(
    results: Results, pages: Sequence[Page], widened: tuple[str, ...], problems: int
) -> dict[str, bytes]:
    """The tree of a site; the same results and pages give the same bytes."""
    renderer = Renderer()
    common = _common(results, pages, problems)
    tree = {page.path: renderer.render(page, common) for page in pages}
    return {**tree, **assets(specifications(pages)), **_exports(results, widened)}


def _common(results: Results, pages: Sequence[Page], problems: int) -> dict[str, Any]:
    return {
        "title": results.title,
        "notice": results.notice,
        "as_of": results.as_of,
        "as_of_basis": results.as_of_basis,
        "audience": results.audience,
        "nav": _navigation(pages),
        "currency": results.currency,
        "units": f"Volumes are {shown(results).basis} unless a page says otherwise.",
        "problems_count": problems if results.audience == "workshop" else 0,
    }


def _navigation(pages: Sequence[Page]) -> list[tuple[str, str, str]]:
    """Label, address and section of the pages that are not reached through a list: the tool's, then the logbook's."""
    first = {page.section: page for page in reversed(pages)}
    own = [page for page in pages if page.template == "page.html"]
    listed = [first[name] for name in NAVIGATION if name in first]
    return [(page.title, page.path, page.section) for page in (*listed, *own)]


def _exports(results: Results, widened: tuple[str, ...]) -> Mapping[str, bytes]:
    out: dict[str, bytes] = {}
    kept = []
    for table in ALL:
        names = public_columns(table, widened) if results.audience == "shared" else table.names
        if not names:
            continue
        shown = replace(table, columns=tuple(table.column(name) for name in names))
        rows = results.rows(table.name)
        out[f"data/{table.name}.csv"] = csv_bytes(shown, rows)
        out[f"data/{table.name}.json"] = json_bytes(shown, rows)
        kept.append(shown)
    out["data/dictionary.json"] = dictionary_bytes(kept)
    return out
