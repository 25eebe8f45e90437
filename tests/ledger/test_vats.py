"""Vats: what is poured together costs its mean, and brings its acid and its water by mass.

The money is that of the printed inventory example in `test_costing`, poured into a vat as it came: a moving average is what a
vat costs by its nature, 7,252.941176 used and 8,902.058824 left (derived from the published 7,253 and 8,902).
"""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from pathlib import Path

import pytest

from generator.compute.tally import tally
from generator.ledger.costing import Held
from generator.ledger.ledgers import Ledgers
from generator.ledger.pool import AVERAGE, FIFO, NAMED
from generator.ledger.vats import UNKNOWN
from tests.ledger.test_costing import BOUGHT, batch, ledgers, lot
from tests.logbook_files import Changes, codes, log_of, told

D = Decimal
POURED = "".join(
    f"  - {{date: {day}, lot: {name}, volume: {litres} L at 15 °C}}\n" for name, day, litres, _ in BOUGHT
)
VAT = "lot: vat-1\nmaterial: frying-oil\nreceived: 2026-01-01\nvat: true\nfilled:\n"
SOLD = (("x1", "2026-01-15", 120), ("x2", "2026-02-15", 180))
EXAMPLE = {
    **{f"lots/{name}.yaml": lot(name, day, litres, price) for name, day, litres, price in BOUGHT},
    **{f"batches/{name}.yaml": batch(name, day, ("vat-1", litres)) for name, day, litres in SOLD},
    "lots/vat-1.yaml": VAT + POURED,
}


@pytest.mark.parametrize(
    "method", [(), (("2026-01-01", FIFO),), (("2026-01-01", AVERAGE),), (("2026-02-01", NAMED),)]
)
def test_a_vat_costs_the_printed_moving_average_whatever_its_material_does(
    method: tuple[tuple[str, str], ...],
) -> None:
    """Each lot is poured in on its day, so that every method hands it on whole."""
    pools = ledgers(EXAMPLE, *method).inventory.pools
    vat, lots = pools[Held("frying-oil", "L", "vat-1")], pools[Held("frying-oil", "L")]
    assert vat.used.cost == pytest.approx(D("7252.941176470588"), abs=D("1e-9"))
    assert (vat.left.amount, vat.left.cost) == (D(285), pytest.approx(D("8902.058823529412"), abs=D("1e-9")))
    assert (lots.came.cost, lots.poured.cost, lots.left.amount) == (D(16155), D(16155), D(0))


def test_each_draw_costs_the_mean_of_its_day() -> None:
    """21, then (30 x 21 + 225 x 27) / 255."""
    found = ledgers(EXAMPLE).inventory
    each = [found.unit_cost("vat-1", date.fromisoformat(day), name) for name, day, _ in SOLD]
    assert each == [pytest.approx(D(21)), pytest.approx(D(6705) / 255, rel=D("1e-12"))]


def results_of(acid: str, water: str) -> str:
    return f"tests: [{{property: acid value, value: {acid} mg KOH/g}}, {{property: water, value: {water} mg/kg}}]\n"


SWEET = lot("oil-1", "2026-01-01", 150, 21, results_of("2.0", "300"))
SOUR = lot("oil-2", "2026-02-01", 225, 27, results_of("4.0", "900"))
MIXED = {**EXAMPLE, "lots/oil-1.yaml": SWEET, "lots/oil-2.yaml": SOUR}


def test_acid_and_water_are_carried_by_mass() -> None:
    """30 L of 2.0 and 225 of 4.0 are (60 + 900) / 255; of water (9,000 + 202,500) / 255; the third lot was not tested."""
    first, _, second, drawn, third = ledgers(MIXED).vats["vat-1"].mixes
    assert (first.acid_value_mg_koh_per_g, first.water_mg_per_kg) == (2.0, 300.0)
    for mix in (second, drawn):
        assert mix.acid_value_mg_koh_per_g == pytest.approx(960 / 255)
        assert mix.water_mg_per_kg == pytest.approx(211500 / 255)
    assert (third.acid_value_mg_koh_per_g, third.water_mg_per_kg) == (None, None)


def test_lots_of_unlike_density_count_by_their_mass(tmp_path: Path) -> None:
    """100 L at 0.800 and 100 L at 0.900 kg/L, of 2.0 and 4.0: (160 + 360) / 170."""
    light = "light: {kind: oil, density: 0.800 kg/L at 15 °C, source: made up}\n  heavy: {kind: oil, density: 0.900 kg/L at 15 °C, source: made up}\n  frying-oil:"
    changes: Changes = {
        "materials/all.yaml": ("frying-oil:", light),
        "lots/a.yaml": lot("a", "2026-01-01", 100, 1, results_of("2.0", "300")).replace(
            "frying-oil", "light"
        ),
        "lots/b.yaml": lot("b", "2026-01-01", 100, 1, results_of("4.0", "300")).replace(
            "frying-oil", "heavy"
        ),
        "lots/v.yaml": VAT.replace("vat-1", "v")
        + "  - {date: 2026-01-02, lot: a, volume: 100 L at 15 °C}\n  - {date: 2026-01-03, lot: b, volume: 100 L at 15 °C}\n",
    }
    last = Ledgers(log_of(tmp_path, changes)).vats["v"].last
    assert last is not None and last.acid_value_mg_koh_per_g == pytest.approx(520 / 170)


