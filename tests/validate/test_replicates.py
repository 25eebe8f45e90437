"""When readings of one titration disagree: by more than 5 % of their mean, and by more than the burette can show.

A burette of 10 to 50 mL is divided into 0.05 or 0.1 mL (ISO 385, from memory); titrations more than 5 % off are rejected
(an open guide for small makers).
"""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.logbook_files import codes, told


@pytest.mark.parametrize(
    ("readings", "burette", "odd"),
    [
        ("[1.0 mL, 1.1 mL]", None, False),  # one division of 0.1 mL, 9.5 % of the mean
        ("[0.30 mL, 0.35 mL, 0.30 mL]", None, False),  # one drop, 15.8 %
        ("[1.0 mL, 1.2 mL]", None, True),
        ("[0.30 mL, 0.37 mL]", None, True),
        ("[2 mL, 3 mL]", None, True),  # no burette is divided into whole millilitres
        ("[0.80 mL, 1.00 mL]", "0.2 mL", False),
        ("[2.40 mL, 2.45 mL]", None, False),  # 2.1 %
        ("[2.4 mL, 2.9 mL]", None, True),
    ],
)
def test_one_division_of_the_burette_is_no_finding(
    readings: str, burette: str | None, odd: bool, tmp_path: Path
) -> None:
    changes: dict[str, tuple[str, str] | str | None] = {
        "batches/b1.yaml": ("[2.4 mL, 2.5 mL, 2.4 mL]", readings)
    }
    if burette is not None:
        base = Path(__file__).parents[1] / "gallery" / "_base" / "logbook.yaml"
        changes["logbook.yaml"] = f"{base.read_text(encoding='utf-8')}instruments: {{burette: {burette}}}\n"
    assert ("replicate-spread" in codes(told(tmp_path, changes))) == odd
