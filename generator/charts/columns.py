"""Charts of the columns: what each charge took up, inlet pressure, medium per 1000 litres."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

import altair as alt

from generator.charts import theme
from generator.charts.theme import (
    amount,
    as_detected,
    day,
    detected_signs,
    filled,
    finished,
    marked,
    quoted,
    rows,
    time_x,
    value_y,
    word,
)
from generator.language import say, term

EVENT_SHAPES = {"rinse": "triangle-down", "regenerate": "diamond", "rotate": "cross"}
LETTER = 7  # px, about the width of a figure in a chart's text
STATES = (term("unloaded"), term("in service: still falling"))


def bed_load(params: Mapping[str, Any]) -> dict[str, Any]:
    """Soap in each charge; rows {date, batch, charge, vessel, load_g, capacity_g}; one panel a vessel."""
    del params
    hints = [
        word("charge", say("charge")),
        word("batch", say("batch")),
        day(),
        amount("load_g", say("soap, g")),
        amount("capacity_g", say("capacity, g")),
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
        .mark_text(align="left", baseline="top", dx=3, dy=4, text=say("capacity"), **theme.HALO)
        .encode(time_x(), alt.Y("capacity_g:Q"))
    )
    before, behind = say("vessel {vessel}, g of soap").split("{vessel}")
    chart = (
        alt.layer(load, points, capacity, name, data=theme.TABLE)
        .properties(width=theme.PANEL_WIDTH, height=150)
        .facet(facet=alt.Facet("panel:N", title=None), columns=1)
        .transform_calculate(panel=f"{quoted(before)} + datum.vessel + {quoted(behind)}")
        .resolve_scale(y="independent")
    )
    return finished(
        chart,
        say(
            "Steps: soap in each charge in g, by date, one panel a vessel; a new charge begins a new line. Dashed: its capacity."
        ),
    )


def pressure(params: Mapping[str, Any]) -> dict[str, Any]:
    """Highest inlet pressure of each run; rows {date, batch, vessel, inlet}; params unit."""
    title = say("highest inlet pressure, {unit}", unit=params["unit"])
    line = (
        rows()
        .mark_line(color=theme.BLUE, strokeWidth=1, invalid="break-paths-show-domains")
        .encode(time_x(), value_y("inlet", None, zero=True))
    )
    points = (
        rows()
        .transform_filter("isValid(datum.inlet)")
        .mark_point(color=theme.BLUE, size=18)
        .encode(
            time_x(),
            alt.Y("inlet:Q"),
            tooltip=[
                word("vessel", say("vessel")),
                word("batch", say("batch")),
                day(),
                amount("inlet", title),
            ],
        )
    )
    before, behind = say("vessel {vessel}, {unit}", unit=params["unit"], vessel="{vessel}").split("{vessel}")
    chart = (
        alt.layer(line, points, data=theme.TABLE)
        .properties(width=theme.PANEL_WIDTH, height=theme.PANEL)
        .facet(facet=alt.Facet("panel:N", title=None), columns=1)
        .transform_calculate(panel=f"{quoted(before)} + datum.vessel + {quoted(behind)}")
    )
    return finished(
        chart, say("Lines with points: {title}, by date, one panel a vessel on one scale.", title=title)
    )


def bed_uptake(params: Mapping[str, Any]) -> dict[str, Any]:
    """Share of soap that passes a bed against what it holds; rows {batch, load_g, passes, in, out, detected, low, middle, high}.

    The params' `parts` say which of `band`, `capacity` and `curve` have rows: a layer without any would be drawn on no scale.
    """
    held = alt.X("load_g:Q", title=say("soap held by the bed, g"), scale=alt.Scale(zero=True, nice=True))
    base = rows().transform_calculate(mark=as_detected())
    points = (
        base.transform_filter("isValid(datum.passes)")
        .mark_point(stroke=theme.BLUE)
        .encode(
            held,
            value_y("passes", say("soap behind the bed over soap before it, %"), zero=True),
            *detected_signs(),
            tooltip=[
                word("batch", say("batch")),
                amount("load_g", say("soap held, g")),
                amount("in", say("before, mg/kg")),
                amount("out", say("behind, mg/kg")),
                word("mark", say("soap")),
            ],
        )
    )
    curve = (
        rows()
        .transform_filter("isValid(datum.curve)")
        .mark_line(color=theme.GREEN)
        .encode(alt.X("load_g:Q"), alt.Y("curve:Q"))
    )
    ends = rows().transform_aggregate(low="max(low)", middle="max(middle)", high="max(high)")
    band = (
        ends.transform_filter("datum.high > datum.low")
        .mark_rect(color=theme.FAINT)
        .encode(alt.X("low:Q"), x2="high:Q")
    )
    line = ends.transform_filter("isValid(datum.middle)")
    capacity = line.mark_rule(strokeDash=[5, 4], color=theme.INK).encode(x="middle:Q")
    told = say("capacity and its range") if "band" in params["parts"] else say("capacity")
    name = line.mark_text(align="right", baseline="bottom", dx=4, dy=-4, text=told).encode(
        x="middle:Q", y=alt.value(0)
    )
    layers = {"band": band, "capacity": capacity, "curve": curve}
    names = [name] if "capacity" in params["parts"] else []
    chart = alt.layer(*(layers[part] for part in params["parts"]), points, *names)
    chart = chart.properties(width=theme.WIDTH, height=220)
    return finished(
        chart,
        say(
            "Points: soap behind the bed over soap before it, in %, against the soap it held after that run in g. Dashed: its capacity, with the range it was learnt in shaded. Line: the fitted curve, where there is one. Open triangles pointing down: not detected, drawn at the detection limit."
        ),
        legend_offset=60,
    )


def bed_strips(params: Mapping[str, Any]) -> dict[str, Any]:
    """Each vessel's charges through time; rows {vessel, charge, start, end, told, kind}: a charge, or an event at `start`; params events."""
    events = params["events"]
    vessel = alt.Y("vessel:N", title=None, scale=alt.Scale(paddingInner=0.4, paddingOuter=0.2))
    x = alt.X(
        "start:T",
        title=None,
        scale=alt.Scale(type="utc"),
        axis=alt.Axis(labelOverlap="greedy", labelFlush=True, labelSeparation=8, tickCount=7),
    )
    hints = [word("charge", say("charge")), word("told", say("what"))]
    charges = rows().transform_filter("datum.kind === 'charge'")
    bars = charges.mark_bar(stroke=theme.BLUE, strokeWidth=1, height=alt.RelativeBandSize(0.7)).encode(
        x,
        vessel,
        x2="end:T",
        fill=alt.condition("datum.standing", alt.value(theme.PAPER), alt.value(theme.FAINT)),
        tooltip=hints,
    )
    broad = f"scale('x', datum.end) - scale('x', datum.start) > {LETTER} * length(datum.name) + 3"
    names = charges.mark_text(
        align="left", baseline="middle", dx=3, text=alt.ExprRef(f"{broad} ? datum.name : ''")
    ).encode(x, vessel)
    marks = (
        rows()
        .transform_filter("datum.kind !== 'charge'")
        .mark_point(stroke=theme.VERMILION, fill=theme.PAPER, yOffset=-14)
        .encode(x, vessel, marked("kind", events, [EVENT_SHAPES[event] for event in events]), tooltip=hints)
    )
    chart = alt.layer(bars, names, *([marks] if events else [])).properties(
        width=theme.NAMED_WIDTH, height=alt.Step(44)
    )
    return finished(
        chart,
        say(
            "Strips: the charges of each vessel from packing to unloading, by date; open strips are in service. Marks above them: rinses, regenerations and rotations."
        ),
        legend_offset=12,
    )


