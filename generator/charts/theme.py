"""How every chart looks, in one place: type, axes, colours, and the pieces that several kinds share.

Colours are variables of the style sheet, so that a chart follows the page into the dark and onto paper.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

import altair as alt

from generator.language import say, spoken, term

WIDTH = 820  # px, of a chart with its axes; scripts fit it to the page
PANEL_WIDTH = WIDTH - 72  # px, of one of several panels, without its axis
NAMED_WIDTH = WIDTH - 150  # px, of a chart with names up its side, without them
HEIGHT = 260
PANEL = 120  # px, height of one of several panels
BESIDE = 58  # px, a column of words beside marks
STEP = 22  # px, a row of a chart with one row per name
FONT = "Liberation Sans"  # measured with it, as the library brings it: any other is looked for among the fonts of the machine, word by word

INK, SOFT, RULE, FAINT, PAPER = "var(--ink)", "var(--soft)", "var(--rule)", "var(--faint)", "var(--paper)"
BLUE, VERMILION, GREEN, PURPLE = "var(--blue)", "var(--vermilion)", "var(--green)", "var(--purple)"
ORANGE, SKY, GREY = "var(--orange)", "var(--sky)", "var(--grey)"
FOUND = (term("found"), term("not detected: at the detection limit"))
CATEGORIES = (BLUE, VERMILION, GREEN, PURPLE, ORANGE, SKY, GREY)

RAISED = alt.Axis(titleY=-38)  # of an axis above whose plot the name of a line may stand
MOST_GROUPS = 8  # of digits, more than any number of a chart has
NARROW = 430  # px, of a plot; below it the name of a limit is the short one

# Words on top of marks: an edge of paper around them; the style sheet paints it under the letters.
HALO: Mapping[str, Any] = {"stroke": PAPER, "strokeWidth": 4, "strokeJoin": "round"}

# what stands at a tick of the axis of days; a day of a month stands as the locale has it
DAYS = {"year": "%Y", "quarter": "%B", "month": "%B", "hours": "%H:%M"}
CONFIG: Mapping[str, Any] = {
    "background": None,
    "font": FONT,
    "padding": {"left": 4, "top": 6, "right": 20, "bottom": 4},
    "view": {"stroke": None, "continuousWidth": WIDTH, "continuousHeight": HEIGHT},
    "range": {"category": list(CATEGORIES)},
    "axis": {
        "labelColor": SOFT,
        "labelFontSize": 13,
        "titleColor": SOFT,
        "titleFontSize": 13,
        "titleFontWeight": "normal",
        "domainColor": RULE,
        "tickColor": RULE,
        "gridColor": FAINT,
        "tickSize": 4,
        "labelPadding": 4,
    },
    # no number and no day is long enough to be cut off, and asking each how wide it is takes a quarter of a picture's time
    "axisQuantitative": {"labelLimit": 0},
    "axisTemporal": {
        "labelLimit": 0,
    },
    "axisXQuantitative": {"labelOverlap": "greedy", "labelSeparation": 10},
    "axisX": {"grid": False, "titlePadding": 8},
    "axisY": {
        "domain": False,
        "ticks": False,
        "tickCount": 5,
        "titleAngle": 0,
        "titleAlign": "left",
        "titleX": -40,
        "titleY": -22,
    },
    "legend": {
        "orient": "top",
        "direction": "horizontal",
        "columns": 4,
        "title": None,
        "labelColor": INK,
        "labelFontSize": 13,
        "symbolSize": 90,
        "offset": 44,
        "columnPadding": 14,
        "labelLimit": 260,
        "symbolStrokeWidth": 1.5,
        "layout": {"top": {"direction": "vertical"}},  # one below the other, where a chart has two
    },
    "header": {
        "labelColor": INK,
        "labelFontSize": 13,
        "labelAnchor": "start",
        "labelPadding": 6,
        "title": None,
    },
    "facet": {"spacing": 22},
    "text": {"color": INK, "fontSize": 13},
    "rule": {"color": INK},
    "point": {"size": 34, "strokeWidth": 1.5, "filled": True, "opacity": 1},
    "line": {"strokeWidth": 1.5},
}
TABLE = alt.NamedData(name="table")


def rows() -> alt.Chart:
    """A chart on the rows named `table`."""
    return alt.Chart(TABLE)


def fixed(values: Sequence[Mapping[str, Any]]) -> alt.Chart:
    """A chart on values that the specification brings along: the place and the name of a line."""
    return alt.Chart(alt.InlineData(values=[dict(value) for value in values]))


def time_x() -> alt.X:
    """Days along the bottom, the same in every time zone."""
    axis = alt.Axis(
        title=None, labelOverlap="greedy", labelFlush=True, labelBound=True, labelSeparation=8, tickCount=7
    )
    return alt.X("date:T", scale=alt.Scale(type="utc", padding=12), axis=axis)


def value_y(field: str, title: str | None, **scale: Any) -> alt.Y:
    """Numbers up the side, the unit in the title above them."""
    return alt.Y(f"{field}:Q", title=title, scale=alt.Scale(**{"zero": False, "nice": True, **scale}))


def beside(**scale: Any) -> alt.Scale:
    """A scale along the bottom that leaves room at its right end for a column of words."""
    return alt.Scale(range=[0, alt.ExprRef(f"width - {BESIDE}")], **scale)


def day() -> alt.Tooltip:
    """The day a mark stands for."""
    return alt.Tooltip("date:T", timeUnit="utcyearmonthdate", format="%Y-%m-%d", title=say("date"))


def word(field: str, title: str) -> alt.Tooltip:
    """A word about a mark."""
    return alt.Tooltip(f"{field}:N", title=title)


def amount(field: str, title: str, pattern: str = ".3~r") -> alt.Tooltip:
    """A number about a mark."""
    return alt.Tooltip(f"{field}:Q", title=title, format=pattern)


def marked(field: str, names: Sequence[str], shapes: Sequence[str]) -> alt.Shape:
    """Shapes that carry the difference, with their words above the chart."""
    return alt.Shape(
        f"{field}:N", scale=alt.Scale(domain=[say(name) for name in names], range=list(shapes)), title=None
    )


def filled(field: str, names: Sequence[str], fills: Sequence[str]) -> alt.Fill:
    """The fill that goes with the shapes: paper for what is open."""
    return alt.Fill(
        f"{field}:N", scale=alt.Scale(domain=[say(name) for name in names], range=list(fills)), title=None
    )


def edged(field: str, names: Sequence[str], strokes: Sequence[str]) -> alt.Stroke:
    """The edge that goes with the shapes."""
    return alt.Stroke(
        f"{field}:N", scale=alt.Scale(domain=[say(name) for name in names], range=list(strokes)), title=None
    )


def as_detected() -> str:
    """The expression that gives a row its word: found, or not detected."""
    return f"datum.detected ? {quoted(say(FOUND[0]))} : {quoted(say(FOUND[1]))}"


def detected_signs() -> tuple[alt.Shape, alt.Fill]:
    """A dot for what was found; an open triangle, pointing down, at the limit for what was not. They stand for `mark`."""
    return marked("mark", FOUND, ["circle", "triangle-down"]), filled("mark", FOUND, [BLUE, PAPER])


def in_signs(value: float, decimals: int | None = None) -> str:
    """A number in a text of a chart, in the signs of the language."""
    text = f"{value:g}" if decimals is None else f"{value:.{decimals}f}"
    return text.replace(".", spoken().signs.decimal)


def quoted(text: str) -> str:
    """A text as a string of an expression."""
    escaped = text.replace("\\", "\\\\").replace("'", "\\'")
    return f"'{escaped}'"


def level(value: float, label: str, short: str = "", *, above: bool = True) -> Any:
    """A dashed line across the chart with its name on it."""
    line = fixed([{"level": value}]).mark_rule(strokeDash=[5, 4], color=INK).encode(y="level:Q")
    return alt.layer(line, level_name(value, label, short, above=above))


def level_name(value: float, label: str, short: str = "", *, above: bool = True) -> Any:
    """A name at a height, at the left edge of the chart; a narrow one has the short name."""
    named = f"width < {NARROW} ? {quoted(short or label)} : {quoted(label)}"
    return (
        fixed([{"level": value}])
        .mark_text(
            align="left",
            baseline="bottom" if above else "top",
            dx=4,
            dy=-3 if above else 4,
            text=alt.ExprRef(named),
            **HALO,
        )
        .encode(y="level:Q", x=alt.value(0))
    )


def upright(value: float, label: str, *, row: int = 0) -> alt.LayerChart | alt.FacetChart:
    """A dashed line up the chart with its name over its top; `row` 1 puts the name a line higher."""
    base = fixed([{"level": value, "label": label}])
    line = base.mark_rule(strokeDash=[5, 4], color=INK).encode(x="level:Q")
    name = base.mark_text(align="right", baseline="bottom", dx=4, dy=-4 - 16 * row).encode(
        x="level:Q", y=alt.value(0), text="label:N"
    )
    return alt.layer(line, name)


def finished(chart: Any, description: str, *, legend_offset: int = 44) -> dict[str, Any]:
    """The specification with its description and the theme; no address of a schema, for nothing here is looked up.

    `legend_offset` (px) leaves room between legend and panel for the title of the vertical axis.
    """
    made: dict[str, Any] = chart.properties(description=description).to_dict()
    made.pop("$schema", None)
    if isinstance(
        made.get("height"), int
    ):  # panels and rows of a fixed step cannot be fitted: set without the axis
        made["autosize"] = {"type": "fit-x", "contains": "padding"}
    said = spoken()
    first, *then = said.signs.grouping
    # the axes come round to the first size again behind the last one
    sizes = [first, *then * MOST_GROUPS]
    signs = {
        "decimal": said.signs.decimal,
        "thousands": said.signs.group,
        "grouping": sizes,
        "currency": ["", ""],
    }
    months, days = list(said.months), [""] * 7  # axes name no day of the week
    dates = {"dateTime": "%Y-%m-%d", "date": "%Y-%m-%d", "time": "%H:%M", "periods": ["", ""]}
    dates |= {"days": days, "shortDays": days, "months": months, "shortMonths": months}
    locale = {"number": signs, "time": dates}
    config = {**CONFIG, "legend": {**CONFIG["legend"], "offset": legend_offset}}
    config["axisTemporal"] = {
        **CONFIG["axisTemporal"],
        "format": {**DAYS, **dict.fromkeys(("week", "day", "date"), said.signs.day)},
    }
    return {**made, "config": {"locale": locale, **config}}
