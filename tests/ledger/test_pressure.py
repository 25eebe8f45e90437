"""The rise of the pressure drop of a charge, and in words what it lacks where it is not known."""

from __future__ import annotations

from pathlib import Path

import pytest

from generator.ledger.pressure import Drops, drops_of
from tests.ledger.test_columns import LIKE, batch, folded, near

BOTH = ("A, inlet: 0.{top} bar", "B, inlet: 0.1 bar")


def drops(parent: Path, *tops: int, readings: tuple[str, ...] = BOTH, warm: bool = True) -> Drops:
    """The drops over A in runs of the same flow: its inlet of so many tenths of a bar, and 0.1 bar before B."""
    batches = {}
    for number, top in enumerate(tops, 1):
        at = ", temperature: 20 °C" if warm else ""
        read = "".join(f"    - {{after: 20 L, vessel: {one.format(top=top)}{at}}}\n" for one in readings)
        batches[f"b{number}"] = batch(f"b{number}", 10 + number) + (f"  readings:\n{read}" if read else "")
    return drops_of(folded(parent, LIKE, batches).charges[0])


def test_the_last_three_drops_over_the_first_three(tmp_path: Path) -> None:
    """Drops of 0.1, 0.1, 0.2 and 0.3, 0.4, 0.5 bar: the medians are 0.1 and 0.4 bar."""
    found = drops(tmp_path, 2, 2, 3, 4, 5, 6)
    assert (found.rise, found.fouled, found.missing) == (near(4.0), True, None)


@pytest.mark.parametrize(
    ("more", "words"),
    [
        ({"warm": False}, "needs the temperature of the fuel"),
        ({"readings": BOTH[:1]}, "needs the next vessel's inlet"),
        ({}, "needs 6 runs with a drop, and has 5"),
    ],
)
def test_what_an_unknown_rise_lacks(tmp_path: Path, more: dict[str, object], words: str) -> None:
    found = drops(tmp_path, 2, 2, 3, 4, 5, **more)  # type: ignore[arg-type]
    assert found.rise is None
    assert found.missing is not None and words in found.missing


def test_without_a_gauge_nothing_is_asked_for(tmp_path: Path) -> None:
    assert drops(tmp_path, 2, 2, readings=()).missing is None
