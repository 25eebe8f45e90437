"""What a shell completes beside commands and options: ids of the logbook one stands in, what can be added, keys, codes."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator, Mapping
from pathlib import Path
from typing import TypeAlias

import click

from generator.read.root import usual_logbook

Completer: TypeAlias = "Callable[[click.Context, click.Parameter, str], list[str]]"

_HEAD = 2_000  # bytes of a file in which its id is looked for
_OF_NEW: Mapping[str, tuple[str, ...]] = {
    "run": ("batches",),
    "test": ("batches", "lots", "offers"),
    "event": ("columns",),
    "draw": ("tanks",),
    "dip": ("tanks",),
}


def ids(*folders: str) -> Completer:
    """The ids in these folders of the logbook; in all of them where none is named."""

    def complete(context: click.Context, _: click.Parameter, typed: str) -> list[str]:
        return _begun(typed, (name for name, _ in _records(_logbook(context), folders or _kinds())))

    return complete


def ids_of_kind(context: click.Context, _: click.Parameter, typed: str) -> list[str]:
    """The ids that the kind of `new` goes to; none for a file of its own."""
    kind = context.params.get("kind")
    if kind == "price":
        from generator.records import SERIES

        return _begun(typed, SERIES)
    return _begun(typed, (name for name, _ in _records(_logbook(context), _OF_NEW.get(str(kind), ()))))


def lots_of_record(context: click.Context, _: click.Parameter, typed: str) -> list[str]:
    """The lots of a logbook, with the sign behind which an amount stands."""
    return _begun(typed, (f"{name}=" for name, _ in _records(_logbook(context), ("lots",))))


def codes(_: click.Context, __: click.Parameter, typed: str) -> list[str]:
    """The codes of problems."""
    from generator.explaining import explained

    return _begun(typed, explained())


def words_of_add(context: click.Context, _: click.Parameter, typed: str) -> list[str]:
    """What can be added to the record that is named; behind it the keys of that."""
    name = context.params.get("target")
    kind = next((kind for each, kind in _records(_logbook(context), _kinds()) if each == name), "")
    said = [word for word in context.params.get("words") or () if word]
    if not kind:
        return []
    named = bool(said) and "=" not in said[0]
    words = [] if said else _words_for(kind)
    return _begun(typed, [*words, *(f"{key}=" for key in _keys_behind(kind, said[0] if named else ""))])


def _words_for(kind: str) -> list[str]:
    """What one entry is called that can be added to a record of this kind, and the keys of its file."""
    from generator.records import KINDS
    from generator.validate.shape import keys_of
    from generator.writing.adding import LISTS

    return [word for word in dict.fromkeys((*LISTS[kind], *keys_of(KINDS[kind].model, ()))) if word]


def _keys_behind(kind: str, what: str) -> list[str]:
    """The keys that are said of what is added; of an event those that any has; none where it is one value."""
    from generator.records import KINDS
    from generator.validate.shape import at, keys_of, names
    from generator.writing.adding import LISTS
    from generator.writing.typed import parts_of

    model = KINDS[kind].model
    path = LISTS[kind].get(what) or (parts_of(what) if what else ())
    if not path:
        return []
    branches = at(model, (*path, 0))
    if isinstance(branches, tuple):
        return [*dict.fromkeys(key for branch in branches for key in names(branch))]
    return keys_of(model, path) or keys_of(model, (*path, 0))


def _logbook(context: click.Context) -> Path:
    given = context.params.get("logbook")
    return given if isinstance(given, Path) else usual_logbook()


def _kinds() -> tuple[str, ...]:
    from generator.records import KINDS

    return tuple(KINDS)


def _records(root: Path, folders: Iterable[str]) -> Iterator[tuple[str, str]]:
    """Each id with its folder, by name; read from the head of each file, as a shell does not wait for a check."""
    from generator.records import KINDS

    for folder in folders:
        says = re.compile(rf"^{KINDS[folder].key}: *[\"']?([A-Za-z0-9-]+)".encode(), re.MULTILINE)
        for path in sorted((root / folder).rglob("*.yaml")):
            try:
                with path.open("rb") as file:
                    found = says.search(file.read(_HEAD))
            except OSError:
                continue
            if found is not None:
                yield found[1].decode(), folder


def _begun(typed: str, known: Iterable[str]) -> list[str]:
    return [word for word in known if word.startswith(typed)]
