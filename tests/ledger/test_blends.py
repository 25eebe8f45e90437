"""Lots of tanks worked out by hand: 97 L of b1, 97 L of b2, and what the columns held back."""

from __future__ import annotations

from pathlib import Path

import pytest

from generator.compute.traces import traced
from generator.ledger.blends import EARLIER, ELSEWHERE, UNWRITTEN, TankLot, tank_lots
from generator.ledger.ledgers import Ledgers
from generator.ledger.rolling import ALONE, totals
from generator.ledger.tanks import books
from tests.logbook_files import Changes, log_of

TANK = "tanks/tank-1.yaml"
DRAW = "  - {date: 2026-01-20, draw: 40 L at 15 °C, to: member-1}\n"


def lots(parent: Path, history: str = DRAW, more: Changes | None = None, **heels: float) -> list[TankLot]:
    """The lots of the only tank; `heels` is what of b1 stood in the columns before b2."""
    log = log_of(parent, {TANK: (DRAW, history), **(more or {})})
    return tank_lots(books(log), {"b2": dict(heels)})


def test_a_fill_is_a_new_lot(tmp_path: Path) -> None:
    first, second = lots(tmp_path)
    assert (first.id, first.by, first.parts, first.heel_l) == ("tank-1-2026-01-11", "b1", {"b1": 97}, 0)
    assert (second.by, second.parts, second.heel_l) == ("b2", {"b1": 97, "b2": 97}, 97)
    assert (second.drawn_l, [move.to for move in second.draws]) == (40, ["member-1"])


def test_a_draw_takes_of_each_part_its_share(tmp_path: Path) -> None:
    """48.5 L drawn of 97 leave 48.5; with 97 L of b2 a third is b1."""
    _, second = lots(tmp_path, "  - {date: 2026-01-12, draw: 48.5 L at 15 °C}\n")
    assert second.share("b1") == pytest.approx(1 / 3)
    assert second.content_l == pytest.approx(145.5)


def test_what_stood_in_the_columns_was_the_batch_before(tmp_path: Path) -> None:
    _, second = lots(tmp_path, b1=20.0)
    assert second.parts == {"b1": 117, "b2": 77}


def test_fuel_from_elsewhere_and_what_a_dip_found_more(tmp_path: Path) -> None:
    """A standing cylinder of 80 cm holds 201.06 L at 40 cm: 7.06 L more than the two batches, and nobody knows whose."""
    found = lots(tmp_path, "  - {date: 2026-01-21, dip: 40 cm, settle: true}\n")
    assert found[-1].parts[UNWRITTEN] == pytest.approx(201.0619 - 194, abs=1e-3)
    (tmp_path / "other").mkdir()
    other = lots(tmp_path / "other", "  - {date: 2026-01-15, fill: 50 L at 15 °C, from: neighbour}\n")
    assert other[1].parts == {"b1": 97, ELSEWHERE: 50}


def test_nothing_is_lost_between_the_parts_and_the_book(tmp_path: Path) -> None:
    log = log_of(tmp_path)
    found, (book,) = tank_lots(books(log), {}), books(log).values()
    assert found[-1].content_l - found[-1].drawn_l == pytest.approx(float(book.content))


def test_forward_and_backward_agree(tmp_path: Path) -> None:
    """What is drawn of each oil lot adds up to what was drawn of fuel with a known batch."""
    ledgers = Ledgers(log_of(tmp_path))
    frames = traced(ledgers)
    assert sum(ledgers.oil_of("b1").values()) == pytest.approx(ledgers.facts["b1"].oil_kg)
    for lot, rows in frames["traces"].groupby("tank_lot"):
        (drawn,) = frames["tank_lots"].loc[frames["tank_lots"]["tank_lot"].eq(lot), "drawn_l"]
        assert rows["drawn_l"].sum() == pytest.approx(drawn)
    assert frames["blends"].groupby("tank_lot")["share_pct"].sum().tolist() == pytest.approx([100, 100])


