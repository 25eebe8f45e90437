"""A picture in fewer bytes is the picture it was: what is seen stays, to a hundredth of a px."""

from __future__ import annotations

import re
from collections import Counter
from xml.etree import ElementTree

import pytest

from generator.charts.kinds import spec
from generator.render.pictures import svg
from generator.render.slimmed import HANDED, slimmed
from tests.charts.samples import SAMPLES, Sample

EACH = pytest.mark.parametrize("sample", SAMPLES, ids=lambda sample: sample.kind)
PLACED = ("transform", "d", "x", "y", "x2", "y2")
NUMBER = re.compile(r"-?\d+\.?\d*(?:e-?\d+)?")


def drawn(sample: Sample) -> str:
    return str(svg(spec(sample.kind, sample.params), [*sample.rows, sample.unknown]))


def seen(text: str) -> Counter[tuple[object, ...]]:
    """Every mark and word that is seen, with what it has of its own and of the groups around it."""
    found: Counter[tuple[object, ...]] = Counter()

    def walk(element: ElementTree.Element, handed: dict[str, str]) -> None:
        own = {name: element.attrib[name] for name in HANDED if name in element.attrib}
        have = {**handed, **own}
        name = element.tag.rpartition("}")[2]
        unseen = element.get("opacity") == "0" or (
            element.get("class") in ("background", "foreground")
            and not any(element.get(each) for each in ("fill", "stroke"))
        )
        if name in ("path", "text", "line", "rect") and not unseen:
            placed = "".join(
                NUMBER.sub(lambda number: f"{float(number[0]):.1f}", element.get(each, "")).replace(
                    "-0.0", "0.0"
                )
                for each in PLACED
            )
            shown = (
                sorted(have.items())
                if name == "text"
                else sorted(each for each in have.items() if "font" not in each[0])
            )
            found[name, element.text, placed, element.get("opacity", "1"), str(shown)] += 1
        for child in element:
            walk(child, have)

    walk(ElementTree.fromstring(text), {})
    return found


@EACH
def test_all_that_is_seen_stays(sample: Sample) -> None:
    before, after = drawn(sample), slimmed(drawn(sample))
    told, left = seen(before), seen(after)
    assert sum(told.values()) == sum(left.values()) > 0
    assert sum((told - left).values()) <= 0.05 * sum(told.values()), (
        "more than numbers at the edge of a rounding"
    )
    assert len(after) < 0.85 * len(before)


def test_words_that_look_like_attributes_stay() -> None:
    text = '<svg><g class="mark-text"><text fill="a" opacity="1">b opacity="1" 1.23456</text><text fill="a">c fill="a"</text></g></svg>'
    assert slimmed(text) == (
        '<svg><g class="mark-text" fill="a"><text>b opacity="1" 1.23456</text><text>c fill="a"</text></g></svg>'
    )


def test_what_differs_within_a_group_is_not_handed_to_it() -> None:
    text = '<svg><g class="mark-symbol"><path fill="a" d="M1,2"/><path fill="b" d="M1.2345,2"/></g></svg>'
    assert slimmed(text) == text.replace("1.2345", "1.23")
