"""Control charts: values with the limits that were frozen for them, the weighted mean, and below them the differences."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any, Literal

import altair as alt

from generator.charts import theme
from generator.charts.theme import (
    amount,
    day,
    filled,
    finished,
    in_signs,
    level,
    marked,
    quoted,
    rows,
    time_x,
    word,
)
from generator.language import say, term

STATES = (
    term("limits frozen from it"),
    term("held to the limits"),
    term("only a bound"),
    term("something calls"),
)
SHAPES = ("circle", "circle", "triangle-down", "diamond")
FILLS = (theme.PAPER, theme.BLUE, theme.PAPER, theme.VERMILION)


def control(params: Mapping[str, Any]) -> dict[str, Any]:
    """Values and differences of one row; rows {date, batch, value, qualifier, first, signals, piece, centre, lower, upper, average, moving_range, range_upper}; params unit, log, averaged, high, low, limit_label."""
    scale = (
        alt.Scale(type="log", nice=False, padding=14) if params["log"] else alt.Scale(zero=False, nice=True)
    )
    base = rows().transform_calculate(state=_state())
    layers: list[Any] = [
        *(_held(base, key, params["unit"], scale, 1.2) for key in ("lower", "upper")),
        _held(base, "centre", params["unit"], scale, 0.6),
        *([_line(base, "average", params["unit"], scale)] if params["averaged"] else []),
        _named(base, "upper", say("upper control limit"), scale),
        _named(base, "lower", say("lower control limit"), scale, baseline="top"),
        _named(base, "centre", say("centre"), scale),
        *(
            [_named(base, "average", say("weighted mean"), scale, baseline="top", last=True)]
            if params["averaged"]
            else []
        ),
        _points(base, params, scale),  # over the names, which hide none
    ]
    for key, words, above in (("high", say("at most"), True), ("low", say("at least"), False)):
        if params.get(key) is not None:
            told = f"{words} {in_signs(params[key])} {params['unit']}, {params['limit_label']}"
            layers.append(level(params[key], told, above=above))
    values = alt.layer(*layers).properties(width=theme.PANEL_WIDTH, height=190)
    return finished(
        alt.vconcat(values, _differences(base, params), spacing=26),
        say(
            "Points: values by date, {unit}; open circles made the limits, filled ones are held to them, triangles are bounds, diamonds call. Solid lines: centre and control limits, broken where something changed. Grey line: weighted mean. Dashed, where there is one: the limit of the specification. Below: the differences of neighbours and their upper control limit.",
            unit=params["unit"],
        ),
        legend_offset=44,
    )


def _state() -> str:
    frozen, held, bound, calls = (quoted(state) for state in STATES)
    return f"datum.signals ? {calls} : datum.qualifier ? {bound} : datum.first === 'yes' ? {frozen} : {held}"


def _held(base: alt.Chart, key: str, unit: str, scale: alt.Scale, width: float) -> Any:
    """A line that stands still from change to change."""
    known = base.transform_filter(f"isValid(datum.{key})")
    return known.mark_line(color=theme.INK, strokeWidth=width).encode(
        time_x(), alt.Y(f"{key}:Q", title=unit, scale=scale), detail="piece:N"
    )


def _line(base: alt.Chart, key: str, unit: str, scale: alt.Scale) -> Any:
    known = base.transform_filter(f"isValid(datum.{key})")
    return known.mark_line(color=theme.GREY, strokeWidth=2).encode(
        time_x(), alt.Y(f"{key}:Q", title=unit, scale=scale), detail="piece:N"
    )


def _named(
    base: alt.Chart,
    key: str,
    name: str,
    scale: alt.Scale,
    *,
    baseline: Literal["bottom", "top"] = "bottom",
    last: bool = False,
) -> Any:
    """The name of a line, on it: at its left end, or at its right."""
    order: Any = "descending" if last else "ascending"
    return (
        base.transform_filter(f"isValid(datum.{key})")
        .transform_window(place="row_number()", sort=[alt.SortField("date", order=order)])
        .transform_filter("datum.place === 1")
        .mark_text(
            align="right" if last else "left",
            baseline=baseline,
            dy=4 if baseline == "top" else -4,
            text=name,
            **theme.HALO,
        )
        .encode(time_x(), alt.Y(f"{key}:Q", scale=scale))
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
    known = base.transform_filter("isValid(datum.value)")
    return known.mark_point(stroke=theme.BLUE).encode(
        time_x(),
        alt.Y("value:Q", title=params["unit"], scale=scale),
        marked("state", STATES, SHAPES),
        filled("state", STATES, FILLS),
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
    return alt.layer(limit, points).properties(width=theme.PANEL_WIDTH, height=80)


SPECS: Mapping[str, Callable[[Mapping[str, Any]], dict[str, Any]]] = {"control": control}