def test_the_cloud_point_of_a_blend_needs_all_of_its_parts(tmp_path: Path) -> None:
    """Halves of 2 and 6 °C: 4 °C (derived)."""
    cold = ("tests:\n", "tests:\n  - {property: cloud point, value: 2 °C, method: ASTM D2500}\n")
    warm = ("tests:\n", "tests:\n  - {property: cloud point, value: 6 °C, method: ASTM D2500}\n")
    one = traced(Ledgers(log_of(tmp_path, {"batches/b1.yaml": cold})))["tank_lots"]
    assert one["cloud_point_c"].tolist()[0] == 2
    assert one["cloud_point_c"].isna().tolist() == [False, True]
    (tmp_path / "both").mkdir()
    both = log_of(tmp_path / "both", {"batches/b1.yaml": cold, "batches/b2.yaml": warm})
    lots_of = tank_lots(books(both), {})
    assert lots_of[-1].share("b1") == pytest.approx(0.5)
    found = traced(Ledgers(both))["tank_lots"].iloc[-1]
    assert found["cloud_low_c"] == 2
    assert found["cloud_high_c"] == 6
    assert 2 < found["cloud_point_c"] < 6


def test_twelve_months_go_by_place(tmp_path: Path) -> None:
    """Both batches and the draw in January; a year later the last month that holds them has ended."""
    place: Changes = {
        "columns/shed.yaml": ("purifier: shed\n", "purifier: shed\npremises: yard\n"),
        "lots/oil-9.yaml": "lot: oil-9\nmaterial: frying-oil\nreceived: 2027-03-05\nquantity: 100 L at 15 °C\n",
    }
    ledgers = Ledgers(log_of(tmp_path, place))
    found = totals(ledgers.log, ledgers.facts, ledgers.tanks)
    yard = {total.month: total.made_l for total in found if total.premises == "yard"}
    assert yard["2026-01"] == pytest.approx(194)
    assert (yard["2026-12"], yard["2027-01"], yard["2027-02"]) == (pytest.approx(194), 0, 0)
    assert "2027-03" not in yard
    drawn = {total.month: total.drawn_l for total in found if total.premises != "yard"}
    assert drawn["2026-12"] == pytest.approx(40)


def test_too_little_to_name_goes_together(tmp_path: Path) -> None:
    """0.1 L of 194 is under a thousandth: still in the tank, under no name of its own."""
    _, second = lots(tmp_path, b0=0.1)
    assert second.parts == {"b1": 97, "b2": pytest.approx(96.9), EARLIER: pytest.approx(0.1)}


def test_what_a_settling_dip_does_not_find_is_lacking_of_each_part(tmp_path: Path) -> None:
    """35 cm are 175.93 L where 194 were written: both batches keep their half, and nothing stands for what is gone."""
    found = lots(
        tmp_path,
        "  - {date: 2026-01-21, dip: 35 cm, settle: true}\n  - {date: 2026-01-22, fill: 1 L at 15 °C}\n",
    )
    half = pytest.approx(175.9292 / 2, abs=1e-3)
    assert found[-1].parts == {"b1": half, "b2": half, ELSEWHERE: 1}


def test_half_a_litre_that_is_left_is_still_of_its_batches(tmp_path: Path) -> None:
    """Of 194 L 193.5 are drawn; a litre from elsewhere comes on top."""
    found = lots(
        tmp_path,
        "  - {date: 2026-01-21, draw: 193.5 L at 15 °C}\n  - {date: 2026-01-22, fill: 1 L at 15 °C}\n",
    )
    assert found[-1].parts == {"b1": pytest.approx(0.25), "b2": pytest.approx(0.25), ELSEWHERE: 1}


def test_a_batch_is_of_the_place_of_its_tank_where_its_columns_have_none(tmp_path: Path) -> None:
    """97 L of each went into the tank in the yard, and one batch names no tank."""
    changed: Changes = {
        TANK: ("tank: tank-1\n", "tank: tank-1\npremises: yard\n"),
        "batches/b2.yaml": (", tank: tank-1", ""),
        "lots/oil-9.yaml": "lot: oil-9\nmaterial: frying-oil\nreceived: 2026-03-05\nquantity: 100 L at 15 °C\n",
    }
    ledgers = Ledgers(log_of(tmp_path, changed))
    found = totals(ledgers.log, ledgers.facts, ledgers.tanks)
    made = {total.premises: total.made_l for total in found if total.month == "2026-01"}
    assert made == {"yard": pytest.approx(97), ALONE: pytest.approx(97)}
