"""The next id and file as the logbook has named them so far, and which lots come first."""

from __future__ import annotations

import datetime
from decimal import Decimal
from pathlib import Path

import pytest

from generator.ledger.ledgers import Ledgers
from generator.validate.logbook import checked_folder
from generator.writing.batch import Proposal, proposed_batch, text_of
from generator.writing.habits import Naming, left_of, named, next_naming
from generator.writing.purchase import proposed_lot, proposed_offer
from generator.writing.scalars import Value
from tests.logbook_files import checked

DAY = datetime.date(2026, 2, 1)


def ledgers_of(tmp_path: Path, changes: dict[str, tuple[str, str] | str | None] | None = None) -> Ledgers:
    found = checked(tmp_path, changes)
    assert found.ledgers is not None
    return found.ledgers


@pytest.mark.parametrize(
    ("last", "file", "year", "wanted"),
    [
        ("2026-024", "batches/2026/024.yaml", 2026, Naming("2026-025", "batches/2026/025.yaml")),
        ("2026-099", "batches/2026-099.yaml", 2026, Naming("2026-100", "batches/2026-100.yaml")),
        ("2026-024", "batches/2026/024.yaml", 2027, Naming("2027-001", "batches/2027/001.yaml")),
        (
            "barn-2026-24",
            "batches/2026/barn-24.yaml",
            2026,
            Naming("barn-2026-25", "batches/2026/barn-25.yaml"),
        ),
        ("b9", "batches/b9.yaml", 2027, Naming("b10", "batches/b10.yaml")),
        ("oil-031", "lots/oil-031.yaml", 2027, Naming("oil-032", "lots/oil-032.yaml")),
        ("b7", "batches/of may.yaml", 2026, Naming("b8", "batches/b8.yaml")),
    ],
)
def test_the_next_id(last: str, file: str, year: int, wanted: Naming) -> None:
    assert next_naming(last, file, 2026, year, lambda _: False) == wanted


def test_an_id_that_is_taken_is_passed_over() -> None:
    found = next_naming("2026-024", "batches/2026/024.yaml", 2026, 2026, {"2026-025"}.__contains__)
    assert found == Naming("2026-026", "batches/2026/026.yaml")


def test_an_id_without_a_number_has_no_next() -> None:
    assert next_naming("spring", "batches/spring.yaml", 2026, 2026, lambda _: False) is None


@pytest.mark.parametrize(
    ("name", "wanted"),
    [
        ("2026-040", "batches/2026/040.yaml"),
        ("trial", "batches/2026/trial.yaml"),
        ("x-1", "batches/2026/x-1.yaml"),
    ],
)
def test_the_file_of_an_id_that_was_given(name: str, wanted: str) -> None:
    assert named(name, "batches/2026/024.yaml", "2026-024", 2026, 2026) == Naming(name, wanted)


def test_the_file_of_an_id_of_another_kind_is_its_own() -> None:
    """Of as many letters as the last one, and numbered too: it was lots/o1.yaml."""
    assert named("vat-1", "lots/o7.yaml", "oil-7", 2026, 2026) == Naming("vat-1", "lots/vat-1.yaml")
    assert named("oil-8", "lots/o7.yaml", "oil-7", 2026, 2026) == Naming("oil-8", "lots/o8.yaml")
    assert named("2027-001", "batches/2026/024.yaml", "2026-024", 2026, 2027).file == "batches/2027/001.yaml"


def test_what_planned_batches_take_is_not_offered_again(tmp_path: Path) -> None:
    """300 L were delivered and two batches took 100 L each; a planned one takes 60 L of the rest."""
    planned = (
        "batch: b3\ndate: 2026-01-20\noil: [{lot: oil-1, volume: 60 L at 15 °C}]\nplan: {catalyst: koh-1}\n"
    )
    (left,) = left_of(ledgers_of(tmp_path, {"batches/b3.yaml": planned}), "oil", "shed")
    assert (left.lot.id, left.amount, left.unit) == ("oil-1", Decimal(40), "L")


def test_oldest_lots_come_first_and_dregs_are_left(tmp_path: Path) -> None:
    older = "lot: oil-0\nmaterial: frying-oil\nreceived: 2026-01-01\nquantity: 50 L at 15 °C\n"
    dregs = (
        "lot: oil-9\nmaterial: frying-oil\nreceived: 2025-12-01\nquantity: 200 L at 15 °C\n"
        "losses: [{date: 2026-01-05, volume: 197 L at 15 °C}]\n"
    )
    ledgers = ledgers_of(tmp_path, {"lots/oil-0.yaml": older, "lots/oil-9.yaml": dregs})
    assert [left.lot.id for left in left_of(ledgers, "oil", "shed")] == ["oil-0", "oil-1"]
    assert proposed_batch(ledgers, DAY).data["oil"] == [
        {"lot": "oil-0", "volume": "50 L"},
        {"lot": "oil-1", "volume": "50 L"},
    ]


