"""Wherever a volume is carried to another temperature, one outside the correction's range is told; common practice, no source."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

from tests.logbook_files import BASE, codes, told

PRETREATED = (
    "pretreatment:\n  acid: []\n  methanol: [{lot: meoh-1, volume: 2 L at AT}]\n  acid_drained: true\n"
    "  drained: 1 kg\nreaction:"
)
PLANNED = "plan:\n  catalyst: koh-1\n  methanol: [{lot: meoh-1, volume: 20 L at AT}]\nreaction:"
RINSE = "history:\n  - {date: 2026-01-24, event: rinse, vessel: B, with: {lot: meoh-1, volume: 2 L at AT}, rinsings: drum}"


@pytest.mark.parametrize(
    ("file", "old", "new", "word"),
    [
        ("batches/b1.yaml", "volume: 100 L at 15 °C", "volume: 100 L at AT", "100 L"),
        ("batches/b1.yaml", "volume: 98 L at 15 °C", "volume: 98 L at AT", "98 L"),
        ("batches/b1.yaml", "fuel: {volume: 97 L at 15 °C", "fuel: {volume: 97 L at AT", "97 L"),
        ("batches/b1.yaml", "sample: 1.0 mL", "sample: 1.0 mL at AT", "1.0 mL"),
        ("batches/b1.yaml", "sample: 1.0 mL", "temperature: AT\n  sample: 1.0 mL", "AT"),
        ("batches/b1.yaml", "sample: 10 g,", "sample: 11 mL at AT,", "11 mL"),
        ("batches/b1.yaml", "reaction:", PLANNED, "20 L"),
        ("batches/b1.yaml", "reaction:", PRETREATED, "2 L"),
        ("lots/oil-1.yaml", "paid:", "losses: [{date: 2026-01-05, volume: 1 L at AT}]\npaid:", "1 L"),
        ("lots/oil-1.yaml", "paid:", "counts: [{date: 2026-01-03, volume: 300 L at AT}]\npaid:", "300 L"),
        (
            "tanks/tank-1.yaml",
            "history:",
            "history:\n  - {date: 2026-01-04, fill: 9 L at AT, from: a can}",
            "9 L",
        ),
        ("offers/school.yaml", "200 L at 15 °C", "200 L at AT", "200 L"),
        ("columns/shed.yaml", "history:", RINSE, "2 L"),
        ("logbook.yaml", "timezone:", "assumed_temperature: AT\ntimezone:", "AT"),
    ],
)
@pytest.mark.parametrize(
    ("at", "wrong"), [("61 °C", True), ("-1 °C", True), ("59 °C", False), ("1 °C", False)]
)
def test_outside_the_range_it_is_told_where_it_stands(
    file: str, old: str, new: str, word: str, at: str, wrong: bool, tmp_path: Path
) -> None:
    text = (BASE / file).read_text(encoding="utf-8")
    assert old in text
    text = text.replace(old, new.replace("AT", at), 1)
    found = [item for item in told(tmp_path, {file: text}) if item.code == "temperature-range"]
    assert len(found) == wrong
    if wrong:
        line = text.splitlines()[found[0].place.line - 1]
        assert line[found[0].place.column - 1 :].startswith(word.replace("AT", at))


def test_a_mass_or_an_acid_has_no_temperature_to_tell(tmp_path: Path) -> None:
    """Sulfuric acid is taken by its one density, at whatever temperature."""
    acid = "{kind: acid, of: H2SO4, purity: 96 %, density: 1.84 kg/L}"
    materials = (BASE / "materials" / "all.yaml").read_text(encoding="utf-8")
    lot = "lot: acid-1\nmaterial: acid\nreceived: 2026-01-02\nquantity: 1 L at 70 °C\npaid: 9.00 EUR\n"
    changes = {"materials/all.yaml": f"{materials}  acid: {acid}\n", "lots/acid-1.yaml": lot}
    assert codes(told(tmp_path, changes)) == []


def test_a_plain_check_needs_no_numpy() -> None:
    """Uncertainties are asked for only where a verdict hangs on them, and numpy is slow to import."""
    program = (
        "import sys; from pathlib import Path; from generator.validate.logbook import checked_folder; "
        f"assert checked_folder(Path({str(BASE)!r}))[1].fit; "
        "print(sorted({'numpy', 'uncertainties'} & set(sys.modules)))"
    )
    root = BASE.parents[2]
    done = subprocess.run(
        [sys.executable, "-c", program], cwd=root, capture_output=True, text=True, check=True, timeout=60
    )
    assert done.stdout == "[]\n"
