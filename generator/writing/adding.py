"""An addition to a record as it is said in one line -> its file, its place in it and its value.

`soap point=product acid='0.2 mL'` for a batch, `event=rinse vessel=B` for a purifier, `draw='40 L at 12 °C'` for a tank.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from typing import Any

from generator.log import Entry, Log
from generator.problems import did_you_mean, visible
from generator.records import KINDS, SERIES, Batch, Record, SoapSample
from generator.validate.answer import Fault, branch_keys, slot_of
from generator.validate.shape import keys_of, paths_to
from generator.writing.habits import likely_purifier, purifiers_of
from generator.writing.insert import Path
from generator.writing.meant import event_without_key, keyed, pair_without_what, without_target
from generator.writing.scalars import Value, flow
from generator.writing.typed import parts_of, said_in, typed

# what one entry is called -> the list it goes to; an empty word is what goes without saying
LISTS: Mapping[str, Mapping[str, Path]] = {
    "batches": {
        "soap": ("polish", -1, "soap"),
        "reading": ("polish", -1, "readings"),
        "run": ("polish",),
        "conversion": ("reaction", -1, "conversion"),
        "test": ("tests",),
        "cost": ("other_costs",),
        "credit": ("credits",),
    },
    "columns": {"": ("history",), "event": ("history",)},
    "tanks": {"": ("history",), "draw": ("history",), "dip": ("history",), "fill": ("history",)},
    "lots": {
        "test": ("tests",),
        "titration": ("tests",),
        "loss": ("losses",),
        "return": ("returns",),
        "count": ("counts",),
        "way": ("collected",),
        "filling": ("filled",),
    },
    "offers": {"test": ("tests",), "titration": ("tests",)},
    "prices": {"": ("series",), "value": ("series",)},
}
MOST_PLACES = 6  # named where a key stands elsewhere
_PAIR = re.compile(r"([A-Za-z][A-Za-z0-9_.]*)=(.*)", re.DOTALL)


@dataclass(frozen=True, slots=True)
class Target:
    """The record that is added to, the kind it is of, and what the entry is called."""

    kind: str
    entry: Entry[Any]
    what: str
    path: Path
    to_list: bool

    @property
    def model(self) -> type[Record]:
        """The grammar of its file."""
        return KINDS[self.kind].model


def target_of(log: Log, name: str, what: str, pairs: Mapping[str, str] | None = None) -> Target | Fault:
    """Find the record by its id and the place by its word, or say why there is none; `pairs` are what was said by key."""
    tables = {kind: log.tables[kind] for kind in LISTS}
    tables["batches"] = {**log.batches, **log.planned}
    kind = next((kind for kind, table in tables.items() if name in table), None)
    if kind is None:
        if name in SERIES:
            return Fault(f"no price of {name} is written yet", f"begin it: esterday new price {name} --ask")
        if name in LISTS["batches"] or name in keys_of(Batch, ()):
            return without_target(log, name)
        known = [key for table in tables.values() for key in table]
        hint = (
            did_you_mean(name, known) or "run 'esterday check': a record with an error is not found by its id"
        )
        return Fault(f"nothing here is called '{visible(name)[:64]}'", hint)
    entry = tables[kind][name]
    words = LISTS[kind]
    if what in words and (early := _too_early(entry.record, name, words[what])):
        return replace(early, hint=early.hint + _of_titration(entry, what))
    if what in words:
        return Target(kind, entry, what, words[what], True)
    model = KINDS[kind].model
    if not what:
        told = pair_without_what(model, name, tuple(words), pairs or {})
        return Fault(
            f"what is to be added to {name}?", told or f"name it: {', '.join(words)}, or a key of the file"
        )
    path = parts_of(what)
    slot = slot_of(model, path)
    if isinstance(slot, Fault):
        known = [word for word in (*words, *keys_of(model, ())) if word]
        elsewhere = [".".join(map(str, place)) for place in paths_to(model, str(path[-1]))][:MOST_PLACES]
        told = f"known here: {', '.join(known)}" if len(path) == 1 else slot.hint
        if elsewhere:
            return Fault(slot.message, f"it stands in: {', '.join(elsewhere)}")
        event = event_without_key(name, what) if kind == "columns" else ""
        return Fault(slot.message, event or did_you_mean(what, known) or told)
    return Target(kind, entry, what, path, slot.is_list)


def _too_early(record: Any, name: str, path: Path) -> Fault | None:
    """Why nothing can be added to the last run, or the last stage, of a batch that has none."""
    if len(path) == 1 or getattr(record, str(path[0])):
        return None
    if path[0] == "polish":
        return Fault(
            f"{name} has no run through a purifier yet", f"write the run first: esterday new run {name} --ask"
        )
    return Fault(f"{name} has no reaction yet", f"write it first: esterday record {name}")


@dataclass(frozen=True, slots=True)
class Said:
    """What was said of an addition: what it is called, the values as typed, those without and those with a key."""

    what: str
    words: tuple[str, ...]
    bare: tuple[str, ...]
    pairs: Mapping[str, str]


def said(words: Sequence[str]) -> Said | Fault:
    """Part `soap point=product acid='0.2 mL'` into what it is, bare values, and values by key, each said once."""
    named = bool(words) and _PAIR.fullmatch(words[0]) is None
    rest = tuple(words[1:] if named else words)
    bare = tuple(word for word in rest if _PAIR.fullmatch(word) is None)
    pairs: dict[str, str] = {}
    for key, value in (found.groups() for word in rest if (found := _PAIR.fullmatch(word))):
        if key in pairs:
            told = f"{key} is said twice: '{pairs[key][:64]}', and '{value[:64]}'"
            return Fault(visible(told), "say it once; several values with commas between them")
        pairs[key] = value
    return Said(words[0] if named else "", rest, bare, pairs)


def value_of(
    target: Target, told: Said, usual: Mapping[str, str], context: Mapping[str, str]
) -> Value | Fault:
    """The value that is added, keys in the order of the grammar; `usual` fills what was not said. `context` as for a record."""
    name, bare, pairs = target.what, told.bare, told.pairs
    if target.kind in ("tanks", "prices") and name and len(bare) == 1:
        pairs, bare = {name: bare[0], **pairs}, ()
    if _titrates(target):
        if not told.bare and not pairs:
            return Fault(
                "no reading is said", "write them with the blank: titration '3.4 mL' '3.5 mL' blank='0.1 mL'"
            )
        pairs, bare = _within_titration(bare, pairs), ()
    elif target.path == ("titration",) and bare:
        pairs, bare = {"readings": ", ".join(bare), **pairs}, ()
    slot = slot_of(target.model, target.path)
    assert not isinstance(slot, Fault)
    if not slot.keys and target.kind != "columns":
        if len(told.words) == 1:
            return typed(told.words[0])
        more = " ".join(told.words) or "VALUE"
        hint = (
            f"add one at a time: {name} VALUE" if slot.is_list else f"put quotes around it: {name} '{more}'"
        )
        return Fault(f"one value is wanted for {name}", visible(hint))
    event = pairs.get("event", "")
    order = slot.keys or branch_keys(target.model, (*target.path, 0), event)
    keys = ", ".join(order) or "event, vessel, date"
    if bare or not pairs:
        message = f"'{visible(bare[0])[:64]}' has no key" if bare else f"nothing is said of {name or 'it'}"
        place = _place(target, event)
        meant = keyed(target.model, place, order, " ".join(bare), context) if bare else ""
        return Fault(
            message,
            f"{f'write {meant}; or ' if meant else 'write '}KEY=VALUE with these keys: {keys}{_listed(target, order, event)}{_of_titration(target.entry, name)}",
        )
    known = {key: typed(text) for key, text in usual.items()}
    found = said_in(target.model, known, pairs, _place(target, event))
    return found if isinstance(found, Fault) else _in_order(found, order)


def _titrates(target: Target) -> bool:
    """Whether a titration is added among the tests of a lot or an offer."""
    return target.what == "titration" and target.path == ("tests",)


def _within_titration(bare: Sequence[str], pairs: Mapping[str, str]) -> dict[str, str]:
    """What was said of a titration as keys of the test that holds it; values without a key are readings."""
    found = {key if key == "date" else f"titration.{key}": text for key, text in pairs.items()}
    return {"titration.readings": ", ".join(bare), **found} if bare else found


def _of_titration(entry: Entry[Any], what: str) -> str:
    """Where a reading goes that is none of a gauge: the burette's."""
    if what != "reading":
        return ""
    place = "titration.readings '2.4 mL'" if entry.record.titration else "titration readings='2.4 mL'"
    return f"; a reading of the titration: esterday add {entry.id} {place}"


