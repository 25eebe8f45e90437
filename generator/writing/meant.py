"""What was probably meant by an addition that cannot be taken as it was typed, as the words that are typed instead."""

from __future__ import annotations

import shlex
from collections.abc import Mapping, Sequence

from generator.log import Entry, Log
from generator.problems import visible
from generator.records import Batch, Purifier, Record
from generator.validate.answer import Fault, branch_keys, keys_that_take, slot_of
from generator.validate.shape import keys_of
from generator.writing.insert import Path
from generator.writing.typed import parts_of

_LONGEST = 40  # signs of what was typed that are said again


def without_target(log: Log, what: str) -> Fault:
    """What is added stands first, and nothing says which batch it is of."""
    found = [*log.batches_in_time(), *log.planned_in_time()]
    last = max(found, key=lambda entry: entry.record.date).id if found else "BATCH"
    return Fault(
        f"'{visible(what)}' is what is added, and the batch is not said",
        f"put its id before: esterday add {shlex.quote(last)} {what} ...",
    )


def event_without_key(name: str, what: str) -> str:
    """An event is a word of its own where its key goes before; empty where the word is none."""
    is_event = bool(branch_keys(Purifier, ("history", 0), what))
    return f"write esterday add {shlex.quote(name)} event={what} ..." if is_event else ""


def pair_without_what(model: type[Record], name: str, words: Sequence[str], pairs: Mapping[str, str]) -> str:
    """A key of the file, or what one entry of a list is called, was written with a sign between it and its value."""
    for key, text in pairs.items():
        if key in words:
            return f"say what it is, then its keys: esterday add {shlex.quote(name)} {key} KEY=VALUE"
        slot = slot_of(model, parts_of(key))
        if not isinstance(slot, Fault) and not slot.keys:
            value = shlex.quote(visible(text)[:_LONGEST])
            return f"key and value are two words: esterday add {shlex.quote(name)} {key} {value}"
    return ""


def keyed(
    model: type[Record], place: Path, order: Sequence[str], bare: str, context: Mapping[str, str]
) -> str:
    """The keys of a group that a value without one fits, as they are typed; a group in it is looked into."""
    inner: list[str] = []
    for key in order:
        below = keys_of(model, (*place, key))
        inner += [f"{key}.{each}" for each in below] if below else [key]
    fit = keys_that_take(model, place, inner, bare, context)
    value = shlex.quote(visible(bare)[:_LONGEST])
    return " or ".join(f"{key}={value}" for key in fit[:3])


def which_of_many(batch: Entry[Batch], path: Path) -> str:
    """Which run, or stage, of several an addition went to, and how the first is named; empty where it is said, or the only one."""
    one = {"polish": "run", "reaction": "stage"}.get(str(path[0]), "")
    is_run = path == ("polish",)
    if not one or not (is_run or -1 in path):
        return ""
    count = len(getattr(batch.record, str(path[0]))) + is_run
    if count < 2:
        return ""
    inner = "soap" if is_run else path[-1]
    return f", {one} {count} of {count}; for the first: esterday add {batch.id} {path[0]}.0.{inner} KEY=VALUE"
