"""What a heading may mean: a key of the grammar and a unit, with the reason; nothing where that would be far-fetched."""

from __future__ import annotations

import functools
import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from generator.data import rows
from generator.exchange.mapping import OPEN
from generator.exchange.places import Place, dotted, other_amount, path_of, place_of
from generator.properties import properties
from generator.units import units

_BRACKETS = re.compile(r"[(\[]([^()\[\]]*)[)\]]")
_WORDS = re.compile(r"[^\W\d_]+|\d+")
_CURRENCIES: Mapping[str, tuple[str, ...]] = {
    "€": ("EUR",),
    "£": ("GBP", "EGP", "GIP", "FKP"),
    "$": ("USD", "CAD", "AUD", "NZD", "SGD", "HKD", "MXN"),
}
PER = ("volume", "mass", "energy", "distance", "duration")


@dataclass(frozen=True, slots=True)
class Guess:
    """What a column is taken for. `key` is empty where nothing fits, "?" where a person must choose; `why` says it."""

    heading: str
    key: str = ""
    unit: str = ""
    why: str = ""
    test: str = ""


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
    words, units_seen, number = _parted(heading)
    units_seen = [given, *units_seen] if given else units_seen
    alike = [row for row in _phrases(records) if _fits(row.phrase, words, units_seen)]
    best = [row for row in alike if len(row.phrase) == len(alike[0].phrase)]
    fits = [
        found
        for row in best
        for key in row.keys
        if (found := _placed(records, heading, row, key.replace("#", str(number)), units_seen, currency))
    ]
    certain = [guess for guess in fits if guess.unit != OPEN] or fits
    if not certain:
        return Guess(heading)
    first = certain[0]
    if first.key.count("+"):
        free = next(index for index in range(50) if first.key.replace("+", str(index)) not in taken)
        return Guess(heading, first.key.replace("+", str(free)), first.unit, first.why, first.test)
    other = other_amount(path_of(first.key))
    rival = next((key for key in (first.key, dotted(other) if other else "") if key in taken), "")
    if rival:
        return Guess(heading, OPEN, first.unit, f"{rival} is fed by another column already")
    return first


def _parted(heading: str) -> tuple[list[str], list[str], int]:
    """The words of a heading, what may be its unit, and the number at its end less one."""
    bracket = [found.strip() for found in _BRACKETS.findall(heading)]
    rest = _BRACKETS.sub(" ", heading).replace("_", " ")
    plain = re.split(r"[\s,:;]+", rest.strip(" ,:;"))
    candidates = [text for text in bracket if text and not text.isdigit()]
    candidates += [" ".join(plain[-2:])] * (len(plain) > 1) + [plain[-1]]
    words = [word.casefold() for word in _WORDS.findall(rest)]
    number = int(words[-1]) if words and words[-1].isdigit() and 0 < int(words[-1]) <= 20 else 1
    return [word for word in words if not word.isdigit()], candidates, number - 1


def _fits(phrase: tuple[str, ...], words: Sequence[str], candidates: Sequence[str]) -> bool:
    """Whether a heading says this phrase, and nothing besides units and fillers."""
    if not set(phrase) <= set(words):
        return False
    spare = {
        word for text in candidates for word in (w.casefold() for w in _WORDS.findall(text)) if _is_unit(text)
    }
    return all(word in phrase or word in spare or word in _table()["fillers"] for word in words)


@functools.cache
def _all_units() -> frozenset[str]:
    return frozenset(name.casefold() for kind in rows("units") for name in units(kind))


def _is_unit(text: str) -> bool:
    return text.casefold() in _all_units() or _price_unit(text, "") != ""


def is_unit(text: str) -> bool:
    """Whether a cell holds nothing but a unit, in brackets or not."""
    return _is_unit(text.strip("()[] "))


def _placed(
    records: str, heading: str, row: _Row, key: str, candidates: Sequence[str], currency: str
) -> Guess | None:
    """A guess where the place takes the unit in the heading, or where there is none."""
    said = f"'{' '.join(row.phrase)}' in the heading"
    if key == OPEN:
        return Guess(heading, OPEN, "", row.say)
    place = place_of(records, key.replace("+", "0"))
    assert isinstance(place, Place), f"{key} in headings.yaml is no place"
    kinds = (
        ("temperature",)
        if place.behind == "at"
        else properties()[row.test].kinds
        if row.test
        else place.kinds
    )
    if place.sort == "price":
        found = next((unit for text in candidates if (unit := _price_unit(text, currency))), "")
        return Guess(heading, key, found or OPEN, f"{said}, unit {'from it' if found else 'not given'}")
    if not kinds:
        return Guess(heading, key, "", said, row.test)
    unit = next((unit for text in candidates if (unit := _unit(text, kinds))), "")
    if unit:
        return Guess(heading, key, unit, f"{said}, unit from it", row.test)
    if any(_is_unit(text) for text in candidates):
        return None  # it is in a unit of something else
    return Guess(heading, key, OPEN, f"{said}, which names no unit", row.test)


def _unit(text: str, kinds: Sequence[str]) -> str:
    """The symbol of a unit that a text names, where it is one of these kinds; in any capitals where that is one alone."""
    for kind in kinds:
        if text in units(kind):
            return units(kind)[text].symbol
    found = {
        unit.symbol
        for kind in kinds
        for name, unit in units(kind).items()
        if name.casefold() == text.casefold()
    }
    return next(iter(found)) if len(found) == 1 else ""


def _price_unit(text: str, currency: str) -> str:
    """`€/L` -> `EUR/L`, in the currency of the logbook; "?" where its sign is that of another, nothing for no price."""
    match = re.fullmatch(r"\s*([€£$]|[A-Za-z]{3})\s*(?:(?:/|per )\s*(.+?))?\s*", text)
    if match is None:
        return ""
    sign, per = match[1], match[2]
    if sign not in _CURRENCIES and sign.upper() != (currency or sign.upper()):
        return ""
    if sign not in _CURRENCIES and not currency and not (sign.isupper() or per):
        return ""
    unit = _unit(per, PER) if per else ""
    if per and not unit:
        return ""
    if sign in _CURRENCIES and currency not in _CURRENCIES[sign]:
        return OPEN
    return f"{currency or sign}/{unit}" if unit else currency or sign
