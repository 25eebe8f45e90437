"""Charts of the columns: what each charge took up, inlet pressure, medium per 1000 litres."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

import altair as alt

from generator.charts import theme
from generator.charts.theme import amount, day, filled, finished, rows, time_x, value_y, word

STATES = ("unloaded", "in service: still falling")


def bed_load(params: Mapping[str, Any]) -> dict[str, Any]:
    """Soap in each charge; rows {date, batch, charge, vessel, load_g, capacity_g}; one panel a vessel."""
    del params
    hints = [
        word("charge"),
        word("batch"),
        day(),
        amount("load_g", "soap, g"),
        amount("capacity_g", "capacity, g"),
    ]
    load = (
        rows()
        .mark_line(color=theme.BLUE, interpolate="step-after")
        .encode(time_x(), value_y("load_g", None, zero=True), detail="charge:N")
    )
    points = rows().mark_point(color=theme.BLUE, size=18).encode(time_x(), alt.Y("load_g:Q"), tooltip=hints)
    capacity = (
        rows()
        .mark_line(color=theme.INK, strokeDash=[5, 4], strokeWidth=1)
        .encode(time_x(), alt.Y("capacity_g:Q"), detail="charge:N")
    )
    name = (
        rows()
        .transform_filter("isValid(datum.capacity_g)")
        .transform_window(place="row_number()", sort=[alt.SortField("date")], groupby=["vessel"])
        .transform_filter("datum.place === 1")
        .mark_text(align="left", baseline="bottom", dy=-4, text="capacity by the medium's row")
        .encode(time_x(), alt.Y("capacity_g:Q"))
    )
    chart = (
        alt.layer(load, points, capacity, name, data=theme.TABLE)
        .properties(width=theme.PANEL_WIDTH, height=150)
        .facet(facet=alt.Facet("panel:N", title=None), columns=1)
        .transform_calculate(panel="'vessel ' + datum.vessel + ': soap in the charge, g'")
        .resolve_scale(y="independent")
    )
    return finished(
        chart,
        "Steps: soap in each charge in g, by date, one panel a vessel; a new charge begins a new line. Dashed: its capacity.",
    )


def pressure(params: Mapping[str, Any]) -> dict[str, Any]:
    """Highest inlet pressure of each run; rows {date, batch, vessel, inlet}; params unit."""
    title = f"highest inlet pressure, {params['unit']}"
    base = rows().transform_filter("isValid(datum.inlet)")
    line = base.mark_line(strokeWidth=1).encode(
        time_x(), value_y("inlet", title, zero=True), alt.Color("vessel:N", legend=None)
    )
    points = base.mark_point(size=30).encode(
        time_x(),
        alt.Y("inlet:Q"),
        alt.Color("vessel:N", legend=None),
        alt.Shape("vessel:N", legend=None),
        tooltip=[word("vessel"), word("batch"), day(), amount("inlet", title)],
    )
    names = (
        base.transform_window(
            place="row_number()", sort=[alt.SortField("date", order="descending")], groupby=["vessel"]
        )
        .transform_filter("datum.place === 1")
        .mark_text(align="left", baseline="middle", dx=8)
        .encode(time_x(), alt.Y("inlet:Q"), alt.Color("vessel:N", legend=None), text="vessel:N")
    )
    chart = alt.layer(line, points, names).properties(width=theme.WIDTH, height=200)
    return finished(chart, f"Lines with points: {title}, by date, one line a vessel, named at its end.")


def media_rate(params: Mapping[str, Any]) -> dict[str, Any]:
    """Medium per 1000 L of fuel; rows {charge, vessel, packed, media_per_1000_l, in_service}."""
    del params
    charge = alt.Y(
        "charge:N", sort=None, axis=alt.Axis(title=None, labelLimit=160), scale=alt.Scale(paddingInner=0.35)
    )
    across = alt.X("media_per_1000_l:Q", title="kg of medium per 1000 L of fuel", scale=alt.Scale(zero=True))
    hints = [
        word("charge"),
        word("vessel"),
        word("packed"),
        amount("media_per_1000_l", "kg per 1000 L"),
        word("state"),
    ]
    base = rows().transform_calculate(state=f"datum.in_service ? '{STATES[1]}' : '{STATES[0]}'")
    bars = base.mark_bar(stroke=theme.BLUE, strokeWidth=1).encode(
        charge, across, filled("state", STATES, [theme.BLUE, theme.PAPER]), tooltip=hints
    )
    told = base.mark_text(align="left", baseline="middle", dx=5).encode(
        charge, across, text=alt.Text("media_per_1000_l:Q", format=".3~r")
    )
    chart = alt.layer(bars, told).properties(width=theme.NAMED_WIDTH, height=alt.Step(theme.STEP))
    return finished(
        chart,
        "Bars: kg of medium per 1000 L of fuel treated, one a charge. Open bars: charges in service, still falling.",
        legend_offset=12,
    )


SPECS: Mapping[str, Callable[[Mapping[str, Any]], dict[str, Any]]] = {
    "bed_load": bed_load,
    "pressure": pressure,
    "media_rate": media_rate,
}
