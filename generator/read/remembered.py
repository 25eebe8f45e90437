"""Files that were read before, known again by their content, so that only what changed is parsed.

All of a logbook's are one text, kept as pictures are: what lacks, is cut short or was made by another release is read anew.
Only what was read without a problem is kept, so that problems are told by one piece of code.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from functools import cache, cached_property
from pathlib import Path
from typing import Any

import ruamel.yaml

from generator.kept import Gathered, Kept, digest
from generator.read.document import Document, Mark, Reading, parse
from generator.read.document import Path as Place

_BY = ("document.py", "remembered.py", "strict.py", "syntax.py", "text.py")


class Remembered:
    """Reads the files of one logbook; each is parsed once for as long as it stays as it is."""

    def __init__(self, kept: Kept, root: Path) -> None:
        """Nothing is looked up where `kept` has no folder."""
        self.kept = kept
        self._read = Gathered(kept, *((_maker(), str(root.absolute())) if kept.folder is not None else ()))

    def parse(self, file: str, text: str, offset: int = 0) -> Reading:
        """Read one YAML document, as `document.parse` does."""
        if not self._read.is_kept:
            return parse(file, text, offset)
        name = digest(text, str(offset))
        document = _document(self._read.found(name), file, text, offset)
        if document is not None:
            return Reading(document)
        reading = parse(file, text, offset)
        if reading.document is not None and not reading.problems:
            found = reading.document
            numbers = [number for mark in found.marks.values() for number in mark]
            self._read.gather(name, [found.data, numbers])
        return reading

    def keep(self) -> None:
        """Keep what was read, where that is not what was kept before."""
        self._read.keep()


class _Marks(Mapping[Place, Mark]):
    """The marks of a document in the order of its reading; they are laid out when one is asked for, which few files are."""

    def __init__(self, data: Any, numbers: Sequence[int]) -> None:
        self._data, self._numbers = data, numbers

    @cached_property
    def _all(self) -> dict[Place, Mark]:
        marks = map(Mark._make, zip(*[iter(self._numbers)] * 4, strict=True))
        return dict(zip(_paths(self._data, ()), marks, strict=True))

    def __getitem__(self, path: Place) -> Mark:
        return self._all[path]

    def __iter__(self) -> Iterator[Place]:
        return iter(self._all)

    def __len__(self) -> int:
        return len(self._numbers) // 4


def _document(kept: Any, file: str, text: str, offset: int) -> Document | None:
    """A document as it was kept; None where it is none."""
    match kept:
        case [data, [*numbers]] if len(numbers) == 4 * _size(data) and set(map(type, numbers)) == {int}:
            return Document(file, data, _Marks(data, numbers), offset, text)
    return None


def _size(data: Any) -> int:
    """How many values a document holds, itself and its groups among them; below zero where one is of no kind that is read."""
    if data is None or type(data) is str:
        return 1
    if isinstance(data, dict | list):
        return 1 + sum(map(_size, data.values() if isinstance(data, dict) else data))
    return -(10**9)


def _paths(data: Any, path: Place) -> Iterator[Place]:
    """The paths of a document in the order in which they were read."""
    yield path
    if isinstance(data, dict):
        for key, value in data.items():
            yield from _paths(value, (*path, key))
    elif isinstance(data, list):
        for number, value in enumerate(data):
            yield from _paths(value, (*path, number))


@cache
def _maker() -> str:
    """What reads: its own modules, and the parser."""
    here = Path(__file__).parent
    return digest(ruamel.yaml.__version__, *((here / name).read_bytes() for name in _BY))
