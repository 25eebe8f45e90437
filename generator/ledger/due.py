"""Tests by the rhythm that the logbook sets: what was asked for, what was done, what is due."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from generator.language import tell
from generator.ledger.ledgers import Ledgers
from generator.ledger.stored import Stored, stored
from generator.records import Rhythm

HOURS = 24
NEW_OIL = "new oil"


@dataclass(frozen=True, slots=True)
class Tested:
    """A result of a property: its batch by its place in time, its day, whether a laboratory gave it."""

    place: int
    day: date
    laboratory: bool


@dataclass(frozen=True, slots=True)
class Due:
    """One property of one rule: how often it was asked for and done, when last, whether it is due and for what."""

    property: str
    rule: str
    laboratory: bool
    asked: int
    done: int
    last: str | None
    last_day: date | None
    batches_since: int | None
    days_since: int | None
    due: str


def dues(ledgers: Ledgers) -> list[Due]:
    """Every property of every rule, in the order of the settings."""
    found = _Found(ledgers)
    return [found.due(rule, name) for rule in ledgers.log.settings.testing for name in rule.properties]


def rule_text(rule: Rhythm) -> str:
    """A rule in words."""
    asked = _asked(rule)
    return tell("{rule}, by a laboratory", rule=asked) if rule.laboratory else asked


def _asked(rule: Rhythm) -> str:
    if rule.after is not None:
        new_oil = rule.after == NEW_OIL
        return (
            tell("the first batch of a new lot of oil")
            if new_oil
            else tell("the first batch of a new charge")
        )
    if rule.stored is not None:
        return tell("stored fuel, every {days} days", days=_days(rule.stored.value))
    parts = []
    if rule.every is not None:
        parts.append(
            tell("every batch") if rule.every == 1 else tell("one batch in {every}", every=rule.every)
        )
    if rule.within is not None:
        parts.append(tell("at least every {days} days", days=_days(rule.within.value)))
    return parts[0] if len(parts) == 1 else tell("{often} and {days}", often=parts[0], days=parts[1])


def _days(hours: float) -> str:
    return f"{hours / HOURS:g}"


class _Found:
    """What was tested, and what a rule can hang on."""

    def __init__(self, ledgers: Ledgers) -> None:
        log = ledgers.log
        self._batches = [entry.id for entry in log.batches_in_time()]
        self._days = [entry.record.date for entry in log.batches_in_time()]
        self._now = log.now()
        self._tests: dict[str, list[Tested]] = {}
        for place, entry in enumerate(log.batches_in_time()):
            for test in entry.record.tests:
                if test.property is not None:
                    result = Tested(place, test.date or entry.record.date, test.laboratory)
                    self._tests.setdefault(test.property, []).append(result)
            if ledgers.facts[entry.id].soap_product is not None:
                self._tests.setdefault("soap", []).append(Tested(place, entry.record.date, laboratory=False))
        self._first = {NEW_OIL: self._of_new_oil(ledgers), "new charge": self._of_new_charges(ledgers)}
        self._stored = stored(ledgers.tanks)

    def due(self, rule: Rhythm, name: str) -> Due:
        """How one property stands to one rule."""
        tests = [test for test in self._tests.get(name, []) if test.laboratory or not rule.laboratory]
        last = max(tests, key=lambda test: (test.place, test.day), default=None)
        since = len(self._batches) - 1 - last.place if last is not None else None
        day = max((test.day for test in tests), default=None)
        asked, done, late = self._asked(rule, tests, since, day)
        return Due(
            property=name,
            rule=rule_text(rule),
            laboratory=rule.laboratory,
            asked=asked,
            done=done,
            last=self._batches[last.place] if last is not None else None,
            last_day=day,
            batches_since=since,
            days_since=(self._now - day).days if day is not None else None,
            due=late,
        )

    def _asked(
        self, rule: Rhythm, tests: Sequence[Tested], since: int | None, day: date | None
    ) -> tuple[int, int, str]:
        """How often a rule asked, how often that was done, and what is due."""
        if rule.after is not None:
            return self._after(self._first[rule.after], tests)
        if rule.stored is not None:
            return self._standing(rule.stored.value / HOURS, tests)
        places = {test.place for test in tests}
        every = int(rule.every or 1)
        windows = [
            range(start, min(start + every, len(self._batches)))
            for start in range(0, len(self._batches), every)
        ]
        whole = [each for each in windows if len(each) == every]
        done = sum(any(place in places for place in each) for each in whole)
        return len(whole), done, self._late(rule, since, day) if self._batches else ""

    def _late(self, rule: Rhythm, since: int | None, day: date | None) -> str:
        if day is None:
            return tell("never tested")
        found = []
        if rule.every is not None and since is not None and since >= rule.every:
            found.append(
                tell("1 batch since the last")
                if since == 1
                else tell("{since} batches since the last", since=since)
            )
        if rule.within is not None and self._days and self._days[-1] > day:
            gone = (self._now - day).days
            if gone > rule.within.value / HOURS:
                found.append(tell("{days} days since the last", days=gone))
        return (
            found[0]
            if len(found) < 2 and found
            else tell("{often} and {days}", often=found[0], days=found[1])
            if found
            else ""
        )

    def _after(self, asked: Sequence[int], tests: Sequence[Tested]) -> tuple[int, int, str]:
        places = {test.place for test in tests}
        done = sum(place in places for place in asked)
        lacks = bool(asked) and asked[-1] not in places
        return (
            len(asked),
            done,
            tell("batch {batch} has none", batch=self._batches[asked[-1]]) if lacks else "",
        )

    def _standing(self, days: float, tests: Sequence[Tested]) -> tuple[int, int, str]:
        """Fuel in tanks whose last result, or whose filling where there is none, is longer ago."""
        late = [part.batch for part in self._stored if self._age(part, tests) > days]
        due = tell("in tanks: {batches}", batches=", ".join(dict.fromkeys(late))) if late else ""
        return len(self._stored), len(self._stored) - len(late), due

    def _age(self, part: Stored, tests: Sequence[Tested]) -> int:
        own = [test.day for test in tests if self._batches[test.place] == part.batch]
        return (self._now - max([part.filled, *own])).days

    def _of_new_oil(self, ledgers: Ledgers) -> list[int]:
        """The batches in which a lot of oil was used for the first time, by itself or out of a vat."""
        seen: set[str] = set()
        out = []
        for place, entry in enumerate(ledgers.log.batches_in_time()):
            lots = set(ledgers.oil_of(entry.id))
            if lots - seen:
                out.append(place)
            seen |= lots
        return out

    def _of_new_charges(self, ledgers: Ledgers) -> list[int]:
        """The batches that were the first through a charge."""
        firsts = {charge.runs[0].batch for charge in ledgers.columns.charges if charge.runs}
        return [place for place, name in enumerate(self._batches) if name in firsts]
