"""Control charts as tables: every point with its limits, and every piece with what was found."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

import pandas as pd

from generator.compute.frames import frame
from generator.formulas.censored import kaplan_meier_mean
from generator.formulas.control import moving_range_limit
from generator.ledger.drift import REACH, Charted, Piece, pieces
from generator.ledger.ledgers import Ledgers
from generator.ledger.series import Line, lines
from generator.tables import DRIFT, PIECES


@dataclass(frozen=True, slots=True)
class Drift:
    """The table of points and the table of pieces."""

    points: pd.DataFrame
    pieces: pd.DataFrame


def drift(ledgers: Ledgers) -> Drift:
    """All control charts, by figure, purifier and method; one row each of points, and of pieces."""
    settings = ledgers.log.settings.drift
    found = [(line, pieces(line, int(settings.baseline))) for line in lines(ledgers, settings.broken_by)]
    return Drift(
        frame(DRIFT, [row for line, cut in found for piece in cut for row in _points(line, piece)]),
        frame(PIECES, [_piece(line, piece) for line, cut in found for piece in cut]),
    )


def _named(line: Line, piece: Piece) -> dict[str, Any]:
    return {
        "series": line.of.name,
        "purifier": line.purifier or None,
        "method": line.method,
        "piece": piece.number,
        "unit": line.of.unit,
    }


def _back(value: float | None, *, log: bool) -> float | None:
    """A charted value in the unit of the figure again."""
    return value if value is None or not log else math.exp(value)


def _limits(line: Line, piece: Piece) -> dict[str, float | None]:
    centre, log = piece.centre, line.of.log
    if centre is None:
        return {"centre": None, "lower": None, "upper": None}
    lower, upper = (centre.mean + side * REACH * centre.sigma for side in (-1, 1))
    return {
        "centre": _back(centre.mean, log=log),
        "lower": _back(lower, log=log) if log else max(lower, 0.0),
        "upper": _back(upper, log=log),
    }


def _points(line: Line, piece: Piece) -> Iterator[dict[str, Any]]:
    for place, one in enumerate(piece.points):
        yield {
            **_named(line, piece),
            "begins": (piece.begins or None) if place == 0 else None,
            "batch": one.point.batch,
            "date": one.point.day.isoformat(),
            "value": one.point.value,
            "qualifier": one.point.sign or None,
            "first": "yes" if one.first else "no",
            **_limits(line, piece),
            "moving_range": one.moving_range,
            "range_upper": moving_range_limit(piece.centre.sigma) if piece.centre is not None else None,
            **_average(line, piece, one),
            "sum_high": one.high,
            "sum_low": one.low,
            "signals": ", ".join(one.signals) or None,
        }


def _average(line: Line, piece: Piece, one: Charted) -> dict[str, float | None]:
    centre, reach, log = piece.centre, one.reach, line.of.log
    lower = upper = None
    if centre is not None and reach is not None:
        lower, upper = centre.mean - reach, centre.mean + reach
    return {
        "average": _back(one.average, log=log),
        "average_lower": _back(lower, log=log),
        "average_upper": _back(upper, log=log),
    }


def _piece(line: Line, piece: Piece) -> dict[str, Any]:
    called = [one for one in piece.points if one.signals]
    return {
        **_named(line, piece),
        "begins": piece.begins,
        "from": piece.points[0].point.batch,
        "until": piece.points[-1].point.batch,
        "points": len(piece.points),
        "bounds": sum(bool(one.point.sign) for one in piece.points),
        **_limits(line, piece),
        "basis": piece.centre.basis if piece.centre is not None else piece.without,
        "mean": _mean(piece.points),
        "called": len(called),
        "first_call": called[0].point.batch if called else None,
    }


def _mean(points: Sequence[Charted]) -> float | None:
    """The mean of all points in the unit of the figure; none where a value is above a bound, or none was found."""
    found = [one.point.value for one in points if not one.point.sign]
    below = [one.point.value for one in points if one.point.sign == "<"]
    return kaplan_meier_mean(found, below) if found and len(found) + len(below) == len(points) else None
