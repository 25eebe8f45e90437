"""Files that were read before, known again by their content, so that only what changed is parsed.

All of a logbook's are one text, kept as pictures are: what lacks, is cut short or was made by another release is read anew.
Only what was read without a problem is kept, so that problems are told by one piece of code.
"""

from __future__ import annotations

import sys
from array import array
from base64 import b64decode, b64encode
from functools import cache
from pathlib import Path
from typing import Any

import ruamel.yaml

from generator.kept import Gathered, Kept, digest
from generator.read.document import Document, Reading, parse
from generator.read.marks import Marks

FEW = 8  # texts, old and new; to parse one anew takes about a tenth of the time that all of the demo's take to write
_BY = ("document.py", "marks.py", "remembered.py", "strict.py", "syntax.py", "text.py")


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
            self._read.gather(name, [found.data, b64encode(found.marks.numbers).decode()])
        return reading

    def keep(self) -> None:
        """Keep what was read, where more than a few texts of it are new or gone; those are parsed again the next time."""
        self._read.keep(FEW)


def _document(kept: Any, file: str, text: str, offset: int) -> Document | None:
    """A document as it was kept; None where it is none."""
    match kept:
        case [data, str(marks)]:
            try:
                numbers = array("I", b64decode(marks))
            except ValueError:
                return None
            if len(numbers) == 4 * _size(data):
                return Document(file, data, Marks(data, numbers), offset, text)
    return None


def _size(data: Any) -> int:
    """How many values a document holds, itself and its groups among them; -1 where one is of no kind that is read."""
    values = [data]
    for value in values:  # those of a group come behind it
        kind = type(value)
        if kind is dict:
            values += value.values()
        elif kind is list:
            values += value
        elif kind is not str and value is not None:
            return -1
    return len(values)


@cache
def _maker() -> str:
    """What reads: its own modules, the parser, and the order of bytes in a number."""
    here = Path(__file__).parent
    return digest(ruamel.yaml.__version__, sys.byteorder, *((here / name).read_bytes() for name in _BY))
