"""Control charts: values with the limits that were frozen for them, the weighted mean, and below them the differences."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

import altair as alt

from generator.charts import theme
from generator.charts.marks import STATES
from generator.charts.theme import (
    amount,
    day,
    edged,
    filled,
    finished,
    in_signs,
    level,
    marked,
    rows,
    time_x,
    word,
)
from generator.language import say, term


@dataclass(frozen=True, slots=True)
class Look:
    """How the points of one state look."""

    shape: str
    fill: str
    edge: str = theme.BLUE


LOOKS: Mapping[str, Look] = dict(
    zip(
        STATES,
        (
            Look("circle", theme.PAPER),
            Look("circle", theme.BLUE),
            Look("triangle-down", theme.PAPER),
            Look("diamond", theme.VERMILION, theme.VERMILION),
        ),
        strict=True,
    )
)
NAMES = {"upper": term("upper limit"), "centre": term("centre"), "lower": term("lower limit")}
MEAN = term("mean")
WIDTH = theme.PANEL_WIDTH - 70  # px, without the names behind it
# The name of the mean, a line's height away from that of the centre, and never on that of a limit.
_AT = {key: f"scale('concat_0_y', datum.{key})" for key in ("upper", "centre", "lower", "average")}
_APART = (
    f"abs({_AT['average']} - {_AT['upper']}) < 15 ? {_AT['upper']} + 15 - {_AT['average']}"
    f" : abs({_AT['average']} - {_AT['lower']}) < 15 ? {_AT['lower']} - 15 - {_AT['average']}"
    f" : abs({_AT['average']} - {_AT['centre']}) < 15"
    f" ? {_AT['centre']} + ({_AT['average']} < {_AT['centre']} ? -15 : 15) - {_AT['average']} : 0"
)


def control(params: Mapping[str, Any]) -> dict[str, Any]:
    """Values and differences of one row; rows {date, batch, value, qualifier, first, signals, piece, centre, lower, upper, average, moving_range, range_upper}; params unit, log, averaged, high, low, limit_label."""
    scale = (
        alt.Scale(type="log", nice=False, padding=14) if params["log"] else alt.Scale(zero=False, nice=True)
    )
    base = rows()
    layers: list[Any] = [
        *(_held(base, key, params["unit"], scale, 1.2) for key in ("lower", "upper")),
        _held(base, "centre", params["unit"], scale, 0.6),
        *([_line(base, "average", params["unit"], scale)] if params["averaged"] else []),
        _points(base, params, scale),
        *(_named(base, key, name, scale) for key, name in NAMES.items()),
        *([_named(base, "average", MEAN, scale, dy=alt.ExprRef(_APART))] if params["averaged"] else []),
    ]
    for key, words, above in (("high", say("at most"), True), ("low", say("at least"), False)):
        if params.get(key) is not None:
            told = f"{words} {in_signs(params[key])} {params['unit']}"
            names = [f"{told}, {params[label]}" for label in ("limit_label", "limit_short")]
            layers.append(level(params[key], *names, above=above))
    values = alt.layer(*layers).properties(width=WIDTH, height=190)
    return finished(
        alt.vconcat(values, _differences(base, params), spacing=26),
        say(
            "Points: values by date, {unit}; open circles made the limits, filled ones are held to them, triangles are bounds, diamonds call. Solid lines: centre and control limits, broken where something changed. Grey line: weighted mean. Dashed, where there is one: the limit of the specification. Below: the differences of neighbours and their upper control limit.",
            unit=params["unit"],
        ),
        legend_offset=12,
    )


def _held(base: alt.Chart, key: str, unit: str, scale: alt.Scale, width: float) -> Any:
    """A line that stands still from change to change."""
    known = base.transform_filter(f"isValid(datum.{key})")
    return known.mark_line(color=theme.INK, strokeWidth=width).encode(
        time_x(), alt.Y(f"{key}:Q", title=unit, scale=scale, axis=theme.RAISED), detail="piece:N"
    )


def _line(base: alt.Chart, key: str, unit: str, scale: alt.Scale) -> Any:
    known = base.transform_filter(f"isValid(datum.{key})")
    return known.mark_line(color=theme.GREY, strokeWidth=2).encode(
        time_x(), alt.Y(f"{key}:Q", title=unit, scale=scale), detail="piece:N"
    )


def _named(base: alt.Chart, key: str, name: str, scale: alt.Scale, dy: Any = 0) -> Any:
    """The name of a line, behind the plot, at the height of its end."""
    return (
        base.transform_filter(f"isValid(datum.{key})")
        .transform_window(place="row_number()", sort=[alt.SortField("date", order="descending")])
        .transform_filter("datum.place === 1")
        .mark_text(align="left", baseline="middle", dx=4, dy=dy, text=say(name))
        .encode(x=alt.value("width"), y=alt.Y(f"{key}:Q", scale=scale))
    )


def _points(base: alt.Chart, params: Mapping[str, Any], scale: alt.Scale) -> Any:
    hints = [
        word("batch", say("batch")),
        day(),
        word("state", say("point")),
        word("signals", say("signals")),
        amount("value", params["unit"]),
        amount("lower", say("lower control limit")),
        amount("upper", say("upper control limit")),
    ]
    states = [state for state in STATES if say(state) in params["states"]]
    looks = [LOOKS[state] for state in states]
    known = base.transform_filter("isValid(datum.value)")
    return known.mark_point().encode(
        time_x(),
        alt.Y("value:Q", title=params["unit"], scale=scale),
        marked("state", states, [look.shape for look in looks]),
        filled("state", states, [look.fill for look in looks]),
        edged("state", states, [look.edge for look in looks]),
        tooltip=hints,
    )


def _differences(base: alt.Chart, params: Mapping[str, Any]) -> Any:
    title = say(
        "difference to the point before, {unit}",
        unit=say("of logarithms") if params["log"] else params["unit"],
    )
    known = base.transform_filter("isValid(datum.moving_range)")
    points = known.mark_point(stroke=theme.BLUE, fill=theme.PAPER, size=22).encode(
        time_x(),
        alt.Y("moving_range:Q", title=title, scale=alt.Scale(zero=True)),
        tooltip=[word("batch", say("batch")), day(), amount("moving_range", say("difference"))],
    )
    limit = (
        base.transform_filter("isValid(datum.range_upper)")
        .mark_line(color=theme.INK, strokeWidth=1.2)
        .encode(time_x(), alt.Y("range_upper:Q", title=title), detail="piece:N")
    )
    name = _named(base, "range_upper", NAMES["upper"], alt.Scale(zero=True))
    return alt.layer(limit, points, name).properties(width=WIDTH, height=80)


SPECS: Mapping[str, Callable[[Mapping[str, Any]], dict[str, Any]]] = {"control": control}
