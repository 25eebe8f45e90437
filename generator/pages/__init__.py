"""All pages of a site, in the order of its navigation: one line a page."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from generator.compute.results import Results
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
from generator.pages.view import Page
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


@dataclass(frozen=True, slots=True)
class Pages:
    """All pages: those that stand alone, and thousands of their kind, which are made as they are asked for."""

    results: Results
    alone: Sequence[Page]
    many: Callable[[], Iterator[Page]]

    def __iter__(self) -> Iterator[Page]:
        """Every page; last the one that lists the others, made from what they are and not from what stands on them."""
        yield from self.alone
        known = list(self.alone)
        for page in self.many():
            known.append(replace(page, content={}))
            yield page
        yield find.page(self.results, known)


def assemble(results: Results, told: Told, widened: tuple[str, ...]) -> Pages:
    """Every page of the audience that the results are for."""
    return Pages(results, list(_alone(results, told, widened)), lambda: _many(results, told))


def _alone(results: Results, told: Told, widened: tuple[str, ...]) -> Iterator[Page]:
    workshop = results.audience == "workshop"
    yield home.page(results, len(told.problems))
    yield batches.page(results)
    yield compare.page(results)
    yield quality.page(results)
    if workshop:
        yield drift.page(results)
        yield costs.page(results)
        yield oil.page(results)
        yield from offer.pages(results)
    yield columns.page(results)
    if workshop:
        yield tanks.page(results)
        yield tracing.page(results)
    yield methods.page(results)
    yield glossary.page()
    if workshop:
        yield problems.page(told.problems, told.lines)
        yield explain.page()
    yield downloads.page(results, widened)
    for text in results.pages.values():
        yield free_text(text)


def _many(results: Results, told: Told) -> Iterator[Page]:
    workshop = results.audience == "workshop"
    yield from charge.pages(results)
    yield from batch.pages(results, told.by_batch() if workshop else {})
    yield from sheet.pages(results)
    yield from label.pages(results)
    if workshop:
        yield from plan.pages(results, told.by_batch())
