"""The history of a batch as git remembers it: when it was recorded, what later versions of its file moved, and what of that is late."""

from __future__ import annotations

from collections.abc import Sequence

from generator.compute.changes import TOLD
from generator.compute.results import Results
from generator.language import said, say, term
from generator.pages.parts import Row, Show, batch_link, grouped, newest, plain, table_view, worded
from generator.pages.view import TableView
from generator.pages.words import Shown, count, shown, significant
from generator.tables import CHANGES

PATH = "quality.html#late"
NAMED = 3  # batches that a sentence names at most
MOVED = {
    "oil_l": term("oil"),
    "acid_value_mg_koh_per_g": term("acid value"),
    "catalyst_g": term("catalyst"),
    "methanol_l": term("methanol"),
    "fuel_l": term("finished fuel"),
    "yield_volume_pct": term("yield by volume"),
    "yield_mass_pct": term("yield by mass"),
    "closure_pct": term("mass closure"),
    "soap_feed_mg_per_kg": term("soap in the feed"),
    "soap_between_mg_per_kg": term("soap between the beds"),
    "soap_product_mg_per_kg": term("soap in the product"),
}


def history_table(rows: Sequence[Row], view: Shown) -> TableView:
    """Every version of the batch, the oldest first; of a shared site only what moved a public figure."""
    return table_view(CHANGES, "history", say("Recorded and changed"), rows, _shows(view))


def late_table(results: Results) -> list[TableView]:
    """Every late change of the logbook, the newest first; none where there was none."""
    rows = sorted(_late(results.rows("changes")), key=lambda row: row["date"])
    if not rows:
        return []
    caption, newest_first = newest(say("Changed after the day they were recorded"), rows, "data/changes.csv")
    named = Show("batch", say("Batch"), plain("batch"), href=lambda row: history_link(row["batch"]))
    shows = [show for show in _shows(shown(results)) if show.column != "what"]
    return [table_view(CHANGES, "late", caption, newest_first, [named, *shows])]


def history_link(batch: object) -> str:
    """The history on the page of a batch."""
    return f"{batch_link(batch)}#history"


def late_days(results: Results) -> dict[str, str]:
    """The day of the last late change of each batch that has any."""
    return {
        batch: max(row["date"] for row in rows)
        for batch, rows in grouped(_late(results.rows("changes")), "batch").items()
    }


def late_text(rows: Sequence[Row]) -> str:
    """What of one batch was changed late, and when last; nothing where nothing was."""
    late = _late(rows)
    if not late:
        return ""
    names = dict.fromkeys(moved_figure(row) for row in late)
    return say(
        "Changed after the day it was recorded, last on {day}: {figures}.",
        day=max(row["date"] for row in late),
        figures="; ".join(names),
    )


def late_finding(results: Results) -> str:
    """How many batches have late changes, and the last of them; or that there is none, or that nobody can know."""
    if not results.remembered:
        return say(
            "Whether a figure was changed after it was recorded is not known: these pages know no history of the files."
        )
    days = late_days(results)
    if not days:
        return say(
            "By the history in git no amount, yield, soap or result was changed after the day it was recorded. Limits, dates and batches that were taken away are not followed."
        )
    day = max(days.values())
    names = [name for name, last in days.items() if last == day]
    return say(
        "By the history in git, figures of {batch} were changed after the day they were recorded, last on {day}{where}.",
        batch=count(len(days), "batch", "batches"),
        day=day,
        where=say(" in {names}", names=", ".join(names)) if len(names) <= NAMED else "",
    )


def moved_figure(row: Row) -> str:
    """A figure of a batch in a few words, or the name of a property."""
    if row["figure"] is None:
        return say("no figure") if row["what"] == "changed" and row["before"] is None else "–"
    return say(MOVED.get(str(row["figure"]), str(row["figure"])))


def _late(rows: Sequence[Row]) -> list[Row]:
    return [row for row in rows if row["late"] == "yes"]


def _shows(view: Shown) -> list[Show]:
    return [
        Show("date", say("Day"), plain("date")),
        Show("what", say("What"), worded("what")),
        Show("figure", say("What moved"), moved_figure),
        Show("before", say("Was before"), lambda row: _value(row, "before", view)),
        Show("after", say("After"), lambda row: _value(row, "after", view)),
    ]


def _value(row: Row, column: str, view: Shown) -> str:
    """What a figure was or became, with its unit; a result as it was written."""
    name, text = row["figure"], row[column]
    if text is None:
        return "–"
    if name not in MOVED:
        return said(text)
    value = float(text)
    if name == "catalyst_g":
        return view.weighed(value, figures=TOLD)
    if name.endswith("_l"):
        return view.volume(value, figures=TOLD)
    if name.endswith("_mg_per_kg"):
        return significant(value, "mg/kg", TOLD)
    return significant(value, "%" if name.endswith("_pct") else "mg KOH/g", TOLD)
