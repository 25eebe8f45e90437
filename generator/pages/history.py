"""The history of batches as git remembers it: when each was recorded, what later versions moved, what of that is late, what is no more.

Where nothing is known of it, and where what stands here is not committed, that is said in the same places.
"""

from __future__ import annotations

from collections.abc import Sequence

from generator.compute.changes import NOT_COMMITTED, REMOVED, TOLD
from generator.compute.results import Results
from generator.language import said, say, term
from generator.pages.parts import Row, Show, batch_link, grouped, newest, plain, table_view, worded
from generator.pages.view import TableView
from generator.pages.words import Shown, count, shown, significant
from generator.tables import CHANGES

PATH = "quality.html#late"
NAMED = 3  # batches that a sentence names at most
UNKNOWN = term(
    "Whether a figure was changed after it was recorded is not known: these pages know no history of the files."
)
_NOW = "9999"  # what is not committed is the newest
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
    """Every late change of the logbook, what was taken away and what is not committed, the newest first; none where there was none."""
    rows = sorted(told_late(results), key=lambda row: row["date"] or _NOW)
    if not rows:
        return []
    caption, newest_first = newest(
        say("Changed after the day it was recorded, taken away, or not committed"), rows, "data/changes.csv"
    )
    here = _here(results)
    named = Show(
        "batch",
        say("Batch"),
        plain("batch"),
        href=lambda row: history_link(row["batch"]) if row["batch"] in here else "",
    )
    return [table_view(CHANGES, "late", caption, newest_first, [named, *_shows(shown(results))])]


def history_link(batch: object) -> str:
    """The history on the page of a batch."""
    return f"{batch_link(batch)}#history"


def late_days(results: Results) -> dict[str, str]:
    """The day of the last late change of each batch that has any."""
    return {
        batch: max(row["date"] for row in rows)
        for batch, rows in grouped(_late(results.rows("changes")), "batch").items()
    }


def late_text(rows: Sequence[Row], remembered: bool) -> str:
    """What of one batch was changed late, and when last, and what of it is not committed; nothing where nothing was.

    Where git could not be asked nothing is `remembered`.
    """
    if not remembered:
        return say(UNKNOWN)
    late, open_ = _late(rows), _uncommitted(rows)
    told = [
        say(
            "Changed after the day it was recorded, last on {day}: {figures}.",
            day=max(row["date"] for row in late),
            figures=_names(late),
        )
        if late
        else "",
        say("Not committed, so that no history has it: {figures}.", figures=_names(open_)) if open_ else "",
    ]
    return " ".join(filter(None, told))


def history_told(results: Results) -> tuple[str, str] | None:
    """What a reader of any page has to know of the history, with the way to it; nothing where all stands as it was recorded."""
    if not results.remembered:
        return say(UNKNOWN), "quality.html"
    text = " ".join(filter(None, (_changed(results), _limits(results), _removed(results), _open(results))))
    return (text, PATH) if text else None


def late_finding(results: Results) -> str:
    """The same, or that there is nothing to be told, and what is not followed."""
    told = history_told(results)
    if not results.remembered:
        return say(UNKNOWN)
    nothing = say(
        "By the history in git nothing that was written of a batch, and no limit, was changed after the day it was recorded; none was taken away."
    )
    limits = say(
        "Not followed: lots, materials, columns and other settings, which count as they are today, and what moved with them. A batch that was made private leaves no trace."
    )
    return f"{told[0] if told is not None else nothing} {limits}"


def _changed(results: Results) -> str:
    days = late_days(results)
    if not days:
        return ""
    day = max(days.values())
    return say(
        "By the history in git, figures of {batch} were changed after the day they were recorded, last on {day}{where}.",
        batch=count(len(days), "batch", "batches"),
        day=day,
        where=_where([name for name, last in days.items() if last == day]),
    )


def _limits(results: Results) -> str:
    rows = [row for row in _late(results.rows("changes")) if row["batch"] is None]
    if not rows:
        return ""
    day = max(row["date"] for row in rows)
    return say("Limits that hold for older batches too were changed, last on {day}.", day=day)


def _removed(results: Results) -> str:
    rows = _gone(results)
    if not rows:
        return ""
    return say("Taken away after it was recorded: {batch}.", batch=_few([row["batch"] for row in rows]))


def _open(results: Results) -> str:
    rows = _uncommitted(results.rows("changes"))
    if not rows:
        return ""
    names = list(dict.fromkeys(row["batch"] for row in rows if row["batch"] is not None))
    batches = [_few(names)] if names else []
    others = dict.fromkeys(moved_figure(row) for row in rows if row["batch"] is None)
    return say(
        "What stands here is not all committed, so that no history has it: {what}.",
        what="; ".join((*batches, *others)),
    )


def _where(names: Sequence[str]) -> str:
    return say(" in {names}", names=", ".join(names)) if 0 < len(names) <= NAMED else ""


def _few(names: Sequence[str]) -> str:
    """Batches by name, or where they are many how many."""
    return ", ".join(names) if len(names) <= NAMED else count(len(names), "batch", "batches")


def _names(rows: Sequence[Row]) -> str:
    return "; ".join(dict.fromkeys(moved_figure(row) for row in rows))


def moved_figure(row: Row) -> str:
    """A figure of a batch in a few words, or the name of a property."""
    if row["figure"] is not None:
        return said(MOVED.get(str(row["figure"]), str(row["figure"])))
    if row["what"] == NOT_COMMITTED:
        return say("the batch")
    return say("no figure") if row["what"] == "changed" and row["before"] is None else "–"


def _late(rows: Sequence[Row]) -> list[Row]:
    return [row for row in rows if row["late"] == "yes"]


def _uncommitted(rows: Sequence[Row]) -> list[Row]:
    return [row for row in rows if row["what"] == NOT_COMMITTED]


def _gone(results: Results) -> list[Row]:
    """The batches that are no more."""
    here = _here(results)
    return [row for row in results.rows("changes") if row["what"] == REMOVED and row["batch"] not in here]


def _here(results: Results) -> set[str]:
    return {row["batch"] for row in results.rows("batches")}


def told_late(results: Results) -> list[Row]:
    """What was changed late, what is not committed, and what is no more."""
    rows = results.rows("changes")
    return [*_late(rows), *_uncommitted(rows), *_gone(results)]


def _shows(view: Shown) -> list[Show]:
    return [
        Show("date", say("Day"), plain("date")),
        Show("what", say("What"), worded("what")),
        Show("figure", say("What moved"), moved_figure),
        Show("before", say("Was before"), lambda row: moved_value(row, "before", view)),
        Show("after", say("After"), lambda row: moved_value(row, "after", view)),
    ]


def moved_value(row: Row, column: str, view: Shown) -> str:
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
