"""Names of parts beside the last bar: in the order of the bar, a line apart, each at its part where there is room."""

from __future__ import annotations

from itertools import pairwise

from generator.compute.costs import PARTS, SELDOM
from generator.pages.cost_names import LINE, beside_last

ALWAYS = tuple(part for part in PARTS if part not in SELDOM)


def bar(batch: str, *heights: float | None) -> list[dict[str, object]]:
    return [
        {"batch": batch, "part": part, "per_l": height} for part, height in zip(ALWAYS, heights, strict=True)
    ]


def test_thin_parts_make_room_for_each_other_and_thick_ones_keep_their_place() -> None:
    found = beside_last(bar("b1", *[0.2] * 7) + bar("b2", 0.6, 0.02, None, 0.01, 0.0, 1.0, 0.3))
    assert [one["part"] for one in found] == list(ALWAYS)
    line = LINE * 1.93
    assert found[0]["at"] == 0.3
    assert found[5]["at"] == round(0.63 + 0.5, 4) and found[6]["at"] == round(1.63 + 0.15, 4)
    assert all(later["at"] - earlier["at"] >= line - 1e-3 for earlier, later in pairwise(found))


def test_a_credit_is_named_below_the_bar() -> None:
    last = [
        {"batch": "b1", "part": part, "per_l": each}
        for part, each in (("oil", 0.6), ("credits", -0.1), ("media", 0.2))
    ]
    assert beside_last(last) == [
        {"part": "oil", "at": 0.3},
        {"part": "credits", "at": -0.05},
        {"part": "media", "at": 0.7},
    ]


def test_a_part_that_no_bar_has_is_not_named() -> None:
    found = beside_last(bar("b1", 0.2, 0.1, None, 0.0, 0.0, 0.0, None) + bar("b2", 0.3, *[None] * 6))
    assert [one["part"] for one in found] == list(ALWAYS[:2])


def test_no_bar_gives_no_name() -> None:
    assert beside_last([]) == []
