"""How each batch came to be what it is: when it was recorded, and what each later version of its file moved.

Figures of an older version are reckoned by this tool, with every other record as it is today, so that what is shown moved by
this file alone. Beside batches, limits are followed, and it is told what stands here and is not committed.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import UTC, datetime, tzinfo
from zoneinfo import ZoneInfo

import pandas as pd

from generator.compute.bare import as_read_by, batches_as_bare, without_private
from generator.compute.frames import Row, frame
from generator.compute.old_lots import with_old_lots
from generator.compute.old_reports import OldReports
from generator.compute.old_settings import MovedLimit, limits_moved
from generator.compute.stands import FIGURES, NOTE, Stand, stand_of
from generator.compute.uncommitted import uncommitted
from generator.compute.versions import Removed, Step, histories
from generator.language import term
from generator.log import Log
from generator.read.git import Past
from generator.records import Report
from generator.tables import CHANGES

RECORDED, CHANGED, REMOVED = "recorded", "changed", "removed"
NOT_COMMITTED = term("not committed")
UNREADABLE = "an older version cannot be read by this tool"
TOLD = 4  # digits of a figure that have to move for it to be told
WRITTEN, OTHERWISE = term("written"), term("written otherwise")  # of what is not shown again once it is gone


def changes(log: Log, found: Past, *, shared: bool = False) -> pd.DataFrame:
    """The history of every batch, batch by batch, the oldest first; one row each figure that moved.

    With `shared` it is that of the batches anyone may know of, and every version is reckoned without what is private.
    """
    reports = OldReports(log, found)
    past = histories(log, found, reports)
    log = with_old_lots(log, found, past)
    shown = without_private(log) if shared else log
    zone = ZoneInfo(shown.settings.timezone) if shown.settings.timezone else UTC
    seen_as = _SeenAs(log, shown, reports, shared=shared)
    rows: list[Row] = []
    for batch in shown.batches:
        told = _Told(batch, seen_as)
        for step in past.steps[batch]:
            rows += told.rows(_day(step.at, zone), step)
    rows += [_gone(each, zone) for each in past.removed if not (seen_as.shared and each.hidden)]
    rows += [_limit(each, zone) for each in limits_moved(log, found)]
    rows += [
        _row(None, None, NOT_COMMITTED, figure=kind)
        for kind in uncommitted(log, found, shared=seen_as.shared)
    ]
    return frame(CHANGES, [dict(row) for row in rows])


def published(data: pd.DataFrame) -> pd.DataFrame:
    """Only what anyone may see: a version that moved nothing public leaves no trace."""
    told = data["figure"].notna() | data["what"].isin((REMOVED, NOT_COMMITTED))
    return data[told].reset_index(drop=True)


def uncommitted_names(rows: Sequence[Row]) -> tuple[str, ...]:
    """What a history says is not committed: batches by id, other files by kind."""
    return tuple(
        dict.fromkeys(str(row["batch"] or row["figure"]) for row in rows if row["what"] == NOT_COMMITTED)
    )


class _SeenAs:
    """What those who read a history see of a version of a batch."""

    def __init__(self, log: Log, shown: Log, reports: OldReports, *, shared: bool) -> None:
        """Whatever is written, or with `shared` what anyone may see."""
        self.shared, self.reports = shared, reports
        self._shown, self._bare = shown, batches_as_bare(log)
        self._opened = "tests.report" in log.settings.public

    def stand(self, step: Step) -> Stand | None:
        """What a version says; None where it cannot be read."""
        if step.batch is None:
            return None
        seen = self._bare(step.batch) if self.shared else step.batch
        return stand_of(self._shown, step, seen, self._shows, self.reports)

    def rest(self, step: Step) -> object:
        """All that a version says, to be held against another."""
        assert step.batch is not None
        return as_read_by(step.batch.record) if self.shared else step.batch.document.data

    def _shows(self, report: Report) -> bool:
        return not self.shared or (self._opened and report.public)


class _Told:
    """What one version after the other tells of a batch, the oldest first.

    A version is held against the last one that could be seen: what was private, planned or gone in between hides no change.
    """

    def __init__(self, batch: str, seen_as: _SeenAs) -> None:
        """Nothing is known yet."""
        self._batch, self._seen_as = batch, seen_as
        self._there = False
        self._readable = True
        self._step: Step | None = None
        self._seen: Stand | None = None
        self._since: dict[str, str] = {}

    def rows(self, day: str | None, step: Step) -> list[Row]:
        """The rows of the next version: one for each figure that it moved, or one that says that it moved none."""
        stand = self._seen_as.stand(step)
        what = REMOVED if step.gone else CHANGED if self._there else RECORDED
        unreadable = what == CHANGED and not (self._readable and stand is not None)
        told = NOT_COMMITTED if day is None else CHANGED
        out = [_row(self._batch, day, told, **one) for one in self._moved(day, stand)]
        if day is None:
            out = out or self._not_committed(step)
        elif step.gone and self._seen_as.shared and self._step is None:
            out = []  # it was private then, or nobody knows
        elif not step.of_report and (unreadable or what != CHANGED or not out):
            out.insert(0, _row(self._batch, day, what, before=UNREADABLE if unreadable else None))
        self._there, self._readable = not step.gone, step.gone or stand is not None
        if stand is not None:
            self._step = None if stand.hidden else step
        if stand is not None and not stand.hidden:
            self._note(day, stand)
        return out

    def _not_committed(self, step: Step) -> list[Row]:
        """That something else stands here than in the last commit, which moved nothing of what is followed."""
        same = (
            self._step is not None
            and not step.gone
            and self._seen_as.rest(self._step) == self._seen_as.rest(step)
        )
        return [] if same else [_row(self._batch, None, NOT_COMMITTED)]

    def _note(self, day: str | None, stand: Stand) -> None:
        """Since when each figure stands as it does."""
        old = {**self._seen.said, **self._seen.reports} if self._seen is not None else {}
        self._since = {
            name: self._since[name] if old.get(name) == value else day or ""
            for name, value in (*stand.said.items(), *stand.reports.items())
        }
        self._seen = stand

    def _moved(self, day: str | None, stand: Stand | None) -> Iterator[dict[str, str | None]]:
        """What is told to have moved; where no figure can be reckoned on one side, what is there on one side alone is not."""
        if self._seen is None or stand is None or stand.hidden:
            return
        before, unsure = self._seen, self._seen.partial or stand.partial
        names = [
            name
            for name in dict.fromkeys((*before.said, *stand.said))
            if not _same(name, before.said.get(name), stand.said.get(name))
        ]
        for name in names:
            old, new = before.said.get(name), stand.said.get(name)
            if (unsure and None in (old, new)) or stand.covered.get(name, before.covered.get(name)) in names:
                continue
            yield self._told(day, name, old, new, "yes" if name in before.results | stand.results else "no")
        for name in dict.fromkeys((*before.reports, *stand.reports)):
            yield from self._exchanged(day, name, before.reports.get(name, ()), stand.reports.get(name, ()))

    def _told(
        self, day: str | None, name: str, old: str | None, new: str | None, result: str
    ) -> dict[str, str | None]:
        grown = name not in FIGURES and f"{new}, ".startswith(f"{old}, ")
        late = day is not None and old is not None and not grown and self._since[name] < day
        if name == NOTE:  # it may hold what somebody took back
            old, new = old and WRITTEN, new and (OTHERWISE if old else WRITTEN)
        return {
            "figure": name,
            "before": old,
            "after": new,
            "late": "yes" if late else "no",
            "result": result,
        }

    def _exchanged(
        self, day: str | None, name: str, old: Sequence[str], new: Sequence[str]
    ) -> Iterator[dict[str, str | None]]:
        """A report that shows something else, or that is no more; one beside it is none of these."""
        stayed = all(self._seen_as.reports.alike(*pair) for pair in zip(old, new, strict=False))
        if stayed and len(old) == len(new):
            return
        late = day is not None and old and not (stayed and len(new) > len(old)) and self._since[name] < day
        attached, other = term("attached"), term("another one") if old else term("attached")
        yield {
            "figure": name,
            "before": attached if old else None,
            "after": other if new else None,
            "late": "yes" if late else "no",
            "result": "yes",
        }


def _same(name: str, before: str | None, after: str | None) -> bool:
    """Whether a figure is what it was, as far as it is told; what was written has to be so to the letter."""
    if name not in FIGURES or before is None or after is None:
        return before == after
    return f"{float(before):.{TOLD}g}" == f"{float(after):.{TOLD}g}"


def _row(batch: str | None, day: str | None, what: str, **more: str | None) -> Row:
    nothing = {"figure": None, "before": None, "after": None, "late": "no", "result": "no"}
    return {"batch": batch, "date": day, "what": what, **nothing, **more}


def _day(at: int | None, zone: tzinfo) -> str | None:
    return datetime.fromtimestamp(at, zone).date().isoformat() if at is not None else None


def _gone(removed: Removed, zone: tzinfo) -> Row:
    return _row(removed.batch, _day(removed.at, zone), REMOVED)


def _limit(moved: MovedLimit, zone: tzinfo) -> Row:
    """A limit that is another one; late where it holds since a day before that on which it was changed."""
    day = _day(moved.at, zone)
    late = day is not None and (moved.begins is None or moved.begins.isoformat() < day)
    told = {
        "figure": moved.name,
        "before": moved.before,
        "after": moved.after,
        "late": "yes" if late else "no",
    }
    return _row(None, day, NOT_COMMITTED if day is None else CHANGED, **told)
