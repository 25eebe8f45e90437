"""A build as the keeper of pages sees it: pages asked for, some of which stand in the site, and the lines kept of them."""

from __future__ import annotations

from functools import partial
from pathlib import Path

from generator.kept import Kept
from generator.pages.view import Page, Unmade
from generator.render.standing import Standing

PAGES = 6
COMMON = {"title": "Fuel circle"}


def page(number: int, edition: str) -> Page:
    """A page whose even numbers stay as they are from one edition to the next."""
    text = f"Well {number}." if number % 2 == 0 else f"Well {number}, {edition}."
    return Page(f"batches/b{number}.html", f"Batch {number}", "batch.html", text, "batches", {})


def rendered(made: Page) -> bytes:
    """What stands for a template: all that the page says."""
    return f"<p>{made.title}: {made.finding}</p>".encode() * 200


def site(edition: str) -> dict[str, bytes]:
    """All pages of an edition, by path, from nothing."""
    return {made.path: rendered(made) for made in (page(number, edition) for number in range(PAGES))}


def pages(folder: Path, edition: str) -> tuple[dict[str, bytes], int]:
    """All pages of an edition, by path, beside the site in `folder`; and how many were rendered. The lines are kept."""
    times = 0

    def files(made: Page) -> dict[str, bytes]:
        nonlocal times
        times += 1
        return {made.path: rendered(made)}

    standing = Standing(Kept(folder / "cache"), folder / "site", COMMON)
    made: dict[str, bytes] = {}
    for number in range(PAGES):
        asked = page(number, edition)
        made |= standing.page(Unmade(asked.path, partial(page, number, edition)), files)[1]
    standing.keep()
    return made, times


def lay(folder: Path, made: dict[str, bytes]) -> None:
    """Serve these pages."""
    for path, content in made.items():
        (folder / "site" / path).parent.mkdir(parents=True, exist_ok=True)
        (folder / "site" / path).write_bytes(content)


def build(folder: str) -> str:
    """The work of a child: the new edition beside a site of the old one; words where a byte is another."""
    made, _ = pages(Path(folder), "new")
    return "" if made == site("new") else "other bytes"
