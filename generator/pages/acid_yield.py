"""Acidity of the oil against the yield by mass, batches beside batches that were worked alike, and the slope of each way of working."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from generator.compute.results import Results
from generator.compute.trends import LEAST
from generator.language import say
from generator.pages.bridges import CHANCE
from generator.pages.parts import Row, Show, batch_link, figures, plain, table_view, worded
from generator.pages.view import Chart, TableView
from generator.pages.words import count, number, shown_change
from generator.tables import ACID_SLOPES, ACID_YIELD

CHARTED = 120  # the newest batches
LITTLE = 0.001  # a p that needs no more digits
APART = 5  # ways of working that the chart tells apart, those with the most batches


def acid_chart(results: Results) -> Chart | None:
    """Acidity against yield; a mark of its own for every way of working, and what its slope is."""
    rows = results.rows("acid_yield")[-CHARTED:]
    if len(rows) < 3:
        return None
    emulsion = {row["batch"]: row["emulsion"] for row in results.rows("batches")}
    slopes = results.rows("acid_slopes")
    ways = [way(row) for row in slopes]
    names = [*ways[:APART], *([say("other")] if len(ways) > APART else [])]
    values: list[dict[str, Any]] = [
        {
            "batch": row["batch"],
            "acid_value": row["acid_value_mg_koh_per_g"],
            "yield_mass_pct": row["yield_mass_pct"],
            "wet": emulsion[row["batch"]] == "yes",
            "way": found if (found := way(row)) in names else names[-1],
        }
        for row in rows
    ]
    wet = sum(bool(value["wet"]) for value in values)
    sentence = say(
        "{batch} with a titration and a yield; {wet} had an emulsion. Fuel before the columns by mass of oil, so fresh beds do not blur it.",
        batch=count(len(rows), "batch", "batches"),
        wet=wet or say("none"),
    )
    table = table_view(
        ACID_YIELD,
        "acid-yield-table",
        say("Acidity and yield"),
        rows,
        [
            Show("batch", say("Batch"), plain("batch"), href=lambda row: batch_link(row["batch"])),
            *_ways(),
            Show(
                "acid_value_mg_koh_per_g",
                say("Acid value"),
                figures("acid_value_mg_koh_per_g", 2),
                "mg KOH/g",
            ),
            Show("yield_mass_pct", say("Yield by mass"), figures("yield_mass_pct", 1), "%"),
        ],
    )
    text = f"{sentence} {_finding(slopes)}"
    return Chart(
        "acid-yield", say("Acidity and yield"), text, "acid_yield", tuple(values), table, {"ways": names}
    )


def way(row: Row) -> str:
    """How a batch was worked, in words."""
    words = [
        row["purifier"] or say("no columns"),
        row["catalyst_of"] or say("base not known"),
    ]
    if row["stages"] and row["stages"] > 1:
        words.append(count(round(row["stages"]), "stage", "stages"))
    if row["pretreated"] == "yes":
        words.append(say("acid first"))
    return ", ".join(words)


def _ways() -> list[Show]:
    return [
        Show("purifier", say("Purifier"), plain("purifier")),
        Show("catalyst_of", say("Base"), plain("catalyst_of")),
        Show("stages", say("Stages"), figures("stages")),
        Show("pretreated", say("Acid first"), worded("pretreated")),
    ]


def _finding(slopes: Sequence[Row]) -> str:
    """What sourer oil gave, for every way of working of which something can be told."""
    told = [row for row in slopes if row["pct_per_mg"] is not None]
    if not told:
        return say(
            "No way of working has {least} batches, so whether sourer oil gave less cannot be told.",
            least=LEAST,
        )
    found = [say("For each mg KOH/g more, batches worked alike gave, in % by mass:")]
    found.append("; ".join(_told(row) for row in told) + ".")
    found.append(
        say(
            "Ways of working are not put together: one that gets the sweeter oil and loses more would turn the slope. Batches of one lot are no new oil, so few lots tell less than their batches seem to."
        )
    )
    return " ".join(found)


def _told(row: Row) -> str:
    ends = {
        "way": way(row),
        "slope": shown_change(row["pct_per_mg"], 2),
        "low": shown_change(row["pct_per_mg_low"], 2),
        "high": shown_change(row["pct_per_mg_high"], 2),
        "batches": count(round(row["batches"]), "batch", "batches"),
        "p": _p(row["by_chance"]),
    }
    if row["by_chance"] >= CHANCE:
        return say(
            "{way}: {slope} ({low} to {high}), which chance alone makes too (Kendall, {p}, {batches})",
            **ends,
        )
    return say("{way}: {slope} ({low} to {high}; Kendall, {p}, {batches})", **ends)


def _p(by_chance: float) -> str:
    if by_chance < LITTLE:
        return say("p under {little}", little=number(LITTLE, 3))
    return say("p = {p}", p=number(by_chance, 3 if by_chance < CHANCE else 2))


def slopes_table(results: Results) -> list[TableView]:
    """The slope of every way of working; nothing where none has enough batches."""
    rows = results.rows("acid_slopes")
    if all(row["pct_per_mg"] is None for row in rows):
        return []
    unit = say("% per mg KOH/g")
    return [
        table_view(
            ACID_SLOPES,
            "acid-slopes",
            say("Acidity and yield by way of working"),
            rows,
            [
                *_ways(),
                Show("batches", say("Batches"), figures("batches")),
                Show("pct_per_mg", say("Slope"), lambda row: shown_change(row["pct_per_mg"], 2), unit),
                Show(
                    "pct_per_mg_low",
                    say("Slope, from"),
                    lambda row: shown_change(row["pct_per_mg_low"], 2),
                    unit,
                ),
                Show(
                    "pct_per_mg_high",
                    say("Slope, to"),
                    lambda row: shown_change(row["pct_per_mg_high"], 2),
                    unit,
                ),
                Show("by_chance", say("By chance"), figures("by_chance", 3)),
            ],
        )
    ]