def media_rate(params: Mapping[str, Any]) -> dict[str, Any]:
    """Medium per thousand of fuel; rows {charge, vessel, packed, media_per_thousand, in_service}, in `unit`."""
    unit = params["unit"]
    charge = alt.Y(
        "charge:N", sort=None, axis=alt.Axis(title=None, labelLimit=160), scale=alt.Scale(paddingInner=0.35)
    )
    across = alt.X(
        "media_per_thousand:Q", title=say("medium, {unit} of fuel", unit=unit), scale=alt.Scale(zero=True)
    )
    hints = [
        word("charge", say("charge")),
        word("vessel", say("vessel")),
        word("packed", say("packed")),
        amount("media_per_thousand", unit),
        word("state", say("state")),
    ]
    base = rows().transform_calculate(
        state=f"datum.in_service ? {quoted(say(STATES[1]))} : {quoted(say(STATES[0]))}"
    )
    bars = base.mark_bar(stroke=theme.BLUE, strokeWidth=1).encode(
        charge, across, filled("state", STATES, [theme.BLUE, theme.PAPER]), tooltip=hints
    )
    told = base.mark_text(align="left", baseline="middle", dx=5).encode(
        charge, across, text=alt.Text("media_per_thousand:Q", format=".3~r")
    )
    chart = alt.layer(bars, told).properties(width=theme.NAMED_WIDTH, height=alt.Step(theme.STEP))
    return finished(
        chart,
        say(
            "Bars: medium in {unit} of fuel treated, one a charge. Open bars: charges in service, still falling.",
            unit=unit,
        ),
        legend_offset=12,
    )


SPECS: Mapping[str, Callable[[Mapping[str, Any]], dict[str, Any]]] = {
    "bed_load": bed_load,
    "bed_uptake": bed_uptake,
    "bed_strips": bed_strips,
    "pressure": pressure,
    "media_rate": media_rate,
}
