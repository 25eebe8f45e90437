"""Logbooks of each format that ever was, with the figures they gave, and the words and units the grammar took.

`format-N/logbook` uses every key of its format. An old logbook must keep reading the same: after a change that adds a key, a
word or a column, add it there and write the rest anew with `python -m tests.frozen.freezing`, then look at the difference:
nothing that was there may go, and no figure may move unless it was wrong before.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator
from pathlib import Path
from typing import Any, Literal, get_args, get_origin

from pydantic import BaseModel

from generator import data
from generator.compute.frames import plain_columns
from generator.compute.tally import tally
from generator.properties import properties
from generator.read.document import Document
from generator.read.folder import Folder
from generator.render.exports import csv_bytes
from generator.schema import MODELS
from generator.tables import ALL
from generator.units import units
from generator.validate.logbook import checked_folder
from generator.validate.shape import bare, fields_of, tagged

HERE = Path(__file__).parent
FORMATS = sorted(path for path in HERE.iterdir() if path.name.startswith("format-"))


def tables(logbook: Path) -> dict[str, list[dict[str, str]]]:
    """Every table of the workshop as its CSV holds it, by name; raises AssertionError where the logbook has an error."""
    _, checked = checked_folder(logbook)
    assert checked.fit and checked.ledgers is not None, [str(one) for one in checked.problems if one.is_error]
    frames = tally(checked.ledgers).frames
    return {table.name: rows(csv_bytes(table, plain_columns(frames[table.name])).decode()) for table in ALL}


def rows(text: str) -> list[dict[str, str]]:
    """The rows of a CSV by column."""
    return list(csv.DictReader(io.StringIO(text, newline="")))


def all_keys() -> set[str]:
    """Every key of every record of the grammar, as `Record.key`."""
    return {f"{model.__name__}.{key}" for model in _models(list(MODELS.values())) for key in _by_key(model)}


def used_keys(folder: Folder) -> set[str]:
    """The keys that a logbook writes, as `Record.key`."""
    assert folder.workshop is not None
    documents: list[tuple[str, Document]] = [("logbook", folder.workshop)]
    documents += [(name, each) for name, found in folder.documents.items() for each in found]
    documents += [("pages", note.head) for note in folder.pages]
    return {key for kind, each in documents for key in _used(MODELS[kind], each.data)}


def words() -> list[str]:
    """What the grammar takes beside keys: the words of each choice, units, properties and their words."""
    out = [
        f"{model.__name__}.{key} = {word}"
        for model in _models(list(MODELS.values()))
        for key, field in _by_key(model).items()
        for read in (field.annotation, *field.metadata)
        for word in _words(read)
    ]
    out += [f"unit {symbol} = {kind}" for kind in kinds() for symbol in units(kind)]
    out += [
        f"property {name} = {word}" for name, row in properties().items() for word in (row.kinds or row.words)
    ]
    return sorted(set(out))


def kinds() -> Iterator[str]:
    """Every kind of quantity."""
    yield from data.rows("units")


def _words(annotation: Any) -> Iterator[str]:
    """The words of a choice, however deep it stands: in a list, beside None, as the tag of a record."""
    yield from getattr(getattr(annotation, "func", None), "words", ())
    if get_origin(annotation) is Literal:
        yield from get_args(annotation)
        return
    for part in (*get_args(annotation), *getattr(annotation, "__metadata__", ())):
        yield from _words(part)


def _by_key(model: type[BaseModel]) -> dict[str, Any]:
    return {field.alias or name: field for name, field in fields_of(model).items()}


def _models(todo: list[Any]) -> list[type[BaseModel]]:
    seen: list[type[BaseModel]] = []
    while todo:
        here = bare(todo.pop())
        if isinstance(here, tuple):
            todo += here
        elif fields_of(here):
            if here not in seen:
                seen.append(here)
                todo += [field.annotation for field in fields_of(here).values()]
        else:
            todo += get_args(here)
    return seen


def _used(annotation: Any, value: Any) -> Iterator[str]:
    here = bare(annotation)
    if isinstance(here, tuple):  # a union of records, or of plain types
        tags = [word for word in value.values() if isinstance(word, str)] if isinstance(value, dict) else []
        here = next((branch for branch in here if any(tagged(branch, tag) for tag in tags)), None)
    inner = [each for each in get_args(here) if each is not Ellipsis]
    if fields_of(here) and isinstance(value, dict):
        known = _by_key(here)
        for key, below in value.items():
            yield f"{here.__name__}.{key}"
            yield from _used(known[key].annotation, below)
    elif inner and isinstance(value, dict) and get_origin(here) is dict:
        for below in value.values():
            yield from _used(inner[-1], below)
    elif inner and isinstance(value, dict | list):  # a list, or a list of one that is written bare
        for below in value if isinstance(value, list) else [value]:
            yield from _used(inner[0], below)


def freeze(folder: Path) -> None:
    """Write the tables and words of a format anew."""
    (folder / "tables").mkdir(exist_ok=True)
    _, checked = checked_folder(folder / "logbook")
    assert checked.ledgers is not None
    frames = tally(checked.ledgers).frames
    for table in ALL:
        content = csv_bytes(table, plain_columns(frames[table.name]))
        (folder / "tables" / f"{table.name}.csv").write_bytes(content.replace(b"\r\n", b"\n"))
    (folder / "words.txt").write_text("\n".join(words()) + "\n", encoding="utf-8")


if __name__ == "__main__":
    freeze(FORMATS[-1])
