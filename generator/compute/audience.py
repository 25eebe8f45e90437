"""What the shared site may show: tables made from a log without what is private, and of those the public columns.

Two allowlists decide, one behind the other: of the keys of the files `data/public.yaml`, in `bare.py`, and of the columns
those marked public in `tables`. Tables without a public column come out empty. Nothing downstream ever sees the rest.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from functools import partial

import pandas as pd

from generator.compute.bare import with_opened, without_private
from generator.compute.frames import frame
from generator.compute.opened import keys_for
from generator.compute.published import records
from generator.compute.results import Results, Written
from generator.compute.tally import tally
from generator.compute.when_asked import WhenAsked
from generator.kept import APART, Gathered
from generator.language import term
from generator.ledger.ledgers import Ledgers
from generator.log import Log
from generator.tables import ALL, Table, public_columns


def shared(log: Log, bare: Log | None = None, before: Gathered = APART) -> Results:
    """Everything the shared site may show; what the settings widen it by is computed from what is public and what that opens.

    `bare` is the log without what is private, for those who have made it already; `before` as for a tally.
    """
    widened = log.settings.public
    bare = bare if bare is not None else without_private(log)
    results = tally(Ledgers(bare), before)
    frames = WhenAsked({table.name: partial(_public, table, results.frames) for table in ALL})
    if widened:
        wide = tally(Ledgers(with_opened(log, keys_for(widened), bare.now())), before)
        if "tests.report" in widened:
            results = replace(results, attached=wide.attached)
        narrow = frames
        frames = WhenAsked(
            {table.name: partial(_widened, table, narrow, wide.frames, widened) for table in ALL}
        )
    found = replace(
        results,
        audience="shared",
        as_of_basis=term("the latest date in these records") if log.as_of is None else results.as_of_basis,
        frames=frames,
        written=WhenAsked({name: partial(_said_of, results.written, name) for name in results.written}),
        judged={},
    )
    found.published = records(found, widened)
    return found


def _public(table: Table, frames: Mapping[str, pd.DataFrame]) -> pd.DataFrame:
    """The public columns; the private ones stay as columns without any value."""
    names = public_columns(table)
    if not names:
        return frame(table, [])
    data = frames[table.name]
    return data[list(names)].reindex(columns=list(table.names)).reset_index(drop=True)


def _widened(
    table: Table,
    narrow: Mapping[str, pd.DataFrame],
    wide: Mapping[str, pd.DataFrame],
    widened: tuple[str, ...],
) -> pd.DataFrame:
    """The same with the columns that the settings name; a table without a public column has rows only for these."""
    data = narrow[table.name]
    names = [column for column in public_columns(table, widened) if column not in public_columns(table)]
    if not names:
        return data
    whole = wide[table.name]
    rows = data if public_columns(table) else data.reindex(range(len(whole)))
    assert len(rows) == len(whole)  # both are of the same batches, beds and events
    return rows.assign(**{name: whole[name].array for name in names})


def _said_of(found: Mapping[str, list[Written]], batch: str) -> list[Written]:
    """What is public of what was written of a batch, without the ids of what it names."""
    return [_bare(item) for item in found[batch] if item.public]


def _bare(item: Written) -> Written:
    """An entry without the id of what it names."""
    return replace(item, names="")
