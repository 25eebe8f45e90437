"""Which files beside batches stand here otherwise than in the last commit; for the shared site by what of them is public.

A lot or a material of which nothing public is made tells nothing, and no more does the id of one.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from pathlib import PurePosixPath
from typing import Any

from generator.compute.bare import as_read_by, lots_named
from generator.compute.old_documents import documents_of
from generator.language import term
from generator.log import Log
from generator.read.document import MAX_BYTES, Document
from generator.read.folder import PAGES
from generator.read.git import Past, contents
from generator.read.root import WORKSHOP
from generator.read.text import decoded
from generator.records import KINDS, Lot, Materials, Medium, Record, Workshop
from generator.validate.grammar import record_of
from generator.validate.logbook import context_of

SETTINGS, MATERIALS, LOTS, COLUMNS = "settings", "materials", "lots", "columns"
# folders of which something is public, with how each is told
PUBLIC = {
    SETTINGS: term("the settings"),
    MATERIALS: term("materials"),
    LOTS: term("lots"),
    COLUMNS: term("the columns"),
}
PRIVATE = {"tanks": term("tanks"), "offers": term("offers"), "prices": term("prices")}
TEXTS = term("texts of pages")
Documents = Mapping[str, Document]


def uncommitted(log: Log, found: Past, *, shared: bool) -> Iterator[str]:
    """What stands here otherwise than it was committed, beside batches, by kind; of pages of free text those that are shown."""
    head = _committed(found)
    context = context_of(log.workshop.document)
    now = _here(log)
    for kind in now:
        if _plain(now[kind]) == _plain(head[kind]):
            continue
        if not shared:
            yield {**PUBLIC, **PRIVATE}[kind]
        elif kind in PUBLIC and _differ(log, kind, *(_seen(kind, each, context) for each in (head, now))):
            yield PUBLIC[kind]

    told = {name: page.text for name, page in log.pages.items() if page.public or not shared}
    texts = _texts(found) if told else {}
    if any(texts.get(name) != text for name, text in told.items()):
        yield TEXTS


def _texts(found: Past) -> dict[str, str]:
    """What stood below the head of each page of free text in the last commit, by its name."""
    blobs = {
        path.stem: versions[-1].blob
        for path, versions in ((PurePosixPath(file), versions) for file, versions in found.versions.items())
        if path.parts[0] == PAGES and path.suffix == ".md" and versions[-1].blob
    }
    old = dict(contents(found, blobs.values(), MAX_BYTES))
    read = {name: decoded(name, old[blob]) for name, blob in blobs.items() if blob in old}
    return {name: text.partition("\n---\n")[2] for name, (text, refused) in read.items() if not refused}


def _plain(documents: Documents) -> dict[str, Any]:
    return {file: document.data for file, document in documents.items()}


def _here(log: Log) -> dict[str, Documents]:
    """The documents that the log was read from, by kind and file."""
    materials = {entry.document.file: entry.document for entry in log.materials.values()}
    tables = {kind: entries for kind, entries in log.tables.items() if kind != "batches"}
    return {
        SETTINGS: {WORKSHOP: log.workshop.document},
        MATERIALS: materials,
        **{
            kind: {entry.document.file: entry.document for entry in entries.values()}
            for kind, entries in tables.items()
        },
    }


def _committed(found: Past) -> dict[str, dict[str, Document]]:
    """The same as it was committed last; what cannot be read is as good as none."""
    out: dict[str, dict[str, Document]] = {kind: {} for kind in (*PUBLIC, *PRIVATE)}
    last = {name: versions[-1:] for name, versions in found.versions.items() if _kind(name) in out}
    for (name, _), document in documents_of(found, last).items():
        out[_kind(name)][name] = document
    return out


def _kind(name: str) -> str:
    """What a file is told as; "" where it is none that is read."""
    if name == WORKSHOP:
        return SETTINGS
    hidden = any(part.startswith(".") for part in name.split("/"))
    return name.partition("/")[0] if name.endswith(".yaml") and "/" in name and not hidden else ""


def _seen(kind: str, files: Mapping[str, Documents], context: Mapping[str, str]) -> dict[str, object]:
    """What anyone may see of the records of a kind, by id; of a lot what it is of, and not by which id that goes."""
    found: dict[str, object] = {}
    materials = _seen(MATERIALS, files, context) if kind == LOTS else {}
    for document in files[kind].values():
        record, _ = record_of(_model(kind), document, context)
        if isinstance(record, Materials):
            found |= {name: as_read_by(each) for name, each in record.materials.items()}
        elif isinstance(record, Lot):
            found[record.lot] = (materials.get(record.material), record.code, record.public_note)
        elif record is not None:
            found[str(getattr(record, KINDS[kind].key) if kind in KINDS else "")] = as_read_by(record)
    return found


def _model(kind: str) -> type[Record]:
    return Workshop if kind == SETTINGS else Materials if kind == MATERIALS else KINDS[kind].model


def _differ(log: Log, kind: str, head: Mapping[str, object], here: Mapping[str, object]) -> bool:
    if kind in (SETTINGS, COLUMNS):
        return head != here
    names = _named(log) & set(head) & set(here)
    return any(head[name] != here[name] for name in names)


def _named(log: Log) -> set[str]:
    """The lots and materials that something public is made with."""
    public = [entry.record for entry in log.batches.values() if not entry.record.private]
    lots = {name for record in public for name in lots_named(record)} & set(log.lots)
    media = {name for name, entry in log.materials.items() if isinstance(entry.record, Medium)}
    return lots | {log.lots[name].record.material for name in lots} | media
