"""How each batch came to be what it is: when it was recorded, and what each later version of its file moved.

Figures of an older version are reckoned by this tool, with every other record as it is today, so that what is shown moved by
this file alone.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from datetime import UTC, datetime
from zoneinfo import ZoneInfo

import pandas as pd

from generator.compute.bare import batches_as_bare
from generator.compute.figures import figures as reckoned
from generator.compute.frames import Row, frame
from generator.language import term
from generator.ledger.facts import facts_of
from generator.log import Entry, Log
from generator.read.document import MAX_BYTES, parse
from generator.read.git import Past, Version, contents
from generator.read.text import decoded
from generator.records import Batch
from generator.tables import BATCHES, CHANGES
from generator.validate.grammar import record_of
from generator.validate.logbook import context_of

LABORATORY = term("laboratory")
RECORDED, CHANGED, REMOVED = "recorded", "changed", "removed"
UNREADABLE = "an older version cannot be read by this tool"
TOLD = 4  # digits of a figure that have to move for it to be told
KEPT = 6  # that are told, for other units
FIGURES = (
    "oil_l", "acid_value_mg_koh_per_g", "catalyst_g", "methanol_l", "fuel_l", "yield_volume_pct", "yield_mass_pct",
    "closure_pct", "soap_feed_mg_per_kg", "soap_between_mg_per_kg", "soap_product_mg_per_kg",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class _Stand:
    """What a version of a batch said: its figures and results as text; whether it was private or only planned."""

    figures: Mapping[str, str]
    hidden: bool


Versions = list[tuple[Version, Entry[Batch] | None]]


def changes(log: Log, found: Past, bare: Log | None = None) -> pd.DataFrame:
    """The history of every batch, batch by batch, the oldest first; one row each figure that moved.

    With `bare`, the log without what is private, it is that of its batches, and every version is reckoned as bare.
    """
    shown = log if bare is None else bare
    seen_as = _whole if bare is None else batches_as_bare(log)
    files = {log.batches[name].document.file: log.batches[name] for name in shown.batches}
    kept = {name: found.versions[name] for name in files if name in found.versions}
    old = dict(contents(found, (one.blob for versions in kept.values() for one in versions), MAX_BYTES))
    zone = ZoneInfo(shown.settings.timezone) if shown.settings.timezone else UTC
    context = context_of(log.workshop.document)
    read_as = {
        files[name].id: [(version, _read(log, name, old.get(version.blob), context)) for version in versions]
        for name, versions in kept.items()
    }
    rows: list[Row] = []
    for batch, versions in _by_batch(log, read_as):
        told = _Told(batch)
        for version, read in versions:
            stand = _stand(shown, read, seen_as) if read is not None else None
            day = datetime.fromtimestamp(version.at, zone).date().isoformat()
            rows += told.rows(day, stand, gone=not version.blob)
    return frame(CHANGES, [dict(row) for row in rows])


def published(data: pd.DataFrame) -> pd.DataFrame:
    """Only changes of figures that anyone may see: a version that moved none of them leaves no trace."""
    public = {column.name for column in BATCHES.columns if column.public}
    moved = data["figure"].notna() & (data["result"].eq("yes") | data["figure"].isin(public))
    return data[moved].reset_index(drop=True)


def _by_batch(log: Log, read_as: Mapping[str, Versions]) -> Iterator[tuple[str, Versions]]:
    """The versions of each batch by what is written in them, the oldest first: two files may have changed their names.

    A version that cannot be read, or is of a batch that there is no more, counts to the batch whose file it became.
    """
    found: dict[str, Versions] = {batch: [] for batch in read_as}
    for batch, versions in read_as.items():
        for version, read in _of_its_own(batch, versions):
            told = read.id if read is not None and read.id in log.batches else batch
            if told in found:  # else it was a private one then, which is another's
                found[told].append((version, read if read is not None and read.id == told else None))
    for batch, unordered in found.items():
        ordered = sorted(unordered, key=lambda each: each[0].at)
        blobs = [None, *(version.blob for version, _ in ordered)]
        yield batch, [each for each, before in zip(ordered, blobs, strict=False) if each[0].blob != before]


def _of_its_own(batch: str, versions: Versions) -> Versions:
    """The versions since the last that stood under another path and was not this batch: git only saw that they are alike."""
    others = [
        place
        for place, (version, read) in enumerate(versions)
        if version.elsewhere and (read is None or read.id != batch)
    ]
    return versions[others[-1] + 1 :] if others else versions


class _Told:
    """What one version after the other tells of a batch, the oldest first.

    A version is held against the last one that could be seen: what was private, planned or gone in between hides no change.
    """

    def __init__(self, batch: str) -> None:
        """Nothing is known yet."""
        self._batch = batch
        self._there = False
        self._readable = True
        self._seen: _Stand | None = None
        self._since: dict[str, str] = {}

    def rows(self, day: str, stand: _Stand | None, *, gone: bool) -> list[Row]:
        """The rows of the next version: one for each figure that it moved, or one that says that it moved none."""
        what = REMOVED if gone else CHANGED if self._there else RECORDED
        unreadable = what == CHANGED and not (self._readable and stand is not None)
        out = [self._row(day, CHANGED, **one) for one in self._moved(day, stand)]
        if unreadable or what != CHANGED or not out:
            out.insert(0, self._row(day, what, before=UNREADABLE if unreadable else None))
        self._there, self._readable = not gone, gone or stand is not None
        if stand is not None and not stand.hidden:
            self._note(day, stand)
        return out

    def _row(self, day: str, what: str, **more: str | None) -> Row:
        nothing = {"figure": None, "before": None, "after": None, "late": "no", "result": "no"}
        return {"batch": self._batch, "date": day, "what": what, **nothing, **more}

    def _note(self, day: str, stand: _Stand) -> None:
        """Since when each figure stands as it does."""
        old = self._seen.figures if self._seen is not None else {}
        self._since = {
            name: self._since[name] if old.get(name) == value else day
            for name, value in stand.figures.items()
        }
        self._seen = stand

    def _moved(self, day: str, stand: _Stand | None) -> Iterator[dict[str, str | None]]:
        if self._seen is None or stand is None or stand.hidden:
            return
        for name in dict.fromkeys((*self._seen.figures, *stand.figures)):
            before, after = self._seen.figures.get(name), stand.figures.get(name)
            if _same(name, before, after):
                continue
            beside = before is None or (name not in FIGURES and f"{after}, ".startswith(f"{before}, "))
            late = not beside and self._since[name] < day
            yield {
                "figure": name,
                "before": before,
                "after": after,
                "late": "yes" if late else "no",
                "result": "no" if name in FIGURES else "yes",
            }


def _same(name: str, before: str | None, after: str | None) -> bool:
    """Whether a figure is what it was, as far as it is told; a result has to be so to the letter."""
    if name not in FIGURES or before is None or after is None:
        return before == after
    return f"{float(before):.{TOLD}g}" == f"{float(after):.{TOLD}g}"


def _whole(version: Entry[Batch]) -> Entry[Batch]:
    return version


def _read(log: Log, file: str, content: bytes | None, context: Mapping[str, object]) -> Entry[Batch] | None:
    """A version of a batch, of whichever; None where it cannot be read."""
    if content is None:
        return None
    text, refused = decoded(file, content)
    document = parse(file, text).document if not refused else None
    if document is None:
        return None
    batch, _ = record_of(Batch, document, context)
    if batch is None or not {use.lot for use in batch.oil} <= set(log.lots):
        return None
    return Entry(batch.batch, batch, document)


def _stand(shown: Log, version: Entry[Batch], seen_as: Callable[[Entry[Batch]], Entry[Batch]]) -> _Stand:
    """What a version says; whether it was private is asked before anything is taken out of it."""
    hidden = version.record.private or version.record.is_planned
    version = seen_as(version)
    facts = facts_of(shown, version)
    values = reckoned(facts)
    figures = {name: f"{values[name]:.{KEPT}g}" for name in FIGURES if values[name] is not None}
    for test in version.record.tests:
        if test.property is None or test.value is None:
            continue
        told = test.value if isinstance(test.value, str) else test.value.text
        told = "; ".join(text for text in (told, test.method, LABORATORY if test.laboratory else "") if text)
        figures[test.property] = f"{figures[test.property]}, {told}" if test.property in figures else told
    return _Stand(figures, hidden)
