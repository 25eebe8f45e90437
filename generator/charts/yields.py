"""Charts of what came out: yield through time, mass closure, yield against acidity."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

import altair as alt

from generator.charts import theme
from generator.charts.theme import (
    amount,
    day,
    edged,
    filled,
    finished,
    fixed,
    marked,
    quoted,
    rows,
    time_x,
    value_y,
    word,
)
from generator.language import say, term

RUNS = (term("batch"), term("run that filled a fresh bed"))
OILS = (term("dry oil, or water not tested"), term("wet oil"))
BAND = (97.0, 103.0)  # %, a usual band for readings by hand; common practice, no source


def yield_time(params: Mapping[str, Any]) -> dict[str, Any]:
    """Volume yield with its running median; rows {date, batch, yield_volume_pct, first_run, median}."""
    del params
    title = say("finished fuel, % of the oil's volume")
    base = rows().transform_calculate(
        mark=f"datum.first_run ? {quoted(say(RUNS[1]))} : {quoted(say(RUNS[0]))}"
    )
    points = base.mark_point(stroke=theme.BLUE).encode(
        time_x(),
        value_y("yield_volume_pct", title, padding=6),
        marked("mark", RUNS, ["circle", "diamond"]).legend(None),
        filled("mark", RUNS, [theme.BLUE, theme.PAPER]).legend(None),
        tooltip=[
            word("batch", say("batch")),
            day(),
            amount("yield_volume_pct", say("% by volume"), ".1f"),
            word("mark", say("run")),
        ],
    )
    middle = rows().mark_line(color=theme.VERMILION, strokeWidth=2).encode(time_x(), alt.Y("median:Q"))
    last = (
        rows()
        .transform_filter("isValid(datum.median)")
        .transform_window(place="row_number()", sort=[alt.SortField("date", order="descending")])
        .transform_filter("datum.place === 1")
        .mark_text(
            align="right",
            baseline="bottom",
            dy=-8,
            text=say("running median"),
            **theme.HALO,
        )
        .encode(time_x(), alt.Y("median:Q"))
    )
    chart = alt.layer(points, middle, last, *_lowest(base)).properties(width=theme.WIDTH, height=theme.HEIGHT)
    return finished(
        chart,
        say(
            "Points: {title}, by date, with the running median as a line. Open diamonds: runs that filled a fresh bed.",
            title=title,
        ),
    )


def _lowest(base: alt.Chart) -> list[alt.Chart]:
    """The name of a run that filled a fresh bed, beside the lowest of them, on the side where there is room."""
    found = (
        base.transform_filter("datum.first_run && isValid(datum.yield_volume_pct)")
        .transform_window(place="row_number()", sort=[alt.SortField("yield_volume_pct")])
        .transform_filter("datum.place === 1")
    )
    sides: tuple[tuple[Any, int, str], ...] = (("left", 8, "<="), ("right", -8, ">"))
    return [
        found.mark_text(
            align=side,
            baseline="middle",
            dx=gap,
            text=alt.ExprRef(f"scale('x', datum.date) {on} width / 2 ? {quoted(say(RUNS[1]))} : ''"),
            **theme.HALO,
        ).encode(time_x(), alt.Y("yield_volume_pct:Q"))
        for side, gap, on in sides
    ]


def closure(params: Mapping[str, Any]) -> dict[str, Any]:
    """Mass out over mass in; rows {date, batch, closure_pct}."""
    del params
    title = say("mass out over mass in, %")
    area = (
        fixed([{"low": BAND[0], "high": BAND[1]}]).mark_rect(color=theme.FAINT).encode(y="low:Q", y2="high:Q")
    )
    name = theme.level_name(
        BAND[1], say("97 to 103 %, a usual band for readings by hand"), say("97 to 103 %")
    )
    points = (
        rows()
        .mark_point(color=theme.BLUE)
        .encode(
            time_x(),
            value_y("closure_pct", title, padding=6).axis(theme.RAISED),
            tooltip=[word("batch", say("batch")), day(), amount("closure_pct", "%", ".1f")],
        )
    )
    chart = alt.layer(area, name, points).properties(width=theme.WIDTH, height=200)
    return finished(chart, say("Points: {title}, by date. Band: 97 to 103 %.", title=title))


def acid_yield(params: Mapping[str, Any]) -> dict[str, Any]:
    """Mass yield against the acid value of the oil; rows {batch, acid_value, yield_mass_pct, wet, way}; params ways."""
    across = alt.X(
        "acid_value:Q", title=say("acid value of the oil, mg KOH/g"), scale=alt.Scale(zero=False, nice=True)
    )
    points = (
        rows()
        .transform_calculate(mark=f"datum.wet ? {quoted(say(OILS[1]))} : {quoted(say(OILS[0]))}")
        .mark_point(filled=False)
        .encode(
            across,
            value_y("yield_mass_pct", say("fuel before the columns, % of the oil's mass")),
            marked("mark", OILS, ["circle", "triangle-down"]).legend(alt.Legend(symbolStrokeColor=theme.INK)),
            edged("way", params["ways"], theme.CATEGORIES[: len(params["ways"])]),
            tooltip=[
                word("batch", say("batch")),
                amount("acid_value", "mg KOH/g"),
                amount("yield_mass_pct", say("% by mass"), ".1f"),
                word("mark", say("oil")),
                word("way", say("worked")),
            ],
        )
    )
    chart = points.properties(width=theme.WIDTH, height=theme.HEIGHT)
    return finished(
        chart,
        say(
            "Points: mass yield in % against the acid value of the oil in mg KOH/g, one a batch, in a colour for every way of working. Triangles: wet oil."
        ),
    )


SPECS: Mapping[str, Callable[[Mapping[str, Any]], dict[str, Any]]] = {
    "yield_time": yield_time,
    "closure": closure,
    "acid_yield": acid_yield,
}
