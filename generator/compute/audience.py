"""What the shared site may be made from: private batches are gone before a ledger is folded, the rest before any page.

An allowlist decides: the columns marked public in `tables`, the entries marked public in a batch file, the pages marked
public. Tables without a public column come out empty. Nothing downstream ever sees the rest.
"""

from __future__ import annotations

from dataclasses import replace

import pandas as pd

from generator.compute.results import Results, Written, frame
from generator.log import Log
from generator.tables import ALL, Table, public_columns


def without_private(log: Log) -> Log:
    """The log without its private batches, so that no sum over the others holds one of them; without any plan too."""
    public = {name: entry for name, entry in log.batches.items() if not entry.record.private}
    return replace(log, batches=public, planned={})


def shared(results: Results, widened: tuple[str, ...]) -> Results:
    """The same results without what is private; `widened` are the columns the settings add, as `table.column`."""
    frames = {table.name: _public(table, results.frames[table.name], widened) for table in ALL}
    return replace(
        results,
        audience="shared",
        as_of=_latest(frames, results.as_of),
        as_of_basis="the latest date on these pages",
        target_per_l=None,
        thresholds={},
        frames=frames,
        written={
            name: [_bare(item) for item in items if item.public] for name, items in results.written.items()
        },
        pages={name: page for name, page in results.pages.items() if page.public},
        judged={},
    )


def _public(table: Table, data: pd.DataFrame, widened: tuple[str, ...]) -> pd.DataFrame:
    """The public columns; the private ones stay as columns without any value."""
    names = public_columns(table, widened)
    if not names:
        return frame(table, [])
    return data[list(names)].reindex(columns=list(table.names)).reset_index(drop=True)


def _latest(frames: dict[str, pd.DataFrame], otherwise: str) -> str:
    """The latest public date: a private record must not move the day these pages count from."""
    dates = [
        str(day)
        for table, column in (
            ("batches", "date"),
            ("tests", "date"),
            ("charges", "packed"),
            ("charges", "unloaded"),
        )
        for day in frames[table][column].dropna()
    ]
    return max(dates, default=otherwise)


def _bare(item: Written) -> Written:
    """An entry without the id of the lot it names."""
    return replace(item, names="")