def test_a_test_of_the_vat_counts_from_its_day_on() -> None:
    own = "tests: [{date: 2026-02-10, property: acid value, value: 3.0 mg KOH/g}]\n"
    mixes = ledgers({**MIXED, "lots/vat-1.yaml": VAT + POURED + own}).vats["vat-1"].mixes
    found = [mix.acid_value_mg_koh_per_g for mix in mixes]
    assert found == [2.0, 2.0, pytest.approx(960 / 255), 3.0, None]


def test_a_test_after_all_else_is_of_what_is_in_the_vat_now() -> None:
    own = "tests: [{date: 2026-03-10, property: acid value, value: 3.0 mg KOH/g}]\n"
    vat = ledgers({**MIXED, "lots/vat-1.yaml": VAT + POURED + own}).vats["vat-1"]
    assert vat.last is not None and vat.last.acid_value_mg_koh_per_g == 3.0
    assert [(mix.line.by, mix.line.balance) for mix in vat.mixes[-2:]] == [("x2", D(75)), ("oil-3", D(285))]


def test_what_is_drawn_is_of_every_lot_its_share() -> None:
    """Of 255 L 30 are of the first lot; of the second draw's 180 L therefore 180 x 30 / 255."""
    found = ledgers(EXAMPLE)
    assert found.vats["vat-1"].shares_on(date(2026, 2, 15), "x2") == pytest.approx(
        {"oil-1": 30 / 255, "oil-2": 225 / 255}
    )
    kg = found.oil_of("x2")
    assert kg["oil-1"] / kg["oil-2"] == pytest.approx(30 / 225)
    lots = {row["lot"]: row for row in tally(found).rows("lots")}
    assert (lots["oil-1"]["poured"], lots["oil-1"]["left"], lots["vat-1"]["left"]) == (150.0, 0.0, 285.0)
    assert lots["vat-1"]["unit_cost"] == pytest.approx(8902.058823529412 / 285)


def test_what_a_count_finds_in_an_empty_vat_is_of_no_known_lot() -> None:
    files = {
        "lots/vat-1.yaml": f"{VAT.replace('filled:', 'counts:')}  - {{date: 2026-01-05, volume: 40 L at 15 °C}}\n",
        "batches/x.yaml": batch("x", "2026-01-08", ("vat-1", 20)),
    }
    assert ledgers(files).vats["vat-1"].shares_on(date(2026, 1, 8), "x") == {UNKNOWN: 1.0}
    assert ledgers(files).inventory.unit_cost("vat-1", date(2026, 1, 8), "x") is None


SMALL: Changes = {
    "lots/vat-1.yaml": VAT + "  - {date: 2026-01-02, lot: oil-1, volume: 250 L at 15 °C}\nholds: 240 L\n"
}


def test_vats_are_checked(tmp_path: Path) -> None:
    """Too full; the batches find the lot empty; a lot that is not there; a vat in a vat; before it came."""
    assert codes(told(tmp_path / "a", SMALL)) == ["stock-overdrawn", "storage-full"]
    for number, (line, code) in enumerate(
        [
            ("{date: 2026-01-02, lot: oil-7, volume: 9 L at 15 °C}", "unknown-id"),
            ("{date: 2026-01-02, lot: koh-1, volume: 9 L at 15 °C}", "wrong-kind"),
            ("{date: 2026-01-02, lot: vat-1, volume: 9 L at 15 °C}", "wrong-kind"),
            ("{date: 2026-01-01, lot: oil-1, volume: 9 L at 15 °C}", "date-order"),
            ("{date: 2026-01-02, lot: oil-1, volume: 9 L at 15 °C, mass: 9 kg}", "one-of"),
        ]
    ):
        assert codes(told(tmp_path / str(number), {"lots/vat-1.yaml": f"{VAT}  - {line}\n"})) == [code]


def test_what_is_drawn_of_an_empty_vat_is_of_no_known_lot() -> None:
    files = {
        "lots/vat-1.yaml": VAT.replace("filled:\n", ""),
        "batches/x.yaml": batch("x", "2026-01-08", ("vat-1", 20)),
    }
    vat = ledgers(files).vats["vat-1"]
    assert vat.drawn == {(date(2026, 1, 8), "x"): {UNKNOWN: 1.0}}


@pytest.mark.parametrize("day", ["2026-02-01", "2026-02-15"])
def test_a_test_of_the_vat_is_taken_behind_what_was_poured_in_and_before_what_was_drawn_that_day(
    day: str,
) -> None:
    """Poured in on 1 February, 960 / 255 by mass; drawn on the 15th, when the test says 3.0."""
    own = f"tests: [{{date: {day}, property: acid value, value: 3.0 mg KOH/g}}]\n"
    mixes = ledgers({**MIXED, "lots/vat-1.yaml": VAT + POURED + own}).vats["vat-1"].mixes
    found = [mix.acid_value_mg_koh_per_g for mix in mixes]
    assert found == [2.0, 2.0, pytest.approx(960 / 255), 3.0, None]
