"""Pressure across a bed: its figures, its chart, and what is needed for either."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from generator.language import said, say
from generator.pages.parts import Row, Show, batch_link, figure, plain, table_view
from generator.pages.view import Chart, Figure, TableView
from generator.pages.words import NARROW, Shown, count, number, significant, unknown
from generator.tables import CHARGES, RUNS

ROOT = "../"
LEAST_KPA = 0.1  # a millibar: no gauge of a column shows less


def pressure_figures(row: Row, view: Shown) -> list[Figure]:
    """How the drop of pressure rose, and where a clean bed would lie."""
    out = []
    if row["drop_rise"] is not None:
        fouled = say(": fouling") if row["fouled"] == "yes" else ""
        air = say("; behind the last bed the pressure of the air") if row["position"] == "lag" else ""
        basis = say(
            "last three runs over the first three, at like flow and temperature{air}{fouled}",
            air=air,
            fouled=fouled,
        )
        rise = f"× {significant(row['drop_rise'], '', 2)}"
        out.append(figure(CHARGES, row, "drop_rise", say("Drop of pressure"), rise, basis))
    elif row["drop_missing"] is not None:
        out.append(Figure(say("Drop of pressure"), unknown(), "", "pressure-drop", said(row["drop_missing"])))
    if row["clean_low_kpa"] is not None:
        basis = say(
            "a plausibility band by Ergun's equation at its usual flow and 20 °C; no allowable pressure"
        )
        out.append(figure(CHARGES, row, "clean_high_kpa", say("A clean bed's"), _clean(row, view), basis))
    return out


def _clean(row: Row, view: Shown) -> str:
    unit, least = view.display["pressure"], view.pressure_number(LEAST_KPA)
    low, high = (view.pressure_number(row[f"clean_{end}_kpa"]) for end in ("low", "high"))
    if row["clean_high_kpa"] < LEAST_KPA:
        return say("below {least}", least=significant(least, unit, 1))
    return say(
        "{low} to {high}{narrow}{unit}",
        low=significant(low, "", 2),
        high=significant(high, "", 2),
        narrow=NARROW,
        unit=unit,
    )


def charge_pressure(charge: Row, runs: Sequence[Row], view: Shown) -> Chart | None:
    """Inlet pressure of one charge by run, with its drops in the table."""
    if sum(row["inlet_kpa"] is not None for row in runs) < 2:
        return None
    table = table_view(
        RUNS,
        "pressure-table",
        say("Pressure by run"),
        runs,
        [
            Show("batch", say("Batch"), plain("batch"), href=lambda row: batch_link(row["batch"], ROOT)),
            pressure_show(view, "inlet_kpa", say("Inlet, highest")),
            pressure_show(view, "like_drop_kpa", say("Drop at like flow, 20 °C")),
            pressure_show(view, "drop_kpa", say("Drop across the bed")),
        ],
    )
    return inlet_chart(runs, view, lambda row: charge["vessel"], "", table)


def pressure_show(view: Shown, column: str, label: str) -> Show:
    """A pressure of a run in the display unit."""
    unit = view.display["pressure"]
    return Show(column, label, lambda row: number(view.pressure_number(row[column]), 2), unit)


def inlet_chart(
    rows: Sequence[Row], view: Shown, vessel: Callable[[Row], str], beside: str, table: TableView
) -> Chart:
    """Highest inlet pressure by run, a gap where it was not read; `beside` says more of how it was read."""
    read = sum(row["inlet_kpa"] is not None for row in rows)
    unread = (
        say(" In {rows} more it was not read, and the line breaks there.", rows=len(rows) - read)
        if read < len(rows)
        else ""
    )
    values = tuple(
        {
            "date": row["start"][:10],
            "batch": row["batch"],
            "vessel": vessel(row),
            "inlet": view.pressure_number(row["inlet_kpa"]),
        }
        for row in rows
    )
    sentence = say(
        "Highest inlet pressure read in {run}{beside}.{unread} Rising pressure says fouling, not exhaustion.",
        run=count(read, "run", "runs"),
        beside=beside,
        unread=unread,
    )
    params = {"unit": view.display["pressure"]}
    return Chart("pressure", say("Inlet pressure"), sentence, "pressure", values, table, params)