def test_an_empty_vessel_is_told(tmp_path: Path) -> None:
    unloaded = "  - {date: 2026-01-24, event: unload, vessel: A, reason: spent}\n"
    path = Path(__file__).resolve().parents[1] / "gallery/_base/columns/shed.yaml"
    ledgers = ledgers_of(tmp_path, {"columns/shed.yaml": path.read_text(encoding="utf-8") + unloaded})
    assert "vessel A of shed holds no bed" in proposed_batch(ledgers, DAY).remarks["plan"]
    assert "vessel B of shed holds no bed" not in proposed_batch(ledgers, DAY).remarks["plan"]


def test_the_demo_keeps_its_two_habits() -> None:
    ledgers = checked_folder(Path(__file__).resolve().parents[2] / "logbook")[1].ledgers
    assert ledgers is not None
    day = datetime.date(2026, 12, 10)
    shed, barn = (proposed_batch(ledgers, day, purifier=name) for name in ("shed", "barn"))
    assert shed.naming == Naming("2026-026", "batches/2026/026.yaml")
    assert barn.naming == Naming("barn-2026-25", "batches/2026/barn-25.yaml")
    assert shed.data["plan"] != barn.data["plan"]
    lot = proposed_lot(ledgers.log, day, "", {"material": "used-rapeseed"})
    assert lot.naming.id.startswith("oil-")
    assert lot.naming.id not in ledgers.log.lots


def test_an_offer_is_named_by_its_month_and_source(tmp_path: Path) -> None:
    found = proposed_offer(ledgers_of(tmp_path).log, DAY, "", {"source": "The Inn, back door"})
    assert found.naming == Naming("2026-02-the-inn-back-door", "offers/2026-02-the-inn-back-door.yaml")


def test_a_lot_goes_on_the_numbers_of_its_kind_unless_they_bear_another_material_s_name(
    tmp_path: Path,
) -> None:
    """Oils are numbered together as oil-1; chips-1 is named by its material, and fibre is not chips."""
    more = (
        "materials:\n",
        "materials:\n  rapeseed: {kind: oil}\n  fibre: {kind: medium, type: absorbent, void: 0.6, ledgers: [{of: soap, by: holding}]}\n",
    )
    log = ledgers_of(tmp_path, {"materials/all.yaml": more}).log
    names = [proposed_lot(log, DAY, "", {"material": of}).naming.id for of in ("rapeseed", "fibre", "chips")]
    assert names == ["oil-2", "fibre-001", "chips-2"]


def test_a_remark_stands_where_it_is_filled_in() -> None:
    naming = Naming("b9", "batches/b9.yaml")
    data: dict[str, Value] = {
        "plan": {"purifier": "shed"},
        "note": "n",
        "batch": "b9",
        "oil": [{"volume": "9 L", "lot": "o"}],
    }
    remarks = {
        "titration": ("titration:", "  blank: ... mL"),
        "water": ("water: ...",),
        "plan": ("no bed",),
        "fuel": ("room",),
    }
    lines = text_of("batch", Proposal(naming, data, remarks)).splitlines()
    kept = [line for line in lines if not line.startswith(("# what", "# ignites"))]
    assert kept == [
        "batch: b9", "oil:", "  - {lot: o, volume: 9 L}", "# titration:", "#   blank: ... mL", "# water: ...",
        "# no bed", "plan:", "  purifier: shed", "# room", "note: n",
    ]  # fmt: skip
    written = text_of("batch", Proposal(naming, {**data, "water": {"value": "300 mg/kg"}}, remarks))
    assert "# water" not in written and "# titration:" in written


def test_a_supplier_is_taken_over_and_whose_oil_it_was_is_not(tmp_path: Path) -> None:
    """Else a lot would be told to come from the kitchen that gave the last one."""
    changes: dict[str, tuple[str, str] | str | None] = {
        "lots/oil-1.yaml": ("paid:", "source: canteen\npaid:"),
        "lots/meoh-1.yaml": ("paid:", "source: trader\npaid:"),
    }
    log = ledgers_of(tmp_path, changes).log
    of = {
        material: proposed_lot(log, DAY, "", {"material": material}).data.get("source")
        for material in ("frying-oil", "methanol")
    }
    assert of == {"frying-oil": None, "methanol": "trader"}
