"""What a dip of each tank means: the shape as written, round dips up to the brim, and the tank's own table line by line."""

from __future__ import annotations

from math import pi
from pathlib import Path

import pytest

from generator.compute.frames import Row
from generator.compute.tally import tally
from generator.ledger.ledgers import Ledgers
from generator.pages import tanks
from tests.logbook_files import log_of

TANK = "tanks/tank-1.yaml"


def rows(parent: Path, shape: str) -> list[Row]:
    """The dips of the tank of the good logbook, with another shape and no history."""
    found = tally(Ledgers(log_of(parent, {TANK: f"tank: tank-1\nshape: {{{shape}}}\n"})))
    return [row for row in found.rows("dips") if row["tank"] == "tank-1"]


def test_round_dips_lead_up_to_the_brim(tmp_path: Path) -> None:
    """Of a standing cylinder 80 cm across each 10 cm are pi * 40 * 40 * 10 / 1000 litres."""
    found = rows(tmp_path, "vertical cylinder: {diameter: 80 cm, height: 124 cm}")
    assert [row["dip"] for row in found] == [*(f"{cm} cm" for cm in range(10, 121, 10)), "124 cm"]
    assert [row["below_l"] for row in found] == pytest.approx([pi * 1.6 * row["dip_cm"] for row in found])
    assert (found[-1]["share_pct"], found[5]["dip"]) == (100, "60 cm")
    assert found[0]["shape"] == "standing cylinder, 80 cm across and 124 cm high; bottom: flat"


def test_a_tank_measured_in_inches_is_dipped_in_inches(tmp_path: Path) -> None:
    """A lying cylinder is half full at half its diameter, heads and all: by symmetry."""
    heads = "heads: {kind: torispherical, dish: 48 in, knuckle: 3 in}"
    found = rows(tmp_path, f"horizontal cylinder: {{diameter: 4 ft, length: 8 ft, {heads}}}")
    assert [row["dip"] for row in found] == [*(f"{inches} in" for inches in range(3, 48, 3)), "48 in"]
    assert found[7]["dip"] == "24 in" and found[7]["share_pct"] == pytest.approx(50)
    assert (
        found[0]["shape"]
        == "lying cylinder, 4 ft across and 8 ft long; each head: dished, radius 48 in, with a knuckle of 3 in"
    )


@pytest.mark.parametrize(
    ("bottom", "told"),
    [
        ("{kind: cone, depth: 20 cm}", "a cone 20 cm deep"),
        ("{kind: hemispherical}", "half a ball"),
        ("{kind: ellipsoidal, depth: 15 cm}", "half an ellipsoid 15 cm deep"),
    ],
)
def test_every_end_is_named(bottom: str, told: str, tmp_path: Path) -> None:
    found = rows(tmp_path, f"vertical cylinder: {{diameter: 60 cm, height: 100 cm, bottom: {bottom}}}")
    assert found[0]["shape"].endswith(f"; bottom: {told}")


def test_of_a_table_of_dips_its_own_lines_stand(tmp_path: Path) -> None:
    found = rows(tmp_path, "dip table: [{dip: 5 cm, volume: 12 L}, {dip: 40 cm, volume: 200 L}]")
    assert [(row["dip"], row["below_l"]) for row in found] == [("5 cm", 12), ("40 cm", 200)]
    assert found[0]["shape"] == "its own table of 2 dips, read straight between them"


def test_the_page_shows_the_shape_and_what_its_dips_mean(tmp_path: Path) -> None:
    page = tanks.page(tally(Ledgers(log_of(tmp_path))))
    (figures,) = page.content["figures"].values()
    shape = next(figure for figure in figures if figure.label == "Shape")
    assert shape.text == "standing cylinder, 80 cm across and 120 cm high; bottom: flat"
    table = page.content["tables"][-1]
    assert shape.href == f"#{table.id}" and table.caption == "What a dip means"
    assert [cell.text for cell in table.rows[0]] == ["tank-1", "10 cm", "50", "8"]
