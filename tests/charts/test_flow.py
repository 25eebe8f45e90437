"""The picture of what flows into what: heights are amounts, bands lie side by side, nothing is lost on the way."""

from __future__ import annotations

import itertools
import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.charts.flow import TALL, Flow, flow

AMOUNTS = {("a", "m"): 30.0, ("b", "m"): 10.0, ("m", "x"): 25.0, ("m", "y"): 15.0}


def drawn(amounts: dict[tuple[str, str], float] = AMOUNTS) -> Flow:
    return flow([{"a": "oil a", "b": "oil b"}, {"m": "tank"}, {"x": "drawn", "y": "left"}], amounts, "told")


def ends(band: str) -> tuple[float, float, float, float]:
    """Of a band: top on the left, top on the right, bottom on the right, bottom on the left."""
    numbers = [float(found) for found in re.findall(r"-?\d+\.\d+", band)]
    return numbers[1], numbers[7], numbers[8], numbers[14]


def test_the_largest_column_takes_the_height_and_all_share_one_scale() -> None:
    heights = {bar.name: bar.height for bar in drawn().bars}
    assert heights["m"] == pytest.approx(TALL, abs=0.1)
    assert heights["a"] == pytest.approx(0.75 * TALL, abs=0.1)
    assert heights["a"] + heights["b"] == pytest.approx(heights["x"] + heights["y"], abs=0.2)


def test_bands_leave_and_enter_a_bar_side_by_side() -> None:
    found = drawn()
    tank = next(bar for bar in found.bars if bar.name == "m")
    into = [ends(band) for band in found.bands[:2]]
    assert into[0][1] == pytest.approx(tank.y, abs=0.1)
    assert into[1][1] == pytest.approx(into[0][2], abs=0.2)
    assert into[1][2] == pytest.approx(tank.y + tank.height, abs=0.2)


@given(st.lists(st.floats(0.1, 1e6), min_size=1, max_size=12))
def test_words_never_stand_on_each_other(litres: list[float]) -> None:
    names = [f"a{number}" for number in range(len(litres))]
    found = flow(
        [{name: name for name in names}, {"m": "tank"}],
        {(name, "m"): amount for name, amount in zip(names, litres, strict=True)},
        "told",
    )
    places = [bar.words_y for bar in found.bars if bar.name != "m"]
    assert all(after - before >= 17 for before, after in itertools.pairwise(places))
    assert max(bar.y + bar.height for bar in found.bars) <= found.height


def test_nothing_is_drawn_of_nothing() -> None:
    assert flow([{}, {"m": "empty"}], {}, "told").bands == ()
