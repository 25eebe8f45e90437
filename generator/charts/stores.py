"""Charts of what is kept: the content of each tank by the book and by the dip."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

import altair as alt

from generator.charts import theme
from generator.charts.theme import amount, day, finished, rows, time_x, value_y, word
from generator.language import say


def tank_content(params: Mapping[str, Any]) -> dict[str, Any]:
    """Content through time; rows {date, tank, content_l, capacity_l, event, dipped_l}; one panel a tank."""
    unit = params.get("unit", "L")
    hints = [
        word("tank", say("tank")),
        day(),
        word("event", say("event")),
        amount("content_l", say("by the book, {unit}", unit=unit)),
        amount("dipped_l", say("by the dip, {unit}", unit=unit)),
    ]
    book = (
        rows()
        .mark_line(color=theme.BLUE, interpolate="step-after")
        .encode(time_x(), value_y("content_l", None, zero=True), tooltip=hints)
    )
    dips = (
        rows()
        .transform_filter("isValid(datum.dipped_l)")
        .mark_point(shape="diamond", size=60, fill=theme.PAPER, stroke=theme.VERMILION)
        .encode(time_x(), alt.Y("dipped_l:Q"), tooltip=hints)
    )
    shell = (
        rows()
        .mark_line(color=theme.INK, strokeDash=[5, 4], strokeWidth=1)
        .encode(time_x(), alt.Y("capacity_l:Q"))
    )
    name = (
        rows()
        .transform_filter("isValid(datum.capacity_l)")
        .transform_window(place="row_number()", sort=[alt.SortField("date")], groupby=["tank"])
        .transform_filter("datum.place === 1")
        .mark_text(align="left", baseline="bottom", dy=-4, text=say("volume of the shell"))
        .encode(time_x(), alt.Y("capacity_l:Q"))
    )
    named = (
        rows()
        .transform_filter("isValid(datum.dipped_l)")
        .transform_window(place="row_number()", sort=[alt.SortField("date")], groupby=["tank"])
        .transform_filter("datum.place === 1")
        .mark_text(align="left", baseline="bottom", dx=6, dy=-4, text=say("dip"), **theme.HALO)
        .encode(time_x(), alt.Y("dipped_l:Q"))
    )
    chart = (
        alt.layer(book, shell, name, dips, named, data=theme.TABLE)
        .properties(width=theme.PANEL_WIDTH, height=150)
        .facet(facet=alt.Facet("panel:N", title=None), columns=1)
        .transform_calculate(panel=f"datum.tank + ', {unit}'")
        .resolve_scale(y="independent")
    )
    return finished(
        chart,
        say(
            "Steps: content of each tank by the book in {unit}, by date, one panel a tank. Diamonds: dips. Dashed: volume of the shell.",
            unit=unit,
        ),
    )


SPECS: Mapping[str, Callable[[Mapping[str, Any]], dict[str, Any]]] = {"tank_content": tank_content}
