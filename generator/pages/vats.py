"""Vats: what is in each now, of which lots, and its account beside what the batches titrated."""

from __future__ import annotations

from collections.abc import Sequence

from generator.compute.results import Results
from generator.language import say
from generator.pages.parts import (
    Row,
    Show,
    batch_link,
    figures,
    grouped,
    lot_link,
    plain,
    table_view,
    unit_costs,
    volumes,
    worded,
)
from generator.pages.view import Figure, TableView
from generator.pages.words import Shown, count, significant
from generator.tables import VATS


def vat_figures(results: Results, view: Shown) -> dict[str, list[Figure]]:
    """What is in every vat; nothing where there is none."""
    lots = {row["lot"]: row for row in results.rows("lots")}
    out = [_figure(rows[-1], lots[vat], view) for vat, rows in grouped(results.rows("vats"), "vat").items()]
    return {say("In vats"): out} if out else {}


def _figure(last: Row, lot: Row, view: Shown) -> Figure:
    told = [last["parts"] or say("empty")]
    if last["acid_value_mg_koh_per_g"] is not None:
        told.append(say("{value} by mass", value=significant(last["acid_value_mg_koh_per_g"], "mg KOH/g", 2)))
    if last["water_mg_per_kg"] is not None:
        told.append(say("water {value}", value=significant(last["water_mg_per_kg"], "mg/kg", 2)))
    if lot["unit_cost"] is not None:
        told.append(unit_costs(view, "unit_cost")(lot))
    if last["holds"] is not None:
        told.append(
            say("room for {volume} more", volume=view.volume(max(last["holds"] - last["content"], 0.0)))
        )
    return Figure(str(last["vat"]), view.volume(last["content"]), "; ".join(told), "vat")


def vat_tables(rows: Sequence[Row], view: Shown) -> list[TableView]:
    """The account of every vat, the newest line first."""
    if not rows:
        return []
    ordered = sorted(enumerate(rows), key=lambda item: (item[1]["date"], item[0]), reverse=True)
    unit = view.display["volume"]
    return [
        table_view(
            VATS,
            "vats-table",
            say(
                "{line} of vats: what was poured in and drawn, and what it was then",
                line=count(len(rows), "line", "lines"),
            ),
            [row for _, row in ordered],
            [
                Show("vat", say("Vat"), plain("vat"), href=lambda row: lot_link(row["vat"])),
                Show("date", say("Date"), plain("date")),
                Show("event", say("Event"), worded("event")),
                Show("by", say("By"), plain("by"), href=_by_link),
                Show("amount", say("Moved"), volumes(view, "amount"), unit),
                Show("content", say("In it then"), volumes(view, "content"), unit),
                Show(
                    "acid_value_mg_koh_per_g",
                    say("Acid value"),
                    figures("acid_value_mg_koh_per_g", 2),
                    "mg KOH/g",
                ),
                Show(
                    "titrated_mg_koh_per_g", say("Titrated"), figures("titrated_mg_koh_per_g", 2), "mg KOH/g"
                ),
                Show("water_mg_per_kg", say("Water"), figures("water_mg_per_kg"), "mg/kg"),
                Show("unit_cost", say("A unit"), lambda row: view.per_volume(row["unit_cost"], 3)),
                Show("parts", say("Parts"), plain("parts")),
            ],
        )
    ]


def _by_link(row: Row) -> str:
    """To the lot that was poured in or the batch that drew; what was used for a column has a blank in its name."""
    if row["event"] == "filled":
        return lot_link(row["by"])
    return batch_link(row["by"]) if row["event"] == "drawn" and " " not in row["by"] else ""
