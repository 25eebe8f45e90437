"""Charts of money: the parts of a litre, lots of oil compared, offers."""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping
from typing import Any

import altair as alt

from generator.charts import theme
from generator.charts.theme import (
    amount,
    day,
    finished,
    fixed,
    in_signs,
    rows,
    upright,
    word,
)
from generator.compute.costs import PARTS
from generator.language import said, say, term

_COLOURS = {
    "oil": theme.BLUE,
    "methanol": theme.VERMILION,
    "catalyst": theme.GREEN,
    "energy": theme.ORANGE,
    "other": theme.GREY,
    "credits": theme.RULE,
    "media": theme.PURPLE,
    "overheads": theme.SOFT,
    "labour": theme.SKY,
}


def cost_parts(params: Mapping[str, Any]) -> dict[str, Any]:
    """Bars of one batch each, built up from the parts; rows {date, batch, part, per_l}; params currency, target, names.

    `names` are {part, at}: each part and the height at which its name stands behind the last bar.
    """
    unit, target, parts = params["currency"], params.get("target"), [said(part) for part in PARTS]
    table = rows().transform_calculate(order=f"indexof({json.dumps(parts, ensure_ascii=False)}, datum.part)")
    axis = alt.Axis(
        title=say("batch, in order of date"),
        labelAngle=0,
        labelOverlap="greedy",
        labelSeparation=12,
        labelPadding=11,  # below the zero of the other axis
        ticks=False,
        labelLimit=90,
    )
    batch = alt.X("batch:N", sort=None, axis=axis, scale=alt.Scale(paddingInner=0.15))
    cost = alt.Y("per_l:Q", stack="zero", title=unit)
    colour = alt.Color(
        "part:N",
        scale=alt.Scale(domain=parts, range=[_COLOURS[part] for part in PARTS]),
        legend=None,
        title=None,
    )
    bars = table.mark_bar(width=alt.ExprRef("min(bandwidth('x'), 56)")).encode(  # px: one batch is no wall
        batch,
        cost,
        colour,
        order="order:Q",
        tooltip=[word("batch", say("batch")), day(), word("part", say("part")), amount("per_l", unit, ".3f")],
    )
    gaps = (
        rows()
        .transform_calculate(unknown="datum.per_l === null ? 1 : 0")
        .transform_aggregate(total="sum(per_l)", unknown="sum(unknown)", groupby=["batch"])
        .transform_filter("datum.unknown > 0")
        .mark_text(text="?", baseline="bottom", dy=-1, fontSize=11, color=theme.SOFT)
        .encode(batch, alt.Y("total:Q"))
    )
    beside = fixed(params["names"]).encode(alt.Y("at:Q"))
    keys = beside.mark_square(size=80, opacity=1).encode(x=alt.value(alt.ExprRef("width + 10")), color=colour)
    names = beside.mark_text(align="left", baseline="middle").encode(
        x=alt.value(alt.ExprRef("width + 20")), text="part:N"
    )
    layers = [bars, gaps, keys, names]
    if target is not None:
        told = say("dashed: target {target} {unit}", target=in_signs(target, 2), unit=unit)
        name = fixed([{}]).mark_text(align="right", baseline="bottom", dy=-6, text=told)
        line = fixed([{"level": target}]).mark_rule(strokeDash=[5, 4], color=theme.INK).encode(y="level:Q")
        layers += [
            line,
            name.encode(x=alt.value("width"), y=alt.value(0)),
        ]  # on the bars it could not be read
    chart = alt.layer(*layers).properties(width=theme.WIDTH, height=300)
    told = say(
        "Bars: cost per unit of finished fuel by part, {unit}, one bar a batch, the parts named behind the last. A question mark: a part of it is unknown.",
        unit=unit,
    )
    return finished(chart, told)


def oil_compared(params: Mapping[str, Any]) -> dict[str, Any]:
    """What was paid against the cost by which lots are compared; rows {lot, date, paid_per_l, compared_per_l, fuel_cost_per_l}; params currency."""
    unit = params["currency"]
    lot = alt.Y("lot:N", sort=None, axis=alt.Axis(title=None, grid=True, labelLimit=160))
    hints = [
        word("lot", say("lot")),
        day(),
        amount("paid_per_l", say("paid for the oil"), ".3f"),
        amount("compared_per_l", say("compared cost"), ".3f"),
        amount("fuel_cost_per_l", say("cost with media"), ".3f"),
    ]
    known = rows().transform_filter("datum.paid_per_l !== null && datum.compared_per_l !== null")
    span = known.mark_rule(color=theme.RULE, strokeWidth=2).encode(
        lot, alt.X("paid_per_l:Q"), alt.X2("compared_per_l:Q"), tooltip=hints
    )
    first = known.transform_window(place="row_number()").transform_filter("datum.place === 1")
    layers: list[Any] = [span]
    looks: tuple[tuple[str, str, str, str, Any, int], ...] = (
        ("paid_per_l", "circle", theme.PAPER, say("paid for the oil"), "right", 6),
        ("compared_per_l", "square", theme.BLUE, say("compared cost"), "left", -6),
    )
    for field, shape, fill, name, side, gap in looks:
        across = alt.X(f"{field}:Q", title=unit, scale=alt.Scale(zero=True))
        drawn = rows().transform_filter(f"datum.{field} !== null")
        layers.append(
            drawn.mark_point(size=60, shape=shape, fill=fill, stroke=theme.BLUE).encode(
                lot, across, tooltip=hints
            )
        )
        layers.append(
            first.mark_text(align=side, baseline="bottom", dx=gap, dy=-10, text=name, **theme.HALO).encode(
                lot, across
            )
        )
    chart = alt.layer(*layers).properties(width=theme.NAMED_WIDTH, height=alt.Step(theme.STEP))
    return finished(
        chart,
        say(
            "Two marks a lot of oil: open circles for what was paid for it, filled squares for the compared cost of the fuel made from it, both {unit}; the cheapest first.",
            unit=unit,
        ),
    )


