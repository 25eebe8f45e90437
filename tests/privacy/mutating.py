"""Changes of what is private, made from the grammar itself: every key of every record that `data/public.yaml` does not name.

A key that a later version adds is changed too without a word here: what may be written in it is tried from a pool of values,
and one that takes none of them fails the test that looks for it.
"""

from __future__ import annotations

import copy
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from generator.build import computed
from generator.compute.bare import OF_LOTS
from generator.compute.opened import public_keys
from generator.kept import Kept
from generator.read.document import Document
from generator.read.folder import Folder, read_folder
from generator.records import KINDS, Materials, Record, Workshop
from generator.render.tree import rendered
from generator.validate.grammar import record_of
from generator.validate.logbook import check, context_of
from tests.hostile.books import PLAIN, write
from tests.logbook_files import logbook

Place = tuple[str | int, ...]
POOL: tuple[Any, ...] = (
    "other words", "true", "7.5 kg", "3 L at 15 °C", "17 L", "41 km", "3 h", "19 kWh", "31 %", "7 mg/kg", "3.5 mg KOH/g", "2 cm",
    "2026-01-06", "2026-01-09", "91.00 EUR", "0.91 EUR/L", "9.10 EUR/kg", "9.10 EUR/h", "0.91 EUR/km", "7.3 mL", "Asia/Tokyo", "soap",
    "16 °C", {"kind": "hemispherical"}, "FIFO", "koh-1", "oil-1", "oil-0001", "tank-1", "tank-0001", ["other words"], ["oil"], "23", "2", {},
    {"distance": "41 km"}, {"catalyst": "koh-1"}, {"catalyst": "koh-0001"}, {"lot": "meoh-1", "volume": "1 L"}, {"lot": "meoh-0001", "volume": "1 L"},
)  # fmt: skip


@dataclass(frozen=True)
class Site:
    """A private key of one record: its file, the way to the record, the record's kind, the key, whether it can be left out."""

    file: str
    path: Place
    kind: str
    key: str
    required: bool


class Book:
    """A logbook in memory, of which copies are changed."""

    def __init__(self, root: Path, cache: Path) -> None:
        self.folder = read_folder(root)
        self.cache = Kept(cache)
        self.plain = self.tree(self.folder)

    def copied(self) -> Folder:
        return copy.deepcopy(self.folder)

    def tree(self, folder: Folder) -> dict[str, bytes]:
        """The shared site."""
        checked = check(folder)
        assert checked.fit, [problem.message for problem in checked.problems if problem.is_error]
        site = computed(folder, checked, "shared")
        return dict(rendered(site.results, site.pages, site.widened, len(checked.problems), self.cache))


def two_books(folder: Path) -> list[Book]:
    """A logbook with every kind of record and of event, and one of two batches that can be worked out by hand."""
    kinds = write(folder / "kinds" / "logbook", [PLAIN, PLAIN])
    return [Book(kinds, folder / "cache"), Book(logbook(folder), folder / "cache")]


def fit(folder: Folder) -> bool:
    """Whether it is without an error, so that a site would be built."""
    return check(folder).fit


def documents(folder: Folder) -> Iterator[tuple[type[Record], Document]]:
    if folder.workshop is not None:
        yield Workshop, folder.workshop
    for name, listed in folder.documents.items():
        for document in listed:
            yield (Materials if name == "materials" else KINDS[name].model), document


def sites(folder: Folder) -> list[Site]:
    """Every private key of every record, written or not."""
    assert folder.workshop is not None
    context = context_of(folder.workshop)
    found = []
    for model, document in documents(folder):
        record, problems = record_of(model, document, context)
        assert record is not None, problems
        found += list(_walk(document.file, (), record, document.data, {}))
    return found


def _walk(file: str, path: Place, value: Any, data: Any, _: Mapping[str, Any]) -> Iterator[Site]:
    if isinstance(value, Mapping) and isinstance(data, Mapping):
        for name, each in value.items():
            yield from _walk(file, (*path, name), each, data[name], {})
    elif isinstance(value, tuple) and isinstance(data, list):
        for number, each in enumerate(value):
            yield from _walk(file, (*path, number), each, data[number], {})
    elif isinstance(value, tuple) and len(value) == 1:  # one entry, written without its list
        yield from _walk(file, path, value[0], data, {})
    elif isinstance(value, Record) and isinstance(data, Mapping):
        kind = type(value)
        public = public_keys().get(kind.__name__, frozenset())
        for name, field in kind.model_fields.items():
            key = field.alias or name
            if key in data:  # first, as a key that is taken away takes with it what is in it
                yield from _walk(file, (*path, key), getattr(value, name), data[key], {})
            if kind is not Materials and key not in public and OF_LOTS.get(kind) != name:
                yield Site(file, path, kind.__name__, key, field.is_required())


def observed(folder: Folder) -> dict[tuple[str, str], list[Any]]:
    """What is written in each private key somewhere in a logbook: a value of the right shape for the same key elsewhere."""
    data = {document.file: document.data for _, document in documents(folder)}
    out: dict[tuple[str, str], list[Any]] = {}
    for site in sites(folder):
        here = at(data[site.file], site.path)
        if site.key in here:
            out.setdefault((site.kind, site.key), []).append(here[site.key])
    return out


def at(data: Any, path: Place) -> Any:
    for part in path:
        data = data[part]
    return data


def change(folder: Folder, site: Site, value: Any) -> Folder | None:
    """A copy with this value in the key (None: without the key); None itself where that is no change or no good logbook."""
    changed = laid(folder, site, value)
    return changed if changed is not None and fit(changed) else None


def laid(folder: Folder, site: Site, value: Any) -> Folder | None:
    """The same where only the record itself was looked at; the logbook may not be fit."""
    ((model, document),) = [each for each in documents(folder) if each[1].file == site.file]
    other = copy.deepcopy(document)
    try:
        here = at(other.data, site.path)
    except (KeyError, IndexError, TypeError):
        return None  # an earlier change has taken it away
    if not isinstance(here, dict) or (value is None and (site.required or site.key not in here)):
        return None
    if value is not None and here.get(site.key) == value:
        return None
    if value is None:
        del here[site.key]
    else:
        here[site.key] = copy.deepcopy(value)
    changed = _with(folder, document, other)
    assert changed.workshop is not None
    record, _ = record_of(model, other, context_of(changed.workshop))
    return changed if record is not None else None


def _with(folder: Folder, old: Document, new: Document) -> Folder:
    """The same folder with one document in the place of another."""
    changed = copy.copy(folder)
    if folder.workshop is old:
        changed.workshop = new
    changed.documents = {
        name: [new if each is old else each for each in listed] for name, listed in folder.documents.items()
    }
    return changed


def different(one: dict[str, bytes], other: dict[str, bytes]) -> list[str]:
    return sorted(name for name in {*one, *other} if one.get(name) != other.get(name))
