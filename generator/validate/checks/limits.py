"""The editions that results are held to exist, name their grade, and follow one another in time."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from generator.ledger.editions import disordered, stored
from generator.ledger.ledgers import Ledgers
from generator.log import Log
from generator.problems import Problem, did_you_mean
from generator.records import OwnLimits, SpecificationChoice
from generator.specifications import Specification, specifications


def check(ledgers: Ledgers) -> Iterator[Problem]:
    """Name what the choices of a specification and the own limits lack."""
    log = ledgers.log
    for number, choice in enumerate(log.settings.specification):
        found = stored(choice)
        if found is None:
            yield _unknown(log, number, choice)
            continue
        yield from _grade(log, number, choice, found)
        yield from _early(log, number, choice, found)
    yield from _order(log, "specification", log.settings.specification)
    yield from _order(log, "own_limits", log.settings.own_limits)
    for number, group in enumerate(log.settings.own_limits):
        yield from _twice(log, number, group)


def _unknown(log: Log, number: int, choice: SpecificationChoice) -> Problem:
    known = [f"{standard}, edition {edition}" for standard, edition in specifications()]
    return Problem(
        "unknown-specification",
        log.workshop.at("specification", number),
        f"no limits are stored for {choice.standard}, edition {choice.edition}",
        f"stored: {'; '.join(sorted(known))}",
    )


def _grade(log: Log, number: int, choice: SpecificationChoice, found: Specification) -> Iterator[Problem]:
    name = f"{found.standard}, edition {found.edition}"
    place = log.workshop.at("specification", number, "grade")
    if choice.grade is None and found.grades:
        yield Problem(
            "unknown-grade",
            place,
            f"{name} has grades whose limits differ, and none is chosen",
            f"add one of: {'; '.join(found.grades)}",
        )
    elif choice.grade is not None and choice.grade not in found.grades:
        known = did_you_mean(choice.grade, found.grades) or "drop the grade: this edition has none"
        yield Problem("unknown-grade", place, f"'{choice.grade}' is no grade of {name}", known)


def _early(log: Log, number: int, choice: SpecificationChoice, found: Specification) -> Iterator[Problem]:
    """An edition is given a day, or holds for a batch, before there was one."""
    days = [entry.record.date for entry in log.batches.values()]
    first = choice.begins or (min(days) if days and number == 0 else None)
    if first is not None and first.year < found.year:
        yield Problem(
            "edition-early",
            log.workshop.at("specification", number, "from"),
            f"{found.standard}, edition {found.edition} is of {found.year}, and it is held to from {first} on",
            "write from which day it holds, and the edition before it as an entry of its own",
        )


def _order(log: Log, key: str, groups: Sequence[SpecificationChoice | OwnLimits]) -> Iterator[Problem]:
    place = disordered([each.begins for each in groups])
    if place is not None:
        yield Problem(
            "edition-order",
            log.workshop.at(key, place, "from"),
            "this edition does not begin after the one before it",
            "give each edition but the first a later day, such as from: 2026-01-01, the oldest first",
        )


def _twice(log: Log, number: int, group: OwnLimits) -> Iterator[Problem]:
    seen: set[str] = set()
    for place, limit in enumerate(group.limits):
        if limit.property in seen:
            yield Problem(
                "limit-odd",
                log.workshop.at("own_limits", number, "limits", place),
                f"{limit.property} has two limits in edition '{group.edition}'",
                "write min and max in one entry, or keep one of the two",
            )
        seen.add(limit.property)
