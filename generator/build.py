"""The pipeline, one call a line: the table of contents of the program."""

from __future__ import annotations

from collections.abc import Generator, Iterator, Sequence
from contextlib import closing
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

from generator.attaching import cleaned
from generator.kept import APART, Gathered, Kept
from generator.language import speaking
from generator.problems import Problem
from generator.program import figures_before
from generator.publish import CannotPublish, Published, publish, standing
from generator.read.folder import FOLDERS, PAGES, Folder
from generator.read.git import PASSING, Past, past
from generator.read.root import repository_above
from generator.repeated import Asked, Counts
from generator.validate.logbook import Checked, checked_folder

if TYPE_CHECKING:
    from generator.compute.results import Results
    from generator.pages.site import Pages


@dataclass(frozen=True, slots=True)
class Built:
    """What came of a build: the problems, and what was published if nothing kept it back."""

    folder: Folder
    problems: list[Problem]
    batches: int
    pages: int = 0
    published: Published | None = None
    widened: tuple[str, ...] = ()
    warnings: int = 0
    without_history: str = ""
    locale: str = ""
    uncommitted: tuple[str, ...] = ()


def build_site(
    logbook: Path,
    out: Path,
    audience: str,
    as_of: date | None = None,
    cache: Path | None = None,
    processes: int = 1,
) -> Built:
    """Read, check, compute, assemble, render, publish; with any error in the logbook nothing is written.

    `cache` is a folder for what is dear to make, and several `processes` share the work; with or without, the site has the
    same bytes.
    Raises CannotPublish where the machine or the output folder stands in the way.
    """
    asked = Asked(Kept(cache), logbook, out, audience, str(as_of))
    files, protected = asked.files(), list(_protected(logbook))
    if (built := _repeated(asked, files, protected)) is not None:
        return built
    folder, checked = checked_folder(logbook, as_of, kept=asked.kept)
    ledgers = checked.ledgers
    if ledgers is None or not checked.fit:
        return Built(folder, checked.problems, len(ledgers.log.batches) if ledgers is not None else 0)
    _refuse_inside(logbook, out)
    remembered = past(logbook)
    dear = figures_before(asked.kept, logbook, audience, processes)
    site = computed(folder, checked, audience, remembered, dear)
    # slow to import, and not needed to tell a mistake
    from generator.render.tree import rendered  # noqa: PLC0415

    def everything() -> Generator[tuple[str, bytes]]:
        yield from rendered(
            site.results, site.pages, site.widened, len(checked.problems), asked.kept, out, processes
        )
        yield from ((address, report(folder, file)) for address, file in site.results.attached.items())

    with speaking(site.results.locale), closing(everything()) as made:
        published = publish(made, out, protected=protected)
    dear.keep()
    # slow to import, and not needed to tell a mistake
    from generator.compute.changes import uncommitted_names  # noqa: PLC0415

    counts = Counts(
        site.batches,
        published.pages,
        len(checked.problems),
        site.widened,
        remembered.missing,
        site.results.locale,
        uncommitted_names(site.results.rows("changes")),
    )
    if remembered.missing not in PASSING:
        asked.remember(files, published.stands, counts)
    return _told(folder, checked.problems, published, counts)


def _repeated(asked: Asked, files: str, protected: Sequence[Path]) -> Built | None:
    """What a build would tell that repeats the last one, with nothing done; its warnings are counted and not listed."""
    stands = standing(asked.out, protected) if files else None
    counts = asked.counts(files, stands.name) if stands is not None else None
    if stands is None or counts is None:
        return None
    return _told(Folder(asked.logbook), [], stands.published, counts)


def _told(folder: Folder, problems: list[Problem], published: Published, counts: Counts) -> Built:
    return Built(
        folder,
        problems,
        counts.batches,
        counts.pages,
        published,
        counts.widened,
        counts.warnings,
        counts.without_history,
        counts.locale,
        counts.uncommitted,
    )


def report(folder: Folder, file: str) -> bytes:
    """A report as it is published, without its metadata; it has been checked."""
    return cleaned(file, folder.attachments.raw(file))


@dataclass(frozen=True, slots=True)
class Computed:
    """What an audience may see: results, pages, how many batches, and the columns that the settings make public."""

    results: Results
    pages: Pages
    batches: int
    widened: tuple[str, ...]


def computed(
    folder: Folder,
    checked: Checked,
    audience: str,
    remembered: Past | None = None,
    dear: Gathered = APART,
) -> Computed:
    """What an audience may see of a logbook that is fit; `dear` figures are reckoned once, when a page asks for them."""
    # slow to import, and not needed to tell a mistake
    from generator.compute.audience import shared  # noqa: PLC0415
    from generator.compute.bare import without_private  # noqa: PLC0415
    from generator.compute.tally import tally  # noqa: PLC0415
    from generator.pages.site import Pages, Told  # noqa: PLC0415

    assert checked.ledgers is not None
    log = checked.ledgers.log
    bare = without_private(log) if audience == "shared" else None
    if bare is not None:
        results, widened = shared(log, bare, dear), log.settings.public
    else:
        results, widened = tally(checked.ledgers, dear), ()
    if remembered is not None and not remembered.missing:
        from generator.compute.changes import changes, published  # noqa: PLC0415

        moved = changes(log, remembered, shared=bare is not None)
        told = moved if bare is None else published(moved)
        results.frames = results.frames.but(changes=lambda: told)
        results.remembered = True
    files = {entry.document.file: entry.id for entry in log.written_batches()}
    lines = {problem.place.file: folder.lines(problem.place.file) for problem in checked.problems}
    with speaking(results.locale):
        pages = Pages(results, Told(checked.problems, lines, files), widened)
    return Computed(results, pages, len(results.rows("batches")), widened)


def _refuse_inside(logbook: Path, out: Path) -> None:
    """CannotPublish for an output among the records themselves."""
    place, root = out.resolve(), logbook.resolve()
    if (
        place.is_relative_to(root)
        and place.relative_to(root).parts[:1]
        and place.relative_to(root).parts[0] in (*FOLDERS, PAGES)
    ):
        raise CannotPublish(
            f"{out} lies among the files of the logbook", "give a folder beside it, such as site"
        )


def _protected(logbook: Path) -> Iterator[Path]:
    """Folders that a site never replaces: the logbook, and the repository it lies in."""
    yield logbook
    repository = repository_above(logbook)
    if repository is not None:
        yield repository
