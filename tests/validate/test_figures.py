"""A figure is told as impossible only where its readings leave no doubt of it."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.logbook_files import codes, told


@pytest.mark.parametrize(
    ("fed", "finished", "found"),
    [
        (104.9, 97, []),  # the oil gives 103.8 % and two volumes within 1 % leave 1.7 % open
        (104.9, 104.9, []),
        (103, 104.9, []),
        (108, 97, ["high-yield"]),
        (97, 108, ["high-yield"]),
        (98, 149.8, ["high-yield"]),
        (98, 150.2, ["impossible-yield"]),
    ],
)
def test_a_yield_above_its_ceiling_is_told_beyond_its_interval(
    fed: float, finished: float, found: list[str], tmp_path: Path
) -> None:
    batch = (Path(__file__).parents[1] / "gallery" / "_base" / "batches" / "b1.yaml").read_text(
        encoding="utf-8"
    )
    batch = batch.replace("volume: 98 L at 15 °C", f"volume: {fed} L at 15 °C")
    batch = batch.replace("fuel: {volume: 97 L", f"fuel: {{volume: {finished} L")
    batch = batch.replace("glycerol: {mass: 20 kg}", "glycerol: {mass: 16 kg}")
    problems = told(tmp_path, {"batches/b1.yaml": batch})
    assert codes(problems) == found
    if found:
        assert problems[0].place.line == (18 if fed > 100 else 23)


def test_a_batch_that_is_said_to_have_failed_is_not_told_as_one_with_little_fuel(tmp_path: Path) -> None:
    """A fifth of the oil is no yield; none of it is what a lost batch gave."""
    base = (Path(__file__).parents[1] / "gallery" / "_base" / "batches" / "b1.yaml").read_text(
        encoding="utf-8"
    )
    begun = base[: base.index("polish:")]
    little, lost = (
        codes(
            told(
                tmp_path / f"{litres}",
                {"batches/b1.yaml": f"{begun}unpolished: true\nfuel: {{volume: {litres} L at 15 °C}}\n"},
            )
        )
        for litres in (20, 0)
    )
    assert "low-yield" in little
    assert "low-yield" not in lost
    assert "mass-open" not in lost  # what was thrown away has no entry to be written in
