"""Drift: control charts of figures through the batches, what calls, and how often that would happen by chance."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from generator.charts.marks import STATES
from generator.compute.results import Results
from generator.data import rows
from generator.language import said, say, term
from generator.ledger.series import followed
from generator.pages.batches import CHARTED
from generator.pages.parts import Row, Show, batch_link, plain, table_view, worded
from generator.pages.places import placed
from generator.pages.view import Chart, Page, TableView
from generator.pages.words import capital, count, limit_names, number, significant
from generator.tables import DRIFT, PIECES

Key = tuple[str, str | None, str]
_LOG = {each.name for each in followed() if each.log}
_PROPERTY = {each.name: each.of_property for each in followed()}
LINES = term(
    "Solid lines are control limits: what this work itself has done, three standard deviations around its centre. A dashed line is the limit of a specification: what is asked of the fuel. Neither says anything of the other."
)


def page(results: Results) -> Page:
    """The page of drift; for the workshop alone."""
    pieces, points = results.rows("pieces"), results.passing("drift")
    charted = [key for key in _keys(pieces) if any(row["centre"] is not None for row in _of(pieces, key))]
    return placed(
        "drift",
        finding=finding(pieces),
        content={
            "intro": detail(pieces),
            "charts": [_chart(key, _of(points, key), _of(pieces, key), results) for key in charted],
            "tables": [_pieces(pieces), _signals(points)],
            "cautions": [
                _by_chance(),
                say(
                    "A signal is a reason to look at the sheet, the bench and the oil, and no verdict about a fuel; no signal is none either."
                ),
            ],
        },
    )


def finding(pieces: Sequence[Row]) -> str:
    """How many rows call, and how many chance would."""
    if not pieces:
        return say("No figure is written that could be followed.")
    held = [row for row in pieces if row["centre"] is not None]
    if not held:
        return say(
            "None of {row} has the points that control limits take, so nothing can be said about drift.",
            row=count(len(pieces), "row", "rows"),
        )
    called = sum(bool(row["called"]) for row in held)
    chance = rows("run_rules")["within_twenty"]["12"]
    return say(
        "Of {row} with control limits, {calling}; chance alone makes {chance} of 100 rows in which nothing changes call within twenty points.",
        row=count(len(held), "row", "rows"),
        calling=count(called, "calls", "call") if called else say("none call"),
        chance=chance,
    )


def detail(pieces: Sequence[Row]) -> str:
    """Which rows call and since when, and how many have no limits."""
    held = [row for row in pieces if row["centre"] is not None]
    told = "; ".join(
        say("{short} since {first_call}", short=_short(row), first_call=row["first_call"])
        for row in held
        if row["called"]
    )
    rest = len(pieces) - len(held)
    parts = [say("Calling: {told}.", told=told)] if told else []
    if held and rest:
        parts.append(
            say("{has} too few points, or too few that were found.", has=count(rest, "row has", "rows have"))
        )
    return " ".join([*parts, say(LINES)])


def _by_chance() -> str:
    told = rows("run_rules")
    chance = told["within_twenty"]
    return say(
        "False alarms: with limits that were known, the four rules would call once in about {rules} points though nothing had changed, the weighted mean once in {mean}, the cumulative sum once in {sum}. Limits from twelve points are estimates: something then calls within the next twenty points in {twelve} of 100 rows in which nothing changed, with twenty points in {twenty}, with known limits in {known}.",
        rules=number(told["run_length"]["1 2 3 4"]),
        mean=number(told["others"]["weighted mean"]["unchanged"]),
        sum=number(told["others"]["cumulative sum"]["unchanged"]),
        twelve=chance["12"],
        twenty=chance["20"],
        known=chance["known"],
    )


def _keys(rows_: Sequence[Row]) -> list[Key]:
    return list(dict.fromkeys((row["series"], row["purifier"], row["method"]) for row in rows_))


def _of(rows_: Sequence[Row], key: Key) -> list[Row]:
    return [row for row in rows_ if (row["series"], row["purifier"], row["method"]) == key]


def _name(row: Row) -> str:
    behind = f" ({row['purifier']})" if row["purifier"] else ""
    return f"{say(row['series'])}{behind}, {said(row['method'])}"


def _short(row: Row) -> str:
    return f"{say(row['series'])} ({row['purifier']})" if row["purifier"] else say(row["series"])


def _chart(key: Key, points: Sequence[Row], pieces: Sequence[Row], results: Results) -> Chart:
    shown = points[-CHARTED:]
    fields = ("date", "batch", "value", "signals", "piece", "centre", "lower", "upper", "average", "moving_range", "range_upper")  # fmt: skip
    id_ = "-".join(str(part) for part in ("drift", *key)).replace(" ", "-").replace(",", "")
    params = {
        "unit": points[0]["unit"],
        "log": key[0] in _LOG,
        "states": [say(state) for state in STATES if any(_state(row) == state for row in shown)],
        "averaged": any(row["average"] is not None for row in shown),
        **_limit(key, results),
    }
    return Chart(
        id_,
        capital(_name(points[0])),
        _sentence(pieces),
        "control",
        tuple(
            {
                **{field: row[field] for field in fields},
                "state": say(_state(row)),
                "signals": said(row["signals"] or "") or None,
            }
            for row in shown
        ),
        table_view(
            DRIFT,
            f"{id_}-table",
            say("{figure}, point by point", figure=capital(_name(points[0]))),
            shown[::-1],
            _shows(),
        ),
        params,
    )


def _state(row: Row) -> str:
    """What a point is to its chart."""
    frozen, held, bound, calls = STATES
    if row["signals"]:
        return calls
    return bound if row["qualifier"] else frozen if row["first"] == "yes" else held


def _limit(key: Key, results: Results) -> dict[str, Any]:
    """The limit of the specification that the newest batch is held to, for figures of the finished fuel."""
    none = {"high": None, "low": None, **limit_names("")}
    if key[0] == "soap of the feed":
        return none
    held = [
        row
        for row in results.rows("limits")
        if row["property"] == _PROPERTY[key[0]] and row["own"] == "no" and row["until"] is None
    ]
    if not held:
        return none
    return {"high": held[0]["high"], "low": held[0]["low"], **limit_names(held[0]["edition"])}


def _sentence(pieces: Sequence[Row]) -> str:
    told = [
        say("{since} to {until}: {told}", since=row["from"], until=row["until"], told=_told(row))
        for row in pieces
    ]
    return f"{'; '.join(told)}."


def _told(row: Row) -> str:
    points = count(row["points"], "point", "points")
    if row["centre"] is None:
        return say("{points}, no limits ({basis})", points=points, basis=said(row["basis"]))
    ends = say(
        "{lower} to {upper}", lower=significant(row["lower"]), upper=significant(row["upper"], row["unit"])
    )
    calls = (
        say(
            "something calls at {called}, first at {first_call}",
            called=row["called"],
            first_call=row["first_call"],
        )
        if row["called"]
        else say("nothing calls")
    )
    return say(
        "{points}, control limits {ends} by {basis}, {calls}",
        points=points,
        ends=ends,
        basis=said(row["basis"]),
        calls=calls,
    )


def _shows() -> list[Show]:
    return [
        Show("batch", say("Batch"), plain("batch"), href=lambda row: batch_link(row["batch"])),
        Show("date", say("Date"), plain("date")),
        Show("value", say("Value"), lambda row: f"{row['qualifier'] or ''}{significant(row['value'])}"),
        Show("centre", say("Centre"), lambda row: significant(row["centre"])),
        Show("lower", say("Lower"), lambda row: significant(row["lower"])),
        Show("upper", say("Upper"), lambda row: significant(row["upper"])),
        Show("moving_range", say("Difference"), lambda row: significant(row["moving_range"], "", 2)),
        Show("average", say("Weighted mean"), lambda row: significant(row["average"])),
        Show("sum_high", say("Sum above"), lambda row: significant(row["sum_high"], "", 2)),
        Show("sum_low", say("Sum below"), lambda row: significant(row["sum_low"], "", 2)),
        Show("signals", say("Calls"), worded("signals")),
        Show("begins", say("Begins anew"), worded("begins")),
    ]


def _pieces(pieces: Sequence[Row]) -> TableView:
    return table_view(
        PIECES,
        "pieces",
        say("Every row, cut where something changed"),
        pieces,
        [
            Show("series", say("Figure"), _name),
            Show("from", say("From"), plain("from"), href=lambda row: batch_link(row["from"])),
            Show("until", say("To"), plain("until"), href=lambda row: batch_link(row["until"])),
            Show("begins", say("Begins after"), worded("begins")),
            Show("points", say("Points"), lambda row: str(row["points"])),
            Show("bounds", say("Of them bounds"), lambda row: str(row["bounds"])),
            Show("mean", say("Mean"), lambda row: significant(row["mean"], row["unit"])),
            Show("centre", say("Centre"), lambda row: significant(row["centre"])),
            Show("basis", say("Limits"), worded("basis")),
            Show(
                "called", say("Calls"), lambda row: str(row["called"]) if row["centre"] is not None else "–"
            ),
        ],
    )


def _signals(points: Sequence[Row]) -> TableView:
    called = sorted((row for row in points if row["signals"]), key=lambda row: row["date"], reverse=True)
    return table_view(
        DRIFT,
        "signals",
        say("Where something calls, the newest first"),
        called[:CHARTED],
        [
            Show("batch", say("Batch"), plain("batch"), href=lambda row: batch_link(row["batch"])),
            Show("date", say("Date"), plain("date")),
            Show("series", say("Figure"), _name),
            Show(
                "value",
                say("Value"),
                lambda row: f"{row['qualifier'] or ''}{significant(row['value'], row['unit'])}",
            ),
            Show("signals", say("What calls"), worded("signals")),
        ],
    )
