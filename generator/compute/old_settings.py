"""What git remembers of the limits, which are followed of the settings: what batches were held to when they were recorded."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from itertools import pairwise

from generator.compute.old_documents import documents_of
from generator.language import tell
from generator.ledger.editions import own_editions, standards
from generator.log import Entry, Log
from generator.read.git import Past
from generator.read.root import WORKSHOP
from generator.records import Workshop
from generator.validate.grammar import record_of


@dataclass(frozen=True, slots=True)
class MovedLimit:
    """A limit or an edition that was chosen: its name, from when on it holds, what it was and became, and when it was changed."""

    name: str
    begins: date | None
    before: str | None
    after: str | None
    at: int | None


Limits = Mapping[tuple[str, date | None], str]


def limits_moved(log: Log, found: Past) -> Iterator[MovedLimit]:
    """Every change of a limit since the settings were first committed; last what is not committed."""
    versions = found.versions.get(WORKSHOP, [])
    old = documents_of(found, {WORKSHOP: versions})
    stood: list[tuple[int | None, Limits]] = []
    for version in versions:
        document = old.get((WORKSHOP, version.blob))
        settings = record_of(Workshop, document, {})[0] if document is not None else None
        if settings is not None and document is not None:
            stood.append((version.at, _limits(Log(Entry("logbook", settings, document)))))
    if stood:
        stood.append((None, _limits(log)))
    for (_, before), (at, after) in pairwise(stood):
        for name, begins in dict.fromkeys((*before, *after)):
            one, other = before.get((name, begins)), after.get((name, begins))
            if one != other:
                yield MovedLimit(name, begins, one, other, at)


def _limits(log: Log) -> Limits:
    """What batches are held to, by its name and the day from which it holds."""
    chosen = {
        (tell("specification{since}", since=_since(each.begins)), each.begins): each.name
        for each in standards(log)
    }
    own = {
        (
            tell("own limit of {property}{since}", property=limit.property, since=_since(each.begins)),
            each.begins,
        ): limit.text
        for each in own_editions(log)
        for limit in each.limits.values()
    }
    return {**chosen, **own}


def _since(begins: date | None) -> str:
    return tell(" from {day}", day=begins.isoformat()) if begins is not None else ""
