"""Which limits hold for a batch: the edition of the standard, and the workshop's own lines, in force on its day.

A later choice never moves an older batch: each keeps what held when it was made.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from itertools import pairwise

from generator.language import tell
from generator.log import Log
from generator.properties import properties
from generator.records import OwnLimit, OwnLimits, SpecificationChoice
from generator.specifications import Limit, Specification, limit_text, specifications

OWN = tell("the workshop's own")


@dataclass(frozen=True, slots=True)
class Edition:
    """Limits with the name they are known by, from a day on; None is from the beginning."""

    name: str
    begins: date | None
    source: str
    confidence: str
    limits: Mapping[str, Limit]
    own: bool = False


def in_force(editions: Iterable[Edition], day: date) -> Edition | None:
    """The last edition that had begun by a day; None before the first."""
    begun = [each for each in editions if each.begins is None or each.begins <= day]
    return begun[-1] if begun else None


def standards(log: Log) -> list[Edition]:
    """The editions of a standard that the settings choose, in the order in which they hold."""
    chosen = log.settings.specification
    return [_standard(choice) for choice in chosen if stored(choice) is not None]


def own_editions(log: Log) -> list[Edition]:
    """The workshop's own limits, edition by edition."""
    return [_own(each) for each in log.settings.own_limits]


def stored(choice: SpecificationChoice) -> Specification | None:
    """The edition that a choice names; None where no limits of it are stored."""
    return specifications().get((choice.standard, choice.edition or ""))


def _standard(choice: SpecificationChoice) -> Edition:
    found = specifications()[(choice.standard, choice.edition or "")]
    name = tell("{standard}, edition {edition}", standard=found.standard, edition=found.edition)
    return Edition(
        name=tell("{edition}, grade {grade}", edition=name, grade=choice.grade) if choice.grade else name,
        begins=choice.begins,
        source=found.source,
        confidence=found.confidence,
        limits=found.of_grade(choice.grade or ""),
    )


def _own(group: OwnLimits) -> Edition:
    return Edition(
        name=tell("own limits, edition {edition}", edition=group.edition),
        begins=group.begins,
        source="logbook.yaml",
        confidence=OWN,
        limits={each.property: _own_limit(each) for each in group.limits},
        own=True,
    )


def _own_limit(written: OwnLimit) -> Limit:
    low, high = written.low, written.high
    return Limit(
        property=written.property,
        low=low.value if low is not None else None,
        high=high.value if high is not None else None,
        unit=properties()[written.property].unit,
        methods=(written.method,) if written.method else (),
        confidence=OWN,
        text=limit_text(low.text if low else None, high.text if high else None, written.words),
        words=written.words,
    )


def disordered(begins: Sequence[date | None]) -> int | None:
    """Where a list of days does not rise, or a later entry has none; None where all is in order."""
    for place, (before, after) in enumerate(pairwise(begins), 1):
        if after is None or (before is not None and after <= before):
            return place
    return None
