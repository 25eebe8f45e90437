"""Traces that are too many for their table: the earlier ones in one row for each oil."""

from __future__ import annotations

from typing import Any

from generator.pages.tracing import _cloud, earlier
from generator.pages.words import Shown


def trace(oil: str, day: str, batches: str, drawn: float | None, to: str | None) -> dict[str, Any]:
    return {
        "oil_lot": oil, "tank_lot": f"tank-1-{day}", "tank": "tank-1", "filled": day, "batches": batches,
        "share_pct": 40.0, "volume_l": 90.0, "drawn_l": drawn, "draws": 1, "to": to,
    }  # fmt: skip


def test_each_oil_has_one_row_with_its_batches_draws_and_who_drew() -> None:
    rows = [
        trace("oil-1", "2024-05-12", "b1", 0.0, None),
        trace("oil-1", "2024-06-10", "b2, b1", 60.0, "member-2, member-7"),
        trace("oil-2", "2024-06-10", "b2", 20.0, "member-7"),
        trace("oil-1", "2024-07-01", "b2", 5.0, "member-7"),
    ]
    newest, first = earlier(rows)
    assert newest["oil_lot"] == "oil-2" and newest["tank_lot"] == "1 lot of tanks until 2024-06-10"
    assert first["batches"] == "b1, b2" and first["to"] == "member-2, member-7" and first["drawn_l"] == 65.0
    assert first["tank_lot"] == "3 lots of tanks until 2024-07-01"
    assert first["volume_l"] is None and first["share_pct"] is None


def test_a_draw_that_is_not_known_leaves_their_sum_unknown() -> None:
    (row,) = earlier(
        [trace("oil-1", "2024-05-12", "b1", None, None), trace("oil-1", "2024-06-10", "b1", 5.0, None)]
    )
    assert row["drawn_l"] is None and row["to"] is None


def test_without_earlier_traces_there_is_no_row() -> None:
    assert earlier([]) == []


def test_a_cloud_point_is_told_in_the_unit_that_the_logbook_shows() -> None:
    """0 °C is 32 °F, -5 °C 23 °F, 10 °C 50 °F (derived from the definition of the scale)."""
    lot = {"cloud_point_c": 0.0, "cloud_low_c": -5.0, "cloud_high_c": 10.0, "cloud_known_pct": 100.0}
    units = {"volume": "US gal", "mass": "lb", "temperature": "°F", "pressure": "psi"}
    told = [text.replace("\u202f", " ") for text in _cloud(lot, Shown(units, "USD", 15.5556))]
    assert told == ["about 32 °F", "estimate; 23 to 50 °F in its parts"]
    assert _cloud(lot, Shown(units | {"temperature": "°C"}, "USD", 15.0))[0].endswith("0\u202f°C")
