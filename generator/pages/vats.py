"""Vats: what is in each now, of which lots, and its account beside what the batches titrated."""

from __future__ import annotations

from collections.abc import Sequence

from generator.compute.results import Results
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
)
from generator.pages.view import Figure, TableView
from generator.pages.words import Shown, count, significant
from generator.tables import VATS


def vat_figures(results: Results, view: Shown) -> dict[str, list[Figure]]:
    """What is in every vat; nothing where there is none."""
    lots = {row["lot"]: row for row in results.rows("lots")}
    out = [_figure(rows[-1], lots[vat], view) for vat, rows in grouped(results.rows("vats"), "vat").items()]
    return {"In vats": out} if out else {}


def _figure(last: Row, lot: Row, view: Shown) -> Figure:
    told = [last["parts"] or "empty"]
    if last["acid_value_mg_koh_per_g"] is not None:
        told.append(f"{significant(last['acid_value_mg_koh_per_g'], 'mg KOH/g', 2)} by mass")
    if last["water_mg_per_kg"] is not None:
        told.append(f"water {significant(last['water_mg_per_kg'], 'mg/kg', 2)}")
    if lot["unit_cost"] is not None:
        told.append(unit_costs(view, "unit_cost")(lot))
    if last["holds"] is not None:
        told.append(f"room for {view.volume(max(last['holds'] - last['content'], 0.0))} more")
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
            f"{count(len(rows), 'line')} of vats: what was poured in and drawn, and what it was then",
            [row for _, row in ordered],
            [
                Show("vat", "Vat", plain("vat"), href=lambda row: lot_link(row["vat"])),
                Show("date", "Date", plain("date")),
                Show("event", "Event", plain("event")),
                Show("by", "By", plain("by"), href=_by_link),
                Show("amount", "Moved", volumes(view, "amount"), unit),
                Show("content", "In it then", volumes(view, "content"), unit),
                Show(
                    "acid_value_mg_koh_per_g", "Acid value", figures("acid_value_mg_koh_per_g", 2), "mg KOH/g"
                ),
                Show("titrated_mg_koh_per_g", "Titrated", figures("titrated_mg_koh_per_g", 2), "mg KOH/g"),
                Show("water_mg_per_kg", "Water", figures("water_mg_per_kg"), "mg/kg"),
                Show("unit_cost", "A unit", lambda row: view.per_volume(row["unit_cost"], 3)),
                Show("parts", "Parts", plain("parts")),
            ],
        )
    ]


def _by_link(row: Row) -> str:
    """To the lot that was poured in or the batch that drew; what was used for a column has a blank in its name."""
    if row["event"] == "filled":
        return lot_link(row["by"])
    return batch_link(row["by"]) if row["event"] == "drawn" and " " not in row["by"] else ""
