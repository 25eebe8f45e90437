"""The history of a batch as git remembers it: when it was recorded, and what later versions of its file moved."""

from __future__ import annotations

from collections.abc import Sequence

from generator.language import say
from generator.pages.parts import Row, Show, plain, table_view, worded
from generator.pages.view import TableView
from generator.tables import BATCHES, CHANGES


def history_table(rows: Sequence[Row]) -> TableView:
    """Every version of the batch, the oldest first; of a shared site only what moved a public figure."""
    return table_view(
        CHANGES,
        "history",
        say("Recorded and changed"),
        rows,
        [
            Show("date", say("Day"), plain("date")),
            Show("what", say("What"), worded("what")),
            Show("figure", say("What moved"), moved_figure),
            Show("before", say("Was before"), plain("before")),
            Show("after", say("After"), plain("after")),
        ],
    )


def moved_figure(row: Row) -> str:
    """The meaning of a column with its unit, or the name of a property."""
    if row["figure"] is None:
        return say("no figure") if row["what"] == "changed" and row["before"] is None else "–"
    column = BATCHES.by_name.get(row["figure"])
    return str(row["figure"]) if column is None else f"{column.meaning}, {column.unit}"
