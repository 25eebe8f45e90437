"""A log without what is private: what the shared site is made from, before a ledger is folded.

`data/public.yaml` lists what may pass. Private batches, plans, lots, tanks, offers, prices and pages are gone; of the rest
the keys in the list are kept, and any other has the value it has where nobody writes it. Columns that the settings make
public are made from a second log, in which the keys that these need are kept too.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterator, Mapping
from datetime import date
from typing import Any

from generator.compute.opened import Keys, public_keys
from generator.compute.reports import of_public
from generator.log import Entry, Log
from generator.read.document import Document
from generator.read.marks import NOWHERE
from generator.records import Batch, Lot, Record, Recovered, Titrant, Unload, Use, Workshop

# what stands for a private key that a record cannot do without
UNWRITTEN: Mapping[tuple[type[Record], str], Any] = {(Workshop, "timezone"): "UTC", (Unload, "reason"): ""}
# the keys that name a lot
OF_LOTS: Mapping[type[Record], str] = {Use: "lot", Titrant: "lot", Recovered: "into"}


class _Aliases(dict[str, str]):
    """What stands for each lot; of one that is not known its own name does."""

    def __missing__(self, lot: str) -> str:
        return lot


def without_private(log: Log) -> Log:
    """The log as if nobody had written what is private; no sum, order, count or latest day over it holds any of it."""
    keys, stands_for = public_keys(), _aliases(log)
    return Log(
        workshop=_entry(log.workshop, keys, stands_for),
        materials=_entries(log.materials, keys, stands_for),
        lots=_stores(log, stands_for),
        batches=_entries(without_private_batches(log), keys, stands_for),
        purifiers=_entries(log.purifiers, keys, stands_for),
        pages={name: page for name, page in log.pages.items() if page.public},
        as_of=log.as_of,
    )


def with_opened(log: Log, keys: Keys, as_of: date) -> Log:
    """The log with these keys alone, the public ones among them; it counts from the day of the shared site.

    Kinds of record of which no key is given are gone, and so are private batches and private reports. Lots have their own
    names where `Lot.lot` is given, else what stands for them.
    """
    named = "lot" in keys["Lot"]
    stands_for: Mapping[str, str] = _Aliases() if named else _aliases(log)
    planned = {name: entry for name, entry in log.planned.items() if not entry.record.private}
    return of_public(
        Log(
            workshop=_entry(log.workshop, keys, stands_for),
            materials=_entries(log.materials, keys, stands_for),
            lots=_entries(log.lots, keys, stands_for) if named else _stores(log, stands_for),
            batches=_entries(without_private_batches(log), keys, stands_for),
            planned=_entries(planned, keys, stands_for) if "plan" in keys["Batch"] else {},
            purifiers=_entries(log.purifiers, keys, stands_for),
            tanks=_entries(log.tanks, keys, stands_for) if "Tank" in keys else {},
            offers=_entries(log.offers, keys, stands_for) if "Offer" in keys else {},
            prices=_entries(log.prices, keys, stands_for) if "PriceSeries" in keys else {},
            as_of=as_of,
        )
    )


def batches_as_bare(log: Log) -> Callable[[Entry[Batch]], Entry[Batch]]:
    """What makes of a version of a batch one in which nobody wrote what is private."""
    stands_for = _aliases(log)
    return lambda entry: _entry(entry, public_keys(), stands_for)


def lots_named(value: Any) -> Iterator[str]:
    """Every lot that a record names."""
    if isinstance(value, tuple):
        for each in value:
            yield from lots_named(each)
    elif isinstance(value, Record):
        for name in type(value).model_fields:
            own = getattr(value, name)
            if OF_LOTS.get(type(value)) == name:
                yield from () if own is None else (own,)
            else:
                yield from lots_named(own)


def as_read_by(record: Record) -> Record:
    """A record as anyone may read it, and without the lots that it names."""
    return _bare(record, public_keys(), defaultdict(str))  # type: ignore[no-any-return]


def without_private_batches(log: Log) -> dict[str, Entry[Batch]]:
    """The batches that anybody may know of."""
    return {name: entry for name, entry in log.batches.items() if not entry.record.private}


def _aliases(log: Log) -> dict[str, str]:
    """What stands for each lot."""
    return _Aliases({name: _alias(entry.record) for name, entry in log.lots.items()})


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


def _entries(
    entries: Mapping[str, Entry[Any]], keys: Keys, stands_for: Mapping[str, str]
) -> dict[str, Entry[Any]]:
    return {name: _entry(entry, keys, stands_for) for name, entry in entries.items()}


def _entry(entry: Entry[Any], keys: Keys, stands_for: Mapping[str, str]) -> Entry[Any]:
    return _unplaced(entry.id, _bare(entry.record, keys, stands_for))


def _unplaced(name: str, record: Any) -> Entry[Any]:
    """A record whose file nobody may see."""
    return Entry(name, record, Document("", None, NOWHERE))


def _bare(value: Any, keys: Keys, stands_for: Mapping[str, str]) -> Any:
    """A value with these keys alone, lots by what stands for them."""
    if isinstance(value, tuple):
        return tuple(_bare(each, keys, stands_for) for each in value)
    if not isinstance(value, Record):
        return value
    kind = type(value)
    kept, changed = keys.get(kind.__name__, frozenset()), {}
    for name, field in kind.model_fields.items():
        own = getattr(value, name)
        if OF_LOTS.get(kind) == name:
            changed[name] = stands_for[own] if own is not None else None
        elif (field.alias or name) in kept:
            changed[name] = _bare(own, keys, stands_for)
        else:
            changed[name] = (
                UNWRITTEN[kind, name] if field.is_required() else field.get_default(call_default_factory=True)
            )
    return value.model_copy(update=changed)