def _place(target: Target, event: str) -> Path:
    """Where the keys of what is added stand in the record; of an event its name says which keys there are."""
    entry: Path = (0,) if target.to_list else ()
    return (*target.path, *entry, *((event,) if target.kind == "columns" else ()))


def _listed(target: Target, order: Sequence[str], event: str) -> str:
    """How a list among these keys is written, where there is one."""
    for key in order:
        slot = slot_of(target.model, (*_place(target, event), key))
        if not isinstance(slot, Fault) and slot.is_list and not slot.keys:
            return f"; several values with commas between them: {key}='ONE, TWO'"
    return ""


def _in_order(value: Mapping[str, Value], order: Sequence[str]) -> Value:
    rank = {key: number for number, key in enumerate(order)}
    return dict(sorted(value.items(), key=lambda item: rank.get(item[0], len(rank))))


def usual_of(log: Log, target: Target, pairs: Mapping[str, str], today: date) -> dict[str, str]:
    """What goes without saying: the day, and for a soap sample what the last one was done with."""
    if target.path[-1] == "soap":
        return _last_soap(log, target.entry.id, pairs.get("point", ""))
    if _titrates(target):
        kept = _last_of_oil(log) if not any(key.startswith("titrant") for key in pairs) else {}
        return {"date": today.isoformat(), **kept}
    if target.path == ("titration",) and not any(key.split(".")[0] == "titrant" for key in pairs):
        return _last_titration(log, target.entry)
    if target.path == ("polish",):
        purifier = likely_purifier(log, target.entry)
        return {"purifier": purifier} if purifier else {}
    if target.path == (
        "collected",
    ):  # a lot is fetched on the day it comes, and what is fetched later is said
        return {"date": target.entry.record.received.isoformat()}
    return {"date": today.isoformat()} if target.path[-1] in _DATED else {}


