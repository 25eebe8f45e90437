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


def test_beds_and_masses_in_a_logbook_of_gallons_and_pounds(tmp_path: Path) -> None:
    """Derived: 220 lb in 14.53 US gal, 18.78 US gal in 71.1 L, 20 L of methanol of 0.796 kg/L; 0.45359237 kg, 3.785411784 L."""
    bed = (BASE / "columns" / "shed.yaml").read_text(encoding="utf-8")
    odd = bed.replace("mass: 14 kg", "mass: 220 lb")
    rests = "".join(
        f"  - {{date: {day}, event: rest, until: {until}, drained: {drained}}}\n"
        for day, until, drained in (
            ("2026-01-20", "2026-01-21", "23.8 US gal"),
            ("2026-01-22", "2026-01-23", "40 US gal"),
        )
    )
    batch = ("settled:", "methanol_recovered: {volume: 40 US gal, into: meoh-back}\nsettled:")
    found = messages(
        tmp_path,
        {
            **GALLONS,
            "columns/shed.yaml": odd + rests,
            "batches/b1.yaml": batch,
        },
    )
    assert (
        "220 lb in a bed of 55 L are 15 lb/US gal, and no medium lies so; 0.42 to 13 lb/US gal is usual"
        in found
    )
    assert "23.8 US gal were drained, and A and B held 18.8 US gal at most" in found
    assert "40 US gal were drained, and A and B hold 26.4 US gal" in found
    assert any(text.endswith("lb of methanol taken back, and 35.1 lb poured") for text in found), found


def test_in_litres_nothing_changes(tmp_path: Path) -> None:
    found = messages(tmp_path, {TANK: SMALL})
    assert any(text.endswith(" L, and its shell holds 103 L") for text in found), found
