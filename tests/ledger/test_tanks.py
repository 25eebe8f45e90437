"""Books of tanks, worked out by hand. A standing cylinder of 80 cm holds pi x 40² / 1000 = 5.0265... L per cm."""

from __future__ import annotations

import math
from decimal import Decimal
from pathlib import Path

import pytest

from generator.ledger.shells import shell_of
from generator.ledger.tanks import TankBook, books
from generator.validate.logbook import checked_folder
from tests.logbook_files import Changes, base_files, in_memory, lay, log_of, logbook, told

TANK, B1, B2 = "tanks/tank-1.yaml", "batches/b1.yaml", "batches/b2.yaml"
DRAW = "  - {date: 2026-01-20, draw: 40 L at 15 °C, to: member-1}\n"
D = Decimal


def book(parent: Path, history: str = DRAW, more: Changes | None = None) -> TankBook:
    """The book of the only tank with this history; two batches of 97 L filled it on the 11th and 18th."""
    return books(log_of(parent, {TANK: (DRAW, history), **(more or {})}))["tank-1"]


def test_fills_and_a_draw(tmp_path: Path) -> None:
    found = book(tmp_path)
    assert [(move.event, move.litres, move.content, move.batch, move.to) for move in found.movements] == [
        ("fill", D(97), D(97), "b1", ""),
        ("fill", D(97), D(194), "b2", ""),
        ("draw", D(40), D(154), "", "member-1"),
    ]
    assert found.content == D(154)
    assert found.last_dip is None


def test_the_shell(tmp_path: Path) -> None:
    found = book(tmp_path)
    assert float(found.capacity) == pytest.approx(math.pi * 40**2 * 120 / 1000, abs=1e-8)  # 603.1857... L
    assert (found.shell.lowest_cm, found.shell.highest_cm) == (0, 120)


def test_a_dip_is_compared_and_changes_nothing(tmp_path: Path) -> None:
    """61 cm: 306.6194... L, at the assumed temperature of 15 °C."""
    found = book(tmp_path, DRAW + "  - {date: 2026-01-21, dip: 30.5 cm}\n")
    dip = found.movements[-1]
    assert float(dip.dipped or 0) == pytest.approx(math.pi * 40**2 * 30.5 / 1000, abs=1e-8)
    assert (dip.content, found.content, found.last_dip) == (D(154), D(154), dip)


def test_a_dip_is_carried_from_the_assumed_to_the_reference_temperature(tmp_path: Path) -> None:
    """Fuel at 25 °C: 880 - 0.723 x 10 = 872.77 kg/m³; so 872.77 / 880 of the litres at 15 °C."""
    warm: Changes = {"logbook.yaml": ("title:", "assumed_temperature: 25 °C\ntitle:")}
    found = book(tmp_path, DRAW + "  - {date: 2026-01-21, dip: 30 cm}\n", warm)
    assert float(found.movements[-1].dipped or 0) == pytest.approx(
        math.pi * 40**2 * 0.03 * 872.77 / 880, rel=1e-9
    )


def test_a_draw_is_carried_to_the_reference_temperature(tmp_path: Path) -> None:
    found = book(tmp_path, DRAW.replace("40 L at 15", "40 L at 25"))
    assert found.movements[-1].litres == D("39.671363636")  # 40 x 872.77 / 880 = 39.67136363...


def test_fuel_by_mass_is_carried_to_litres(tmp_path: Path) -> None:
    found = book(tmp_path, more={B1: ("fuel: {volume: 97 L at 15 °C,", "fuel: {mass: 88 kg,")})
    assert found.movements[0].litres == D(100)


def test_fuel_from_elsewhere_fills_too(tmp_path: Path) -> None:
    found = book(tmp_path, "  - {date: 2026-01-15, fill: 50 L at 15 °C, from: neighbour}\n" + DRAW)
    assert [(move.event, move.content) for move in found.movements] == [
        ("fill", D(97)), ("fill", D(147)), ("fill", D(244)), ("draw", D(204)),
    ]  # fmt: skip


def test_a_draw_without_a_time_comes_after_the_fills_of_its_day(tmp_path: Path) -> None:
    found = book(tmp_path, "  - {date: 2026-01-11, draw: 97 L at 15 °C}\n  - {date: 2026-01-11, dip: 0 cm}\n")
    assert [(move.event, move.content) for move in found.movements] == [
        ("fill", D(97)), ("draw", D(0)), ("dip", D(0)), ("fill", D(97)),
    ]  # fmt: skip


def test_a_batch_that_names_no_tank_fills_none(tmp_path: Path) -> None:
    found = book(tmp_path, more={B2: (", tank: tank-1", "")})
    assert found.content == D(57)


def test_an_empty_book(tmp_path: Path) -> None:
    found = book(tmp_path, "[]\n", {TANK: "tank: tank-1\nshape: {vertical cylinder: {diameter: 80 cm, height: 120 cm}}\n",
                                    B1: (", tank: tank-1", ""), B2: (", tank: tank-1", "")})  # fmt: skip
    assert (found.movements, found.content) == ([], D(0))


