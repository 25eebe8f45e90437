"""Mend what can be mended without guessing: every file anew, in memory, until nothing is left that carries a mend.

What is mended stands in the problems themselves (`Problem.mend`); here they are only put in, from the end of a file to
its beginning, so that comments, order and all else stay as they are.
"""

from __future__ import annotations

import difflib
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path

from generator.problems import Mend, Problem, visible
from generator.read.folder import Folder
from generator.validate.logbook import checked_folder

ROUNDS = 20
BOM = b"\xef\xbb\xbf"


@dataclass(frozen=True, slots=True)
class Fixed:
    """What came of it: files before and after, how many mends went in, and the problems before and after."""

    folder: Folder
    before: dict[str, bytes]
    after: dict[str, bytes]
    mends: int
    problems: list[Problem]
    left: list[Problem]


def fixed(logbook: Path) -> Fixed:
    """Read a logbook and mend it in memory; nothing is written."""
    folder, checked = checked_folder(logbook)
    problems = left = checked.problems
    before: dict[str, bytes] = {}
    after: dict[str, bytes] = {}
    count = 0
    for _ in range(ROUNDS):
        wanted = [problem for problem in left if problem.mend is not None]
        if not wanted:
            break
        for file in sorted({problem.place.file for problem in wanted}):
            before.setdefault(file, (logbook / file).read_bytes())
            mends = [p.mend for p in wanted if p.place.file == file and p.mend is not None]
            after[file], put = mended(after.get(file, before[file]), mends)
            count += put
        left = checked_folder(logbook, drafts=after)[1].problems
    return Fixed(folder, before, after, count, problems, left)


def mended(raw: bytes, mends: Iterable[Mend]) -> tuple[bytes, int]:
    """Put the mends of one file in, and count them; of two that overlap the later one waits for the next round."""
    head = BOM if raw.startswith(BOM) else b""
    text = raw[len(head) :].decode("utf-8")
    starts = [0]
    for line in text.split("\n"):
        starts.append(starts[-1] + len(line) + 1)
    spans = sorted(
        {
            (starts[m.line - 1] + m.column - 1, starts[m.end_line - 1] + m.end_column - 1, m.text)
            for m in mends
        }
    )
    parts: list[str] = []
    at = count = 0
    for start, end, anew in spans:
        if start >= at:
            parts += [text[at:start], anew]
            at = end
            count += 1
    return head + "".join([*parts, text[at:]]).encode("utf-8"), count


def preview(before: Mapping[str, bytes], after: Mapping[str, bytes], prefix: str) -> Iterator[str]:
    """A unified diff of every file that changes, line by line, as `patch -p0` takes it; `prefix` stands before every path.

    A character that could steer a terminal is shown as `<U+200B>`; a diff of a line that holds one is for eyes alone.
    """
    for file, raw in before.items():
        old, new = (_lines(each) for each in (raw, after[file]))
        name = visible(f"{prefix}{file}")
        name += "\t" if " " in name else ""  # else a name would end at its first blank
        for row in difflib.unified_diff(old, new, name, name):
            yield row.removesuffix("\n")
            if not row.endswith("\n"):
                yield "\\ No newline at end of file"


def _lines(raw: bytes) -> list[str]:
    """The lines with their ends, as they are shown: odd characters visible; tabs, and what marks the order of bytes, as they are."""
    mark = "\ufeff" if raw.startswith(BOM) else ""
    rows = raw.decode("utf-8-sig").split("\n")
    out = [f"{_shown(row)}\n" for row in rows[:-1]] + ([_shown(rows[-1])] if rows[-1] else [])
    return [f"{mark}{out[0]}", *out[1:]] if out else []


def _shown(row: str) -> str:
    end = "\r" if row.endswith("\r") else ""
    return "\t".join(visible(part) for part in row.removesuffix("\r").split("\t")) + end