_DATED = ("tests", "losses", "returns", "counts", "filled", "history", "series")


def _last_soap(log: Log, batch: str, point: str) -> dict[str, str]:
    """Sample and strength as the last time at this point; the blank only from the same batch, for it is a reading."""
    own = log.batches.get(batch) or log.planned.get(batch)
    others = [entry for entry in reversed(log.batches_in_time()) if entry.id != batch]
    mine = list(_samples([own] if own is not None else []))
    found = {"blank": mine[0].blank.text} if mine else {}
    found |= {"normality": mine[0].normality.text} if mine else {}  # one bottle serves a batch
    for sample in (*mine, *_samples(others)):
        if sample.point == point:
            return {"normality": sample.normality.text, **found, "sample": sample.sample.text}
    return found


def _last_of_oil(log: Log) -> dict[str, str]:
    """Titrant and sample of the last titration of a lot, an offer or a batch, as a test holds them; never its blank."""
    found: list[tuple[date, Any]] = []
    entries: Iterator[Entry[Any]] = iter((*log.lots.values(), *log.offers.values()))
    for entry in entries:
        for number, test in enumerate(entry.record.tests):
            if test.titration is not None and test.date is not None:
                found.append((test.date, entry.document.data["tests"][number]["titration"]))
    for batch in log.batches_in_time():
        if batch.record.titration is not None:
            found.append((batch.record.date, batch.document.data["titration"]))
    if not found:
        return {}
    last = max(found, key=lambda each: each[0])[1]
    return {"titration": flow({key: last[key] for key in ("titrant", "sample")})}


def _last_titration(log: Log, batch: Entry[Batch]) -> dict[str, str]:
    """Titrant and sample as the last time for this purifier; the blank and the readings are for today's oil alone."""
    purifier = likely_purifier(log, batch)
    for entry in reversed(log.batches_in_time()):
        last = entry.record.titration
        if last is not None and entry.id != batch.id and purifier in (*purifiers_of(entry.record), ""):
            return {"titrant": flow(entry.document.data["titration"]["titrant"]), "sample": last.sample.text}
    return {}


def _samples(entries: Sequence[Entry[Batch]]) -> Iterator[SoapSample]:
    """All soap samples, the last one first."""
    for entry in entries:
        for run in reversed(entry.record.polish):
            yield from reversed(run.soap)
