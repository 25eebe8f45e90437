"""All pages of a site, in the order of its navigation: one line a page."""

from __future__ import annotations

from collections import deque
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import partial
from itertools import chain

from generator.compute.results import Results
from generator.language import say
from generator.pages import (
    batch,
    batches,
    charge,
    columns,
    compare,
    costs,
    downloads,
    drift,
    explain,
    find,
    glossary,
    home,
    label,
    methods,
    offer,
    oil,
    plan,
    problems,
    quality,
    sheet,
    tanks,
    tracing,
)
from generator.pages.page import page as free_text
from generator.pages.page import path as free_path
from generator.pages.places import PLACES
from generator.pages.search import PATH as FIND
from generator.pages.view import Page, Unmade
from generator.problems import Problem


@dataclass(frozen=True, slots=True)
class Told:
    """The warnings of the check, the lines of their files, and which batch each file is."""

    problems: Sequence[Problem]
    lines: Mapping[str, list[str] | None]
    batch_of_file: Mapping[str, str]

    def by_batch(self) -> dict[str, list[tuple[str, str]]]:
        """The messages about each batch's own file, with their codes."""
        out: dict[str, list[tuple[str, str]]] = {}
        for problem in self.problems:
            name = self.batch_of_file.get(problem.place.file)
            if name is not None:
                out.setdefault(name, []).append((problem.message, problem.code))
        return out


class Pages:
    """All pages of an audience, each made when it is asked for: those that stand alone, then thousands of their kind."""

    def __init__(self, results: Results, told: Told, widened: tuple[str, ...]) -> None:
        """Nothing is made yet."""
        self.results = results
        self.alone = list(_alone(results, told, widened))
        self._many = partial(_many, results, told)
        self._found: dict[str, dict[str, Unmade]] = {}

    def __iter__(self) -> Iterator[Page]:
        """Every page; last the one that lists the others, and finds what stands on those that stand alone."""
        known = []
        for unmade in self.alone:
            known.append(unmade.make())
            yield known[-1]
        for unmade in self.many():
            page = unmade.make()
            known.append(replace(page, content={}))
            yield page
        yield self.last(known)

    def many(self) -> list[Unmade]:
        """The pages of each kind of which there are many."""
        return [unmade for _, kind in self._many() for unmade in kind]

    def last(self, known: Sequence[Page]) -> Page:
        """The page that lists all others; of those that stand alone it asks for the contents too."""
        return find.page(self.results, known)

    def page(self, path: str) -> Page | None:
        """One page; None where none stands."""
        if path == FIND:
            return deque(self, maxlen=1).pop()
        folder = path.rpartition("/")[0]
        if folder not in self._found:
            several = chain.from_iterable(kind for place, kind in self._many() if place == folder)
            self._found[folder] = {unmade.path: unmade for unmade in chain(self.alone, several)}
        found = self._found[folder].get(path)
        return found.make() if found is not None else None

    def navigation(self) -> list[tuple[str, str, str]]:
        """Label, address and section of the pages that are not reached through a list: the tool's, then the logbook's."""
        paths = {unmade.path for unmade in self.alone}
        listed = [
            (say(place.title), place.path, section)
            for section, place in PLACES.items()
            if place.path in paths
        ]
        own = map(free_text, self.results.pages.values())
        return listed + [(page.title, page.path, page.section) for page in own]


def _alone(results: Results, told: Told, widened: tuple[str, ...]) -> Iterator[Unmade]:
    workshop = results.audience == "workshop"
    yield _first("home", home.page, results, len(told.problems))
    yield _first("batches", batches.page, results)
    yield Unmade(compare.PATH, partial(compare.page, results))
    yield _first("quality", quality.page, results)
    if workshop:
        yield _first("drift", drift.page, results)
        yield _first("costs", costs.page, results)
        yield _first("oil", oil.page, results)
        yield from offer.pages(results)
    yield _first("columns", columns.page, results)
    if workshop:
        yield _first("tanks", tanks.page, results)
        yield _first("tracing", tracing.page, results)
    yield _first("methods", methods.page, results)
    yield _first("glossary", glossary.page)
    if workshop:
        yield _first("problems", problems.page, told.problems, told.lines)
        yield Unmade(explain.PATH, explain.page)
    yield _first("downloads", downloads.page, results, widened)
    for text in results.pages.values():
        yield Unmade(free_path(text), partial(free_text, text))


def _first(section: str, make: Callable[..., Page], *given: object) -> Unmade:
    return Unmade(PLACES[section].path, partial(make, *given))


def _many(results: Results, told: Told) -> Iterator[tuple[str, Iterator[Unmade]]]:
    """Folders, and the pages of one kind that lie in each; a kind whose pages nobody asks for waits for nothing."""
    workshop = results.audience == "workshop"
    yield "charges", charge.pages(results)
    yield "batches", batch.pages(results, told.by_batch() if workshop else {})
    yield "sheets", sheet.pages(results)
    yield "labels", label.pages(results)
    if workshop:
        yield "batches", plan.pages(results, told.by_batch())