def test_a_lying_tank_is_dipped_with_its_uncertainty(tmp_path: Path) -> None:
    """100 cm by 200 cm, half full: 785.398... L; 100 x 200 cm² of surface are 20 L per cm, 5 mm / 3 ** 0.5 of it 5.77 L."""
    lying = (
        "vertical cylinder: {diameter: 80 cm, height: 120 cm}",
        "horizontal cylinder: {diameter: 100 cm, length: 200 cm}",
    )
    root = logbook(tmp_path, {TANK: lying})
    lay(root, TANK, (DRAW, DRAW + "  - {date: 2026-01-21, dip: 50 cm}\n"))
    log = checked_folder(root)[1].log
    assert log is not None
    found = books(log)["tank-1"]
    dip = found.movements[-1]
    assert float(dip.dipped or 0) == pytest.approx(1000 * math.pi / 4, abs=1e-6)
    assert dip.dipped_u == pytest.approx(20 * 0.5 / 3**0.5, rel=1e-4)
    assert float(found.capacity) == pytest.approx(1000 * math.pi / 2, abs=1e-6)


@pytest.mark.parametrize(
    ("shape", "dip", "litres"),
    [
        ("vertical cylinder: {diameter: 60 cm, height: 90 cm, bottom: {kind: cone, depth: 30 cm}}", 50, 84.823),
        ("vertical cylinder: {diameter: 60 cm, height: 90 cm, bottom: {kind: hemispherical}}", 30, 56.549),
        ("horizontal cylinder: {diameter: 100 cm, length: 200 cm, heads: {kind: ellipsoidal, depth: 25 cm}}", 25, 347.9986),
        ("dip table: [{dip: 0 cm, volume: 0 L}, {dip: 10 cm, volume: 30 L}, {dip: 60 cm, volume: 330 L}]", 35, 180),
    ],
    ids=["cone", "half a ball", "ellipsoidal", "table"],
)  # fmt: skip
def test_shapes(shape: str, dip: float, litres: float) -> None:
    """Cone V7 and ellipsoidal V6 (library); 2/3 pi 30³ cm³ of half a ball (published formula); halfway between two lines."""
    (record,) = in_memory({**base_files(), TANK: f"tank: tank-1\nshape: {{{shape}}}\n"}).log.tanks.values()  # type: ignore[union-attr]
    assert shell_of(record.record.shape).litres(dip) == pytest.approx(litres, abs=0.001)


def test_beyond_its_ends_a_table_knows_nothing() -> None:
    text = "tank: tank-1\nshape: {dip table: [{dip: 5 cm, volume: 9 L}, {dip: 10 cm, volume: 30 L}]}\n"
    log = in_memory({**base_files(), TANK: text}).log
    assert log is not None
    shell = shell_of(log.tanks["tank-1"].record.shape)
    assert [shell.holds(dip) for dip in (4.9, 5, 10, 10.1)] == [False, True, True, False]


def test_the_temperature_beside_a_dip_counts(tmp_path: Path) -> None:
    found = book(tmp_path, DRAW + "  - {date: 2026-01-21, dip: 30 cm, temperature: 25 °C}\n")
    assert float(found.movements[-1].dipped or 0) == pytest.approx(
        math.pi * 40**2 * 0.03 * 872.77 / 880, rel=1e-9
    )


def test_a_lying_tank_is_known_from_its_very_bottom(tmp_path: Path) -> None:
    shape = "shape: {horizontal cylinder: {diameter: 80 cm, length: 120 cm}}"
    old = next(line for line in base_files()[TANK].splitlines() if line.startswith("shape:"))
    log = log_of(tmp_path, {TANK: (old, shape)})
    found = shell_of(log.tanks["tank-1"].record.shape)
    assert (found.lowest_cm, found.highest_cm, found.litres(0.0)) == (0, 80, 0)
    assert found.holds(0.5) and found.litres(0.5) > 0


def test_a_dip_that_set_the_book_is_not_told_to_set_it(tmp_path: Path) -> None:
    """61 cm are 307 L, and the book had 154."""
    settling = DRAW + "  - {date: 2026-01-21, dip: 61 cm, settle: true}\n"
    found = told(tmp_path, {TANK: (DRAW, settling)})
    assert [problem.code for problem in found] == ["dip-differs"]
    assert "settle" not in found[0].hint and "holds from here" in found[0].hint


def test_a_dip_outside_the_tank_sets_no_book(tmp_path: Path) -> None:
    """Told as one slip: b2 comes behind it and finds the tank as it was, not full."""
    settling = "  - {date: 2026-01-12, dip: 310 cm, settle: true}\n"
    assert [problem.code for problem in told(tmp_path, {TANK: (DRAW, settling + DRAW)})] == ["dip-outside"]
