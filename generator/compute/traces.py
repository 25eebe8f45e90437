"""Tables of tracing: the lots of tanks with their parts, which oil is in which of them and in what was drawn; totals."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

import pandas as pd

from generator.compute.frames import frame
from generator.formulas.blend import blended_cloud_point_c
from generator.ledger.blends import TankLot, tank_lots
from generator.ledger.ledgers import Ledgers
from generator.ledger.rolling import totals
from generator.log import Log
from generator.tables import BLENDS, FLOWS, ROLLING, TANK_LOTS, TRACES

KNOWN_SHARE = 0.99  # parts that may be left out of an estimate together


TRACED = ("tank_lots", "blends", "traces", "flows", "rolling")  # the tables of tracing


def traced(ledgers: Ledgers) -> dict[str, pd.DataFrame]:
    """The frames of tracing by the names of their tables."""
    log = ledgers.log
    lots = tank_lots(ledgers.tanks, ledgers.columns.stood_before())
    points = {name: _cloud_point_c(log, name) for name in log.batches}
    oils = {name: _shares(ledgers.oil_of(name)) for name in log.batches}
    last = {lot.tank: lot.id for lot in lots}
    left = {name: float(book.content) for name, book in ledgers.tanks.items()}
    return {
        "tank_lots": frame(
            TANK_LOTS,
            [_lot(lot, points, left[lot.tank] if last[lot.tank] == lot.id else 0.0) for lot in lots],
        ),
        "blends": frame(BLENDS, [row for lot in lots for row in _parts(lot)]),
        "traces": frame(TRACES, [row for lot in lots for row in _oils(lot, oils)]),
        "flows": frame(FLOWS, [row for lot in lots if last[lot.tank] == lot.id for row in _flows(lot, oils)]),
        "rolling": frame(
            ROLLING,
            [
                {
                    "premises": total.premises,
                    "month": total.month,
                    "made_l": total.made_l,
                    "not_known": total.not_known,
                    "drawn_l": total.drawn_l,
                }
                for total in totals(log, ledgers.facts, ledgers.tanks)
            ],
        ),
    }


def _shares(kg: Mapping[str, float]) -> dict[str, float]:
    """The oil lots of a batch, each with its share by mass."""
    total = sum(kg.values())
    return {lot: each / total for lot, each in kg.items()} if total else {}


def _cloud_point_c(log: Log, batch: str) -> float | None:
    """The newest plain result of a batch; one with < or > is none to reckon with."""
    found = None
    for test in log.batches[batch].record.tests:
        value = test.value
        if (
            test.property == "cloud point"
            and not isinstance(value, str)
            and value is not None
            and not value.sign
        ):
            found = value.value
    return found


def _lot(lot: TankLot, points: Mapping[str, float | None], left_l: float) -> dict[str, Any]:
    known = {name: point for name in lot.parts if (point := points.get(name)) is not None}
    enough = sum(lot.share(name) for name in known) >= KNOWN_SHARE
    return {
        "tank_lot": lot.id,
        "tank": lot.tank,
        "filled": lot.filled.isoformat(),
        "by": lot.by,
        "before_l": lot.heel_l,
        "content_l": lot.content_l,
        "drawn_l": lot.drawn_l,
        "left_l": left_l,
        "cloud_point_c": blended_cloud_point_c([lot.parts[name] for name in known], list(known.values()))
        if enough
        else None,
        "cloud_low_c": min(known.values()) if enough else None,
        "cloud_high_c": max(known.values()) if enough else None,
        "cloud_known_pct": 100 * sum(lot.share(name) for name in known),
    }


def _parts(lot: TankLot) -> Iterator[dict[str, Any]]:
    filled = lot.filled.isoformat()
    for name, litres in lot.parts.items():
        yield {
            "tank_lot": lot.id,
            "tank": lot.tank,
            "filled": filled,
            "part": name,
            "volume_l": litres,
            "share_pct": 100 * lot.share(name),
        }


def _oils(lot: TankLot, oils: Mapping[str, Mapping[str, float]]) -> Iterator[dict[str, Any]]:
    """One row for each oil lot in a lot of a tank, the largest share first."""
    found: dict[str, float] = {}
    batches: dict[str, list[str]] = {}
    for name in lot.parts:
        of_lot = lot.share(name)
        for oil, share in oils.get(name, {}).items():
            found[oil] = found.get(oil, 0.0) + of_lot * share
            batches.setdefault(oil, []).append(name)
    filled, drawn_l, to = lot.filled.isoformat(), lot.drawn_l, _names([move.to for move in lot.draws])
    for oil, share in sorted(found.items(), key=lambda item: (-item[1], item[0])):
        yield {
            "oil_lot": oil,
            "tank_lot": lot.id,
            "tank": lot.tank,
            "filled": filled,
            "batches": ", ".join(batches[oil]),
            "share_pct": 100 * share,
            "volume_l": share * lot.content_l,
            "drawn_l": share * drawn_l,
            "draws": len(lot.draws),
            "to": to,
        }


def _flows(lot: TankLot, oils: Mapping[str, Mapping[str, float]]) -> Iterator[dict[str, Any]]:
    for batch, litres in lot.parts.items():
        for oil, share in oils.get(batch, {}).items():
            yield {
                "tank_lot": lot.id,
                "tank": lot.tank,
                "batch": batch,
                "oil_lot": oil,
                "volume_l": litres * share,
            }


def _names(found: Sequence[str]) -> str | None:
    return ", ".join(dict.fromkeys(name for name in found if name)) or None
