"""The check tells amounts in the units that a logbook shows, and dips in the unit that stands beside them."""

from __future__ import annotations

from pathlib import Path

from tests.logbook_files import BASE, Changes, told

TANK = "tanks/tank-1.yaml"
SETTINGS = (BASE / "logbook.yaml").read_text(encoding="utf-8")
GALLONS: Changes = {
    "logbook.yaml": SETTINGS + "\ndisplay: {volume: US gal, mass: lb, temperature: °F, pressure: psi}\n"
}
SMALL = "tank: tank-1\nshape: {vertical cylinder: {diameter: 20 in, height: 20 in}}\nhistory:\n  - {date: 2026-02-01, dip: 25 in}\n"


def messages(parent: Path, changes: Changes) -> list[str]:
    return [problem.message for problem in told(parent, changes)]


def test_a_tank_in_a_logbook_of_gallons(tmp_path: Path) -> None:
    """pi / 4 * 20**3 cubic inches are 27.2 US gallons of 231 cubic inches each."""
    found = messages(tmp_path, {**GALLONS, TANK: SMALL})
    assert any(text.endswith("US gal, and its shell holds 27.2 US gal") for text in found), found
    assert any(text.endswith("which is known from 0 to 20 in") for text in found), found
    assert not any(" L" in text for text in found), found


def test_in_litres_nothing_changes(tmp_path: Path) -> None:
    found = messages(tmp_path, {TANK: SMALL})
    assert any(text.endswith(" L, and its shell holds 103 L") for text in found), found
