"""What is asked of a record or an entry to come, with the unit, and whether an answer fits the grammar."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from generator.log import Log
from generator.problems import Place, visible
from generator.records import Batch, PriceSeries, Purifier, Record, Tank, Workshop
from generator.validate.answer import Fault, Slot, branch_keys, fault_of, slot_of
from generator.validate.checks.references import unknown
from generator.writing.batch import RECORDS
from generator.writing.own_units import example
from generator.writing.scalars import Value, flow
from generator.writing.typed import parts_of, typed_at

# kind of entry -> the record it goes to and its list there
ENTRIES: Mapping[str, tuple[type[Record], str]] = {
    "run": (Batch, "polish"),
    "event": (Purifier, "history"),
    "draw": (Tank, "history"),
    "dip": (Tank, "history"),
    "test": (Batch, "tests"),
    "price": (PriceSeries, "series"),
}
_ASKED: Mapping[str, tuple[str, ...]] = {
    "batch": (
        "date",
        "oil",
        "titration.sample",
        "titration.blank",
        "titration.readings",
        "water.value",
        "note",
    ),
    "lot": ("material", "vat", "lot", "received", "source", "quantity", "paid", "freight", "note"),
    "vat": ("material", "vat", "lot", "received", "holds", "note"),
    "offer": ("source", "material", "offered", "valid_until", "quantity", "asked", "distance", "note"),
    "run": ("purifier", "start", "end", "volume"),
    "event": ("event",),
    "draw": ("date", "draw", "to", "use"),
    "dip": ("date", "dip"),
    "test": ("date", "property", "value", "method", "laboratory"),
    "price": ("date", "value"),
}
# key -> how an answer is written, with its unit
_WRITTEN: Mapping[str, str] = {
    "acid": "mL",
    "asked": "price with its unit, such as 0.40 EUR/L",
    "basis": "as supplied, or dry",
    "bed": "L",
    "blank": "mL",
    "date": "year-month-day",
    "dip": "cm",
    "distance": "one way, km",
    "drained": "L",
    "draw": "volume with its temperature, such as 40 L at 12 °C",
    "event": "pack, rinse, regenerate, rest, unload or rotate",
    "end": "year-month-dayThour:minute, such as 2026-03-15T11:45",
    "expected": "L",
    "holds": "volume when it is full, such as 1000 L",
    "freight": "whole amount, such as 12.00 EUR",
    "laboratory": "true if a laboratory found it",
    "mass": "kg",
    "offered": "year-month-day",
    "paid": "price, such as 0.40 EUR/L or 82.00 EUR",
    "quantity": "volume with its temperature, such as 410 L at 14 °C, or kg",
    "readings": "mL each, parted by commas: 2.4 mL, 2.5 mL",
    "received": "year-month-day",
    "sample": "mL or g",
    "spent": "true or false",
    "start": "year-month-dayThour:minute, such as 2026-03-15T09:10",
    "until": "year-month-day, or with a time",
    "valid_until": "year-month-day",
    "vat": "true for a vessel that other lots are poured into",
    "volume": "volume with its temperature, such as 190 L at 22 °C",
    "with": "{lot: ..., volume: ... L}, or the other vessel",
}
MOST_CHOICES = 12  # names that are listed before a question
_NEEDED = (
    "quantity",
    "asked",
    "draw",
    "dip",
    "value",
    "event",
    "vessel",
    "material",
    "property",
    "medium",
    "reason",
    "start",
    "end",
)


@dataclass(frozen=True, slots=True)
class Question:
    """One value that is asked for: its dotted key, what is said of it, and what stands there if nothing is answered."""

    key: str
    text: str
    usual: str = ""
    is_needed: bool = False


def questions(kind: str, data: Mapping[str, Value], settings: Workshop) -> list[Question]:
    """What is asked for a kind, in the order of the work; `data` is what stands there so far, examples are as the workshop writes."""
    out = []
    for key in _ASKED["vat" if kind == "lot" and data.get("vat") == "true" else kind]:
        listed = data.get(key)
        if key == "oil" and isinstance(listed, list):
            out += [_of_lot(number, use, settings) for number, use in enumerate(listed)]
        elif key != "oil":
            out.append(_question(key, listed, kind, settings))
    return out


def event_questions(event: str, data: Mapping[str, Value], settings: Workshop) -> list[Question]:
    """What is asked of one kind of event."""
    keys = [key for key in branch_keys(Purifier, ("history", 0), event) if key != "event"]
    return [_question(key, data.get(key), "event", settings) for key in keys]


def _question(key: str, there: Value | None, kind: str, settings: Workshop) -> Question:
    last = key.rsplit(".", 1)[-1]
    written = example(_WRITTEN.get(last, ""), settings)
    written = written or ("with its unit" if last == "value" else "")
    needed = "needed" if last in _NEEDED and kind in ("lot", "offer", *ENTRIES) and not there else ""
    told = "; ".join(text for text in (written, needed) if text)
    usual = there if isinstance(there, str) else flow(there) if there else ""
    text = f"{key.replace('.', ' ').replace('_', ' ')}{f' ({told})' if told else ''}"
    return Question(key, text, usual, bool(needed))


def _of_lot(number: int, use: Any, settings: Workshop) -> Question:
    name = "volume" if "volume" in use else "mass"
    return Question(
        f"oil.{number}.{name}", f"oil from {use['lot']} ({example(_WRITTEN[name], settings)})", use[name]
    )


def choices(log: Log, key: str) -> list[str]:
    """What an answer that names another record may name; empty where it is no name, or where there are too many to read."""
    known = sorted(_named_by(log).get(key, ()))
    if key == "medium":
        known = [name for name in known if log.materials[name].record.kind == "medium"]
    return known if len(known) <= MOST_CHOICES else []


def known_id(log: Log, key: str, text: str) -> Fault | None:
    """Why an answer that names another record names none; None where it does, or where the answer is no name."""
    table = _named_by(log).get(key)
    if table is None or text in table:
        return None
    told = unknown("purifier" if key == "purifier" else "material", visible(text)[:64], Place(""), table)
    return Fault(told.message, told.hint)


def answered(
    kind: str, key: str, text: str, told: Mapping[str, str], context: Mapping[str, str]
) -> str | Fault:
    """An answer as it is kept, or why it does not fit the grammar. `told` are the answers before it."""
    if kind == "event" and key == "event":
        known = branch_keys(Purifier, ("history", 0), text)
        return text if known else Fault(f"'{visible(text)[:40]}' is no event", f"write {_WRITTEN[key]}")
    model, path = _place_of(kind, key, told)
    if kind == "test" and key == "value" and "property" in told:
        found = fault_of(model, path[:-2], [{"property": told["property"], "value": text}], context)
        return found or text
    value = typed_at(model, path, text)
    if isinstance(value, Fault):
        return value
    return fault_of(model, path, value, context) or (text if isinstance(value, str) else flow(value))


def fitting(kind: str, answers: Mapping[str, str], context: Mapping[str, str]) -> dict[str, str]:
    """The answers that have a place in a record or entry of this kind, and fit it; any other would be refused each time anew."""
    return {
        key: text
        for key, text in answers.items()
        if isinstance(slot_of(*_place_of(kind, key, answers)), Slot)
        and not isinstance(answered(kind, key, text, answers, context), Fault)
    }


def _place_of(kind: str, key: str, told: Mapping[str, str]) -> tuple[type[Record], tuple[str | int, ...]]:
    """The grammar and the place in it that a key of a kind stands for; of an event its name says which keys there are."""
    if kind in RECORDS:
        return RECORDS[kind], parts_of(key)
    model, there = ENTRIES[kind]
    inner = parts_of(key)
    return model, (there, 0, *((told.get("event", ""), *inner) if kind == "event" else inner))


def _named_by(log: Log) -> Mapping[str, Mapping[str, object]]:
    """The records that an answer to a key names."""
    return {"material": log.materials, "medium": log.materials, "purifier": log.purifiers}
