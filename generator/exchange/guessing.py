"""What a heading may mean: a key of the grammar and a unit, with the reason; nothing where that would be far-fetched."""

from __future__ import annotations

import functools
import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from generator.data import rows
from generator.exchange.mapping import OPEN
from generator.exchange.places import MOST_ENTRIES, Place, dotted, other_amount, path_of, place_of
from generator.exchange.spelling import is_unit, price_unit, unit_in
from generator.exchange.values import kinds_at
from generator.properties import properties

_BRACKETS = re.compile(r"[(\[]([^()\[\]]*)[)\]]")
_WORDS = re.compile(r"[^\W\d_]+|\d+")


_WHICH_GALLON = "which gallon, US gal or imp gal?"


@dataclass(frozen=True, slots=True)
class Guess:
    """What a column is taken for. `key` is empty where nothing fits, "?" where a person must choose; `why` says it."""

    heading: str
    key: str = ""
    unit: str = ""
    why: str = ""
    test: str = ""

    @property
    def asks_gallon(self) -> bool:
        """Whether what is open is which gallon is meant."""
        return self.unit == OPEN and _WHICH_GALLON in self.why


@dataclass(frozen=True, slots=True)
class _Row:
    keys: tuple[str, ...]
    phrase: tuple[str, ...]
    test: str
    say: str


@functools.cache
def _table() -> Mapping[str, Any]:
    table: Mapping[str, Any] = rows("headings")
    return table


@functools.cache
def _phrases(records: str) -> tuple[_Row, ...]:
    """All phrases of one kind of record, the longest first; then the properties by their names."""
    out = [
        _Row(tuple(row["keys"]), tuple(words.split()), row.get("property", ""), row.get("say", ""))
        for row in _table()[records]
        for words in row["words"]
    ]
    known = {row.phrase for row in out}
    for name in properties():
        if tuple(name.split()) not in known:
            out.append(_Row(("tests.+.value",), tuple(name.split()), name, ""))
    return tuple(sorted(out, key=lambda row: -len(row.phrase)))


def needs() -> Mapping[str, Mapping[str, str]]:
    """What else a group wants where a column feeds it, by key."""
    found: Mapping[str, Mapping[str, str]] = _table()["needs"]
    return found


def required(records: str) -> Mapping[str, str]:
    """The keys without which no row makes a record, with what to do where no column feeds one."""
    found: Mapping[str, str] = _table()["required"][records]
    return found


def guesses(records: str, headings: Sequence[str], given: Sequence[str], currency: str) -> list[Guess]:
    """A guess for each heading; `given` are units that stand in a row of their own. No key is given twice."""
    taken: set[str] = set()
    out = []
    for heading, unit in zip(headings, given, strict=True):
        found = _guess(records, heading, unit, currency, taken)
        if found.key and found.key != OPEN:
            taken.add(found.key)
        out.append(found)
    return out


def _guess(records: str, heading: str, given: str, currency: str, taken: Iterable[str]) -> Guess:
    """The first of what a heading says as a whole, or of what stands in it before and behind a stroke."""
    parts = [heading, *re.split(r"\s+[/|]\s+", heading)]
    for said in (_parted(part, given) for part in parts):
        alike = [row for row in _phrases(records) if _fits(row.phrase, said, currency)]
        fits = [
            found
            for row in alike
            if len(row.phrase) == len(alike[0].phrase)
            for key in row.keys
            if (found := _placed(records, heading, row, key.replace("#", str(said.number)), said, currency))
        ]
        if fits:
            return _free(next((guess for guess in fits if guess.unit != OPEN), fits[0]), taken)
    return Guess(heading)


def _free(guess: Guess, taken: Iterable[str]) -> Guess:
    """A guess at a place that no other column feeds."""
    if "+" in guess.key:
        free = next(index for index in range(MOST_ENTRIES) if guess.key.replace("+", str(index)) not in taken)
        return replace(guess, key=guess.key.replace("+", str(free)))
    other = other_amount(path_of(guess.key)) if guess.key != OPEN else None
    rival = next((key for key in (guess.key, dotted(other) if other else "") if key in taken), "")
    if rival:
        return replace(guess, key=OPEN, why=f"{rival} is fed by another column already")
    return guess


@dataclass(frozen=True, slots=True)
class _Said:
    """The words of a heading, what may be its unit, and the number at its end less one."""

    words: tuple[str, ...]
    candidates: tuple[str, ...]
    number: int


def _parted(heading: str, given: str) -> _Said:
    bracket = [found.strip() for found in _BRACKETS.findall(heading)]
    rest = re.sub("[#№]", " no ", _BRACKETS.sub(" ", heading).replace("_", " "))
    plain = re.split(r"[\s,:;]+", rest.strip(" ,:;"))
    candidates = [given] * bool(given) + [text for text in bracket if text and not text.isdigit()]
    candidates += [text.split()[0] for text in bracket if len(text.split()) > 1]
    candidates += [" ".join(plain[-2:])] * (len(plain) > 1) + [plain[-1]]
    words = [word.casefold() for word in _WORDS.findall(rest)]
    number = int(words[-1]) if words and words[-1].isdecimal() and 0 < int(words[-1]) <= 20 else 1
    return _Said(tuple(word for word in words if not word.isdecimal()), tuple(candidates), number - 1)


def _fits(phrase: tuple[str, ...], said: _Said, currency: str) -> bool:
    """Whether a heading says this phrase, and nothing besides units and fillers."""
    if not set(phrase) <= set(said.words):
        return False
    spare = {word for text in said.candidates if is_unit(text, currency) for word in _words(text)}
    return all(word in phrase or word in spare or word in _table()["fillers"] for word in said.words)


def _words(text: str) -> list[str]:
    return [word.casefold() for word in _WORDS.findall(text)]


def _placed(records: str, heading: str, row: _Row, key: str, said: _Said, currency: str) -> Guess | None:
    """A guess where the place takes the unit in the heading, or where there is none."""
    why = f"'{' '.join(row.phrase)}' in the heading"
    if key == OPEN:
        return Guess(heading, OPEN, "", row.say)
    place = place_of(records, key.replace("+", "0"))
    assert isinstance(place, Place), f"{key} in headings.yaml is no place"
    if place.sort == "price":
        found = next((unit for text in said.candidates if (unit := price_unit(text, currency))), OPEN)
        return Guess(heading, key, found, f"{why}, unit {'from it' if found != OPEN else 'not given'}")
    kinds = ("temperature",) if place.behind == "at" else kinds_at(place.kinds, row.test or None)
    if not kinds:
        return Guess(heading, key, "", why, row.test)
    unit = next((unit for text in said.candidates if (unit := unit_in(text, kinds))), "")
    if unit == OPEN:
        return Guess(heading, key, OPEN, f"{why}; {_WHICH_GALLON}", row.test)
    if unit:
        return Guess(heading, key, unit, f"{why}, unit from it", row.test)
    own = {"", *row.phrase, *_table()["fillers"]}
    if any(
        is_unit(text, currency) and not own.issuperset(_words(text) or [text]) for text in said.candidates
    ):
        return None  # it is in a unit of something else
    return Guess(heading, key, OPEN, f"{why}, which names no unit", row.test)
