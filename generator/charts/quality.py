"""Charts of results: soap at its three points, one property against its limit."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

import altair as alt

from generator.charts import theme
from generator.charts.marks import RESULTS
from generator.charts.theme import (
    amount,
    as_detected,
    day,
    detected_signs,
    edged,
    filled,
    finished,
    in_signs,
    level_name,
    marked,
    rows,
    time_x,
    value_y,
    word,
)
from generator.language import say, term

POINTS = (term("feed"), term("between"), term("product"))
DECADES = [value * 10**power for power in range(4) for value in (1, 2, 5)]  # mg/kg, where lines are drawn
RESULT_LOOKS = dict(
    zip(
        RESULTS,
        (
            ("circle", theme.PAPER),
            ("square", theme.BLUE),
            ("triangle-down", theme.PAPER),
            ("triangle-up", theme.PAPER),
        ),
        strict=True,
    )
)


def soap_points(params: Mapping[str, Any]) -> dict[str, Any]:
    """Soap through time, one panel a point, log scale; rows {date, batch, point, mg_per_kg, detected, limit}."""
    del params
    base = (
        rows()
        .transform_calculate(
            panel="datum.point + ', mg/kg'",
            shown="datum.detected ? datum.mg_per_kg : datum.limit",
            mark=as_detected(),
        )
        .transform_filter("isValid(datum.shown) && datum.shown > 0")
    )
    points = base.mark_point(stroke=theme.BLUE).encode(
        time_x(),
        alt.Y("shown:Q", title=None, scale=alt.Scale(type="log"), axis=alt.Axis(values=DECADES, format="~r")),
        *detected_signs(),
        tooltip=[
            word("batch", say("batch")),
            day(),
            word("mark", say("soap")),
            amount("mg_per_kg", "mg/kg"),
            amount("limit", say("detection limit, mg/kg")),
        ],
    )
    chart = (
        points.properties(width=theme.PANEL_WIDTH, height=theme.PANEL)
        .facet(
            facet=alt.Facet("panel:N", sort=[f"{say(point)}, mg/kg" for point in POINTS], title=None),
            columns=1,
        )
        .resolve_scale(y="independent")
    )
    return finished(
        chart,
        say(
            "Points: soap in mg/kg by date at the feed, between the columns and in the product, each on a log scale. Open triangles pointing down: not detected, drawn at the detection limit."
        ),
        legend_offset=8,
    )


def property_limit(params: Mapping[str, Any]) -> dict[str, Any]:
    """Results of one property; rows {date, batch, value, mark, low, high}; params property, unit, marks, and of the last limit low, high, limit_label, limit_short."""
    name, unit = params["property"], params["unit"]
    title = ", ".join(part for part in (say(name), unit) if part)
    marks = [mark for mark in RESULTS if say(mark) in params["marks"]]
    points = (
        rows()
        .mark_point(stroke=theme.BLUE)
        .encode(
            time_x(),
            value_y("value", title, zero=True).axis(theme.RAISED),
            marked("mark", marks, [RESULT_LOOKS[mark][0] for mark in marks]),
            filled("mark", marks, [RESULT_LOOKS[mark][1] for mark in marks]),
            tooltip=[word("batch", say("batch")), day(), word("mark", say("result")), amount("value", title)],
        )
    )
    layers: list[Any] = [points]
    for key, words, above in (("high", say("at most"), True), ("low", say("at least"), False)):
        if params.get(key) is not None:
            layers.append(_limit_line(key))
            told = f"{words} {in_signs(params[key])} {unit}".strip()
            names = [
                ", ".join(part for part in (told, params[label]) if part)
                for label in ("limit_label", "limit_short")
            ]
            layers.append(level_name(params[key], *names, above=above))
    chart = alt.layer(*layers).properties(width=theme.WIDTH, height=220)
    return finished(
        chart,
        say(
            "Points: results of {title}, by date; bench and laboratory differ in shape, results given as less or more than a bound are open triangles. Dashed: the limit of the day.",
            title=title,
        ),
        legend_offset=60,
    )


STATES = (
    term("laboratory: within"),
    term("laboratory: cannot tell"),
    term("laboratory: outside"),
    term("bench only"),
    term("not asked"),
)
STATE_LOOKS = dict(
    zip(
        STATES,
        (
            ("square", theme.BLUE, theme.BLUE),
            ("diamond", theme.PAPER, theme.BLUE),
            ("cross", theme.VERMILION, theme.VERMILION),
            ("circle", theme.PAPER, theme.BLUE),
            ("triangle-up", theme.PAPER, theme.BLUE),
        ),
        strict=True,
    )
)


def standing(params: Mapping[str, Any]) -> dict[str, Any]:
    """A mark where a batch was tested for a property; rows {batch, date, property, state, results}; params properties, states."""
    states = [state for state in STATES if say(state) in params["states"]]
    axis = alt.Axis(
        title=say("batch, in order of date"),
        labelAngle=0,
        labelOverlap="greedy",
        labelSeparation=12,
        ticks=False,
    )
    names = alt.Axis(title=None, grid=True, labelLimit=220, ticks=False)
    chart = (
        rows()
        .transform_filter("isValid(datum.state)")
        .mark_point(size=alt.ExprRef("clamp(pow(width / length(domain('x')), 2), 12, 46)"))
        .encode(
            alt.X("batch:N", sort=alt.EncodingSortField(field="date", op="min"), axis=axis),
            alt.Y("property:N", sort=None, scale=alt.Scale(domain=list(params["properties"])), axis=names),
            marked("state", states, [STATE_LOOKS[state][0] for state in states]),
            filled("state", states, [STATE_LOOKS[state][1] for state in states]),
            edged("state", states, [STATE_LOOKS[state][2] for state in states]),
            tooltip=[
                word("batch", say("batch")),
                day(),
                word("property", say("property")),
                word("state", say("state")),
                word("results", say("results")),
            ],
        )
        .properties(width=theme.NAMED_WIDTH - 60, height=alt.Step(theme.STEP - 4))
    )
    return finished(
        chart,
        say(
            "One column a batch, one row a property. Filled square: the laboratory's results lie within the limit. Open diamond: cannot tell. Cross: one of them lies outside. Circle: bench readings only. Triangle: tested, and the edition has no limit. No mark: not tested."
        ),
        legend_offset=8,
    )


def _limit_line(key: str) -> Any:
    """The limit of each result's day, dashed, a step where the edition changed."""
    known = rows().transform_filter(f"isValid(datum.{key})")
    return known.mark_line(strokeDash=[5, 4], color=theme.INK, interpolate="step-after").encode(
        time_x(), alt.Y(f"{key}:Q")
    )


SPECS: Mapping[str, Callable[[Mapping[str, Any]], dict[str, Any]]] = {
    "soap_points": soap_points,
    "property_limit": property_limit,
    "standing": standing,
}
