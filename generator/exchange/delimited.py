"""Text with delimiters -> a sheet, and what its bytes say of encoding and delimiter."""

from __future__ import annotations

import csv
import io
import re
from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from generator.exchange.sheet import MAX_BYTES, MAX_CELL, Cell, NotASheetError, Sheet, bounded, tidy, trimmed
from generator.render.exports import guarded

DELIMITERS: Mapping[str, str] = {"semicolon": ";", "tab": "\t", "comma": ",", "bar": "|"}
ENCODINGS = ("utf-8", "utf-16", "windows-1252", "iso-8859-15", "mac-roman")
_SAMPLE = 200  # rows looked at for the delimiter
_MARKS = {b"\xef\xbb\xbf": "utf-8", b"\xff\xfe": "utf-16", b"\xfe\xff": "utf-16"}


@dataclass(frozen=True, slots=True)
class Form:
    """How the bytes of a file are cut into cells; the two reasons are for people."""

    encoding: str
    delimiter: str
    why_encoding: str = ""
    why_delimiter: str = ""


def form_of(raw: bytes) -> Form:
    """What encoding and delimiter the bytes speak for. Raises NotASheetError."""
    encoding, why = _encoding(raw)
    rows = _lines(_decoded(raw, encoding))
    if rows and rows[0].startswith("sep=") and rows[0][4:5] in DELIMITERS.values():
        name = next(name for name, sign in DELIMITERS.items() if sign == rows[0][4:5])
        return Form(encoding, name, why, "the first line says so")
    text = "\n".join(rows)
    found = {name: _regularity(text, sign) for name, sign in DELIMITERS.items()}
    best = max(found, key=lambda name: (found[name].alike * (found[name].cells > 1), found[name].cells))
    told = f"{found[best].alike} of the first {found[best].rows} rows have {found[best].cells} cells with it"
    return Form(encoding, best, why, told if found[best].cells > 1 else "no delimiter was found")


def read_csv(name: str, raw: bytes, form: Form) -> Sheet:
    """Cut the bytes into cells; every cell is text. Raises NotASheetError."""
    text = _decoded(raw, form.encoding)
    rows: list[list[Cell]] = []
    try:
        for row in _rows(text, DELIMITERS[form.delimiter]):
            bounded(len(rows) + 1, len(row))
            rows.append([_cell(cell) for cell in row])
    except csv.Error as error:
        raise NotASheetError(
            f"row {len(rows) + 1} cannot be cut into cells: {error}", "look for a quote that is never closed"
        ) from None
    return Sheet(name, trimmed(rows))


def _cell(text: str) -> Cell:
    if len(text) > MAX_CELL:
        return Cell(text[:40], f"{len(text)} characters, and at most {MAX_CELL} fit")
    found = tidy(text)
    bare = found[1:] if found.startswith("'") else ""
    return Cell((bare if bare and guarded(bare) == found else found) or None)


def _rows(text: str, sign: str) -> Iterator[list[str]]:
    yield from csv.reader(io.StringIO(text, newline=""), delimiter=sign, strict=True)


def _encoding(raw: bytes) -> tuple[str, str]:
    if len(raw) > MAX_BYTES:
        raise NotASheetError(
            f"{len(raw)} bytes, and at most {MAX_BYTES} are read", "keep the one table in it, or split it"
        )
    for mark, name in _MARKS.items():
        if raw.startswith(mark):
            return name, "the file begins with its mark"
    try:
        raw.decode("utf-8")
    except UnicodeDecodeError:
        return "windows-1252", _seen(raw)
    return "utf-8", "every byte fits" if not raw.isascii() else "nothing but plain letters in it"


def _seen(raw: bytes) -> str:
    """The words that would show whether the guess is right."""
    words = re.findall(r"""[^\s;,|"']*[^\x00-\x7f][^\s;,|"']*""", raw.decode("windows-1252", "replace"))
    return f"not UTF-8; so read, it says {' '.join(dict.fromkeys(words))[:60]}: if that looks wrong, try {ENCODINGS[4]} or {ENCODINGS[3]}"


def _decoded(raw: bytes, encoding: str) -> str:
    try:
        text = raw.decode("utf-8-sig" if encoding == "utf-8" else encoding)
    except UnicodeDecodeError as error:
        line = raw.count(b"\n", 0, error.start) + 1
        raise NotASheetError(
            f"line {line} is not {encoding}", f"write another encoding into the map: {', '.join(ENCODINGS)}"
        ) from None
    if "\0" in text:
        raise NotASheetError(
            "the file holds NUL bytes, so it is no text", "save it as .csv in UTF-8, or as .xlsx"
        )
    return text


def _lines(text: str) -> list[str]:
    return text.splitlines()[:_SAMPLE]


@dataclass(frozen=True, slots=True)
class _Regularity:
    cells: int
    alike: int
    rows: int


def _regularity(text: str, sign: str) -> _Regularity:
    """How many rows have as many cells as most have, and how many cells that is."""
    try:
        counts = [len(row) for row in csv.reader(io.StringIO(text, newline=""), delimiter=sign) if row]
    except csv.Error:
        return _Regularity(1, 0, 0)
    cells, alike = Counter(counts).most_common(1)[0] if counts else (1, 0)
    return _Regularity(cells, alike, len(counts))