def offer_range(params: Mapping[str, Any]) -> dict[str, Any]:
    """Range of what a litre would cost; rows {offer, low, mid, high, state}; params target, currency, diesel."""
    unit = params["currency"]
    offer = alt.Y("offer:N", sort=None, axis=alt.Axis(title=None, grid=True, labelLimit=200))
    hints = [
        word("offer", say("offer")),
        word("state", say("state")),
        amount("low", say("low"), ".2f"),
        amount("mid", say("to expect"), ".2f"),
        amount("high", say("high"), ".2f"),
    ]
    across = alt.X(
        "low:Q",
        title=say("{unit}, with media", unit=unit),
        scale=theme.beside(zero=False, padding=12),
        axis=alt.Axis(tickCount=6, format=".2f"),
    )
    known = rows().transform_filter("datum.low !== null && datum.high !== null")
    span = known.mark_rule(strokeWidth=3, color=theme.BLUE).encode(
        offer, across, alt.X2("high:Q"), tooltip=hints
    )
    middle = rows().mark_point(size=70, color=theme.BLUE).encode(offer, alt.X("mid:Q"), tooltip=hints)
    state = (
        rows()
        .mark_text(align="right", baseline="middle", color=theme.SOFT)
        .encode(offer, x=alt.value("width"), text="state:N")
    )
    gap = (
        rows()
        .transform_filter("datum.mid === null")
        .mark_text(align="left", dx=4, fontStyle="italic")
        .encode(offer, x=alt.value(0), text=alt.value(say("unknown")))
    )
    layers: list[Any] = [span, middle, state, gap]
    for place, (key, name) in enumerate((("target", say("target")), ("diesel", say("diesel at the pump")))):
        if params.get(key) is not None:
            layers.append(upright(params[key], f"{name} {in_signs(params[key], 2)}", row=place))
    chart = alt.layer(*layers).properties(width=theme.NAMED_WIDTH, height=alt.Step(30))
    return finished(
        chart,
        say(
            "One line an offer: what a unit of fuel made from it would cost, low to high, {unit}.", unit=unit
        ),
    )


def cost_bridge(params: Mapping[str, Any]) -> dict[str, Any]:
    """The way from one cost to another; rows {step, start, end, way, told}, start unknown for the two costs; params currency."""
    unit = params["currency"]
    step = alt.Y("step:N", sort=None, axis=alt.Axis(title=None, labelLimit=200, grid=True))
    across = alt.X(
        "end:Q", title=unit, scale=theme.beside(zero=False, nice=False, padding=8), axis=alt.Axis(tickCount=5)
    )
    ways = [term("more"), term("less")]
    colour = alt.Color(
        "way:N",
        scale=alt.Scale(domain=[say(way) for way in ways], range=[theme.VERMILION, theme.BLUE]),
        legend=None,
    )
    hints = [word("step", say("part")), word("told", unit)]
    bars = (
        rows()
        .transform_filter("datum.start !== null && datum.end !== null")
        .mark_bar(height=alt.RelativeBandSize(0.7))
        .encode(step, across, alt.X2("start:Q"), colour, tooltip=hints)
    )
    costs = (
        rows()
        .transform_filter("datum.start === null")
        .mark_point(shape="diamond", size=90, color=theme.INK)
        .encode(step, across, tooltip=hints)
    )
    words = (
        rows()
        .transform_filter("datum.end !== null")
        .mark_text(align="right", baseline="middle")
        .encode(step, x=alt.value("width"), text="told:N")
    )
    chart = alt.layer(words, bars, costs).properties(width=theme.NAMED_WIDTH, height=alt.Step(theme.STEP))
    told = say(
        "Diamonds: what a unit cost in the earlier and in the later batches, {unit}. Bars lead from one to the other, one for each part; its sign says which way.",
        unit=unit,
    )
    return finished(chart, told, legend_offset=12)


SPECS: Mapping[str, Callable[[Mapping[str, Any]], dict[str, Any]]] = {
    "cost_parts": cost_parts,
    "oil_compared": oil_compared,
    "offer_range": offer_range,
    "cost_bridge": cost_bridge,
}
