"""A log without what is private: what the shared site is made from, before a ledger is folded.

`data/public.yaml` lists what may pass. Private batches, plans, lots, tanks, offers, prices and pages are gone; of the rest
the keys in the list are kept, and any other has the value it has where nobody writes it.
"""

from __future__ import annotations

import functools
from collections.abc import Callable, Mapping
from datetime import date
from typing import Any

from generator.data import rows
from generator.log import Entry, Log
from generator.read.document import Document
from generator.records import Batch, Lot, Record, Recovered, Titrant, Unload, Use, Workshop

# what stands for a private key that a record cannot do without
UNWRITTEN: Mapping[tuple[type[Record], str], Any] = {(Workshop, "timezone"): "UTC", (Unload, "reason"): ""}
# the keys that name a lot
OF_LOTS: Mapping[type[Record], str] = {Use: "lot", Titrant: "lot", Recovered: "into"}


@functools.cache
def public_keys() -> Mapping[str, frozenset[str]]:
    """The keys that may pass, by the name of their record."""
    return {name: frozenset(keys) for name, keys in rows("public").items()}


def without_private(log: Log) -> Log:
    """The log as if nobody had written what is private; no sum, order, count or latest day over it holds any of it."""
    stands_for = _aliases(log)
    batches = without_private_batches(log)
    return Log(
        workshop=_entry(log.workshop, stands_for),
        materials={name: _entry(entry, stands_for) for name, entry in log.materials.items()},
        lots=_stores(log, stands_for),
        batches={name: _entry(entry, stands_for) for name, entry in batches.items()},
        purifiers={name: _entry(entry, stands_for) for name, entry in log.purifiers.items()},
        pages={name: page for name, page in log.pages.items() if page.public},
        as_of=log.as_of,
    )


def batches_as_bare(log: Log) -> Callable[[Entry[Batch]], Entry[Batch]]:
    """What makes of a version of a batch one in which nobody wrote what is private."""
    stands_for = _aliases(log)
    return lambda entry: _entry(entry, stands_for)


def without_private_batches(log: Log) -> dict[str, Entry[Batch]]:
    """The batches that anybody may know of."""
    return {name: entry for name, entry in log.batches.items() if not entry.record.private}


def _aliases(log: Log) -> dict[str, str]:
    """What stands for each lot."""
    return {name: _alias(entry.record) for name, entry in log.lots.items()}


def _alias(lot: Lot) -> str:
    """What stands for a lot: its material, and behind it the alias that the maker gave it and the note for everyone."""
    return "\0".join(part for part in (lot.material, lot.code, lot.public_note) if part)


def _stores(log: Log, stands_for: Mapping[str, str]) -> dict[str, Entry[Lot]]:
    """One lot for each of these, of which nothing else is known."""
    of = {stands_for[name]: entry.record for name, entry in log.lots.items()}
    return {
        name: _unplaced(
            name,
            Lot.model_construct(
                lot=name,
                material=lot.material,
                code=lot.code,
                public_note=lot.public_note,
                received=date.min,
                recovered=True,
            ),
        )
        for name, lot in sorted(of.items(), key=lambda item: item[0])
    }


def _entry(entry: Entry[Any], stands_for: Mapping[str, str]) -> Entry[Any]:
    return _unplaced(entry.id, _bare(entry.record, stands_for))


def _unplaced(name: str, record: Any) -> Entry[Any]:
    """A record whose file nobody may see."""
    return Entry(name, record, Document("", None, {}))


def _bare(value: Any, stands_for: Mapping[str, str]) -> Any:
    """A value with its public keys alone, lots by what stands for them."""
    if isinstance(value, tuple):
        return tuple(_bare(each, stands_for) for each in value)
    if not isinstance(value, Record):
        return value
    kind = type(value)
    public, changed = public_keys().get(kind.__name__, frozenset()), {}
    for name, field in kind.model_fields.items():
        own = getattr(value, name)
        if OF_LOTS.get(kind) == name:
            changed[name] = stands_for.get(own, own) if own is not None else None
        elif (field.alias or name) in public:
            changed[name] = _bare(own, stands_for)
        else:
            changed[name] = (
                UNWRITTEN[kind, name] if field.is_required() else field.get_default(call_default_factory=True)
            )
    return value.model_copy(update=changed)
