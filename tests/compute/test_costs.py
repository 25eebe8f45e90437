"""Costs worked out by hand, and what is unknown in them stays unknown."""

from __future__ import annotations

import math
from pathlib import Path
from typing import Any

import pytest

from generator.compute.results import Results
from generator.compute.tally import tally
from generator.ledger.ledgers import Ledgers
from tests.logbook_files import Changes, log_of, told

B1, OIL, SHED = "batches/b1.yaml", "lots/oil-1.yaml", "columns/shed.yaml"
POWER = "price: electricity\nseries:\n  - {date: 2026-01-01, value: 0.25 EUR/kWh}\n"
EFFORT = ("tests:", "energy: 10 kWh\nlabour: 2 h\nother_costs: [{for: laboratory, paid: 5.00 EUR}]\ntests:")
WHOLE: Changes = {
    B1: EFFORT,
    "prices/electricity.yaml": POWER,
    "logbook.yaml": ("title:", "labour_rate: 12.00 EUR/h\ntitle:"),
    SHED: (", bed:", ", expected: 1000 L, bed:"),
}


def results(parent: Path, changes: Changes | None = None) -> Results:
    """Everything computed from the changed logbook."""
    return tally(Ledgers(log_of(parent, changes)))


def cost(parent: Path, changes: Changes | None = None, batch: str = "b1") -> dict[str, Any]:
    """The row of one batch."""
    return next(row for row in results(parent, changes).rows("costs") if row["batch"] == batch)


@pytest.fixture
def whole(tmp_path: Path) -> dict[str, Any]:
    return cost(tmp_path, WHOLE)


def test_every_part_of_a_batch(whole: dict[str, Any]) -> None:
    """100 L of oil at 0.40, 20 L of methanol at 0.90, 1 kg of flakes at 3.00, 10 kWh at 0.25, the laboratory, 2 h."""
    parts = {name: whole[name] for name in ("oil", "methanol", "catalyst", "energy", "other", "labour")}
    assert parts == {
        "oil": 40.0,
        "methanol": 18.0,
        "catalyst": 3.0,
        "energy": 2.5,
        "other": 5.0,
        "labour": 24.0,
    }


def test_media_are_spread_over_the_fuel_expected(whole: dict[str, Any]) -> None:
    """14 of 20 kg of chips for 10 EUR are 7 EUR, the beads 80 EUR, each over 1000 L; 98 L went through."""
    assert whole["media"] == pytest.approx(98 * (7 + 80) / 1000, rel=1e-12)
    assert whole["media_estimated"] == "yes"


def test_tiers_per_litre_of_finished_fuel(whole: dict[str, Any]) -> None:
    """97 L came out; media stand above cash, labour above media."""
    cash = 40 + 18 + 3 + 2.5 + 5
    media = 98 * 87 / 1000
    assert whole["cash_per_l"] == pytest.approx(cash / 97, rel=1e-12)
    assert whole["with_media_per_l"] == pytest.approx((cash + media) / 97, rel=1e-12)
    assert whole["with_labour_per_l"] == pytest.approx((cash + media + 24) / 97, rel=1e-12)
    assert whole["known_per_l"] == pytest.approx((cash + media) / 97, rel=1e-12)
    assert whole["per_diesel_l"] == pytest.approx((cash + media) / 97 * 35.536 / 32.638, rel=1e-12)
    assert whole["diesel_per_l"] == 1.6


OVERHEADS = "overheads: [{for: vessels, from: 2026-01-01, paid: 30.00 EUR, over: 150 L}]\ntitle:"


def test_every_litre_bears_an_overhead_until_all_of_them_have(tmp_path: Path) -> None:
    """0.20 EUR on each of 97 L, and on the 53 L of the next batch that are left of 150."""
    found = results(tmp_path, {"logbook.yaml": ("title:", OVERHEADS)})
    assert [row["overheads"] for row in found.rows("costs")] == pytest.approx([97 * 0.2, 53 * 0.2])
    (row,) = found.rows("overheads")
    assert (row["borne_l"], row["borne"], row["left"]) == pytest.approx((150.0, 30.0, 0.0), abs=1e-12)


@pytest.mark.parametrize(
    ("line", "borne"),
    [("from: 2026-01-11", [0.0, 19.4]), ("from: 2026-01-10, until: 2026-01-10", [19.4, 0.0]),
     ("from: 2026-01-18", [0.0, 0.0])],
)  # fmt: skip
def test_an_overhead_is_borne_in_its_time_and_by_nothing_else(
    tmp_path: Path, line: str, borne: list[float]
) -> None:
    text = OVERHEADS.replace("from: 2026-01-01", line)
    found = results(tmp_path, {"logbook.yaml": ("title:", text)})
    assert [row["overheads"] for row in found.rows("costs")] == pytest.approx(borne)
    (row,) = found.rows("overheads")
    assert row["left"] == pytest.approx(30 - sum(borne))


def test_fuel_that_is_not_known_leaves_its_overhead_unknown(tmp_path: Path) -> None:
    changes: Changes = {
        "logbook.yaml": ("title:", OVERHEADS),
        B1: ("fuel: {volume: 97 L at 15 °C, tank: tank-1}\n", ""),
    }
    more: Changes = {"tanks/tank-1.yaml": None, "batches/b2.yaml": (", tank: tank-1", "")}
    first, second = results(tmp_path, {**changes, **more}).rows("costs")
    assert (first["overheads"], second["overheads"]) == (None, pytest.approx(19.4))


def test_a_credit_lowers_the_cash_and_an_overhead_what_stands_above_it(
    tmp_path: Path, whole: dict[str, Any]
) -> None:
    """9.70 EUR for glycerol are 0.10 on a litre; 0.20 of the overhead stand above the cash."""
    credit = ("tests:", EFFORT[1].replace("tests:", "credits: [{for: glycerol, amount: 9.70 EUR}]\ntests:"))
    settings = ("title:", "labour_rate: 12.00 EUR/h\n" + OVERHEADS)
    found = cost(tmp_path / "other", {**WHOLE, B1: credit, "logbook.yaml": settings})
    assert found["credits_per_l"] == pytest.approx(-0.10, rel=1e-12)
    assert found["cash_per_l"] == pytest.approx(whole["cash_per_l"] - 0.10, rel=1e-12)
    assert found["with_media_per_l"] == pytest.approx(whole["with_media_per_l"] + 0.10, rel=1e-12)
    assert found["with_labour_per_l"] == pytest.approx(whole["with_labour_per_l"] + 0.10, rel=1e-12)
    assert found["known_per_l"] == pytest.approx(found["with_media_per_l"], rel=1e-12)
    assert whole["credits"] == whole["overheads"] == 0.0


def test_saving_against_the_pump(whole: dict[str, Any]) -> None:
    """A litre has the heat of 32.638 / 35.536 L of diesel at 1.60; two hours made 97 L."""
    saved = 1.6 * 32.638 / 35.536 - (40 + 18 + 3 + 2.5 + 5 + 98 * 87 / 1000) / 97
    assert whole["saving_per_l"] == pytest.approx(saved, rel=1e-12)
    assert whole["saving_per_h"] == pytest.approx(saved * 97 / 2, rel=1e-12)


def test_a_megajoule_is_of_net_heat(whole: dict[str, Any]) -> None:
    """32.638 MJ/L: 117,100 Btu/gal, California Energy Commission."""
    assert whole["per_mj"] == pytest.approx(whole["with_media_per_l"] / 32.638, rel=1e-4)


@pytest.mark.parametrize(
    ("paid", "told"),
    [("5.00 EUR", None), ("0.30 EUR", "other 0.41 %"), ("0 EUR", None), ("900.00 EUR", "other 93 %"),
     ("30000.00 EUR", "other 100 %")],
)  # fmt: skip
def test_a_part_that_is_hardly_any_or_nearly_all_of_a_cost_is_pointed_at(
    tmp_path: Path, paid: str, told: str | None
) -> None:
    """Beside 40 for oil, 18, 3, 2.5 and 8.526 for the rest; nothing paid is nothing odd."""
    changes: Changes = {**WHOLE, B1: (EFFORT[0], EFFORT[1].replace("5.00 EUR", paid))}
    assert cost(tmp_path, changes)["odd_parts"] == told


def test_hours_that_are_not_written_leave_the_saving_by_the_hour_unknown(tmp_path: Path) -> None:
    found = cost(tmp_path, {**WHOLE, B1: ("tests:", "energy: 10 kWh\ntests:")})
    assert found["saving_per_l"] is not None
    assert found["saving_per_h"] is None


@pytest.mark.parametrize(
    "changes",
    [
        {"prices/electricity.yaml": POWER},  # no reading
        {B1: EFFORT},  # no price
        {
            B1: EFFORT,
            "prices/electricity.yaml": POWER.replace("2026-01-01", "2026-01-11"),
        },  # no price on that day
    ],
)
def test_an_energy_that_is_not_known_leaves_cash_unknown_and_oil_known(
    tmp_path: Path, changes: Changes
) -> None:
    found = cost(tmp_path, changes)
    assert found["energy"] is None
    assert found["cash_per_l"] is None
    assert found["with_media_per_l"] is None
    assert found["with_labour_per_l"] is None
    assert found["per_diesel_l"] is None
    assert found["oil_per_l"] == pytest.approx(40 / 97, rel=1e-12)
    assert found["known_per_l"] > 0


def test_an_oil_without_a_price_leaves_its_part_unknown_and_the_others_known(tmp_path: Path) -> None:
    found = cost(tmp_path, {OIL: ("paid: 0.40 EUR/L\n", "")})
    assert (found["oil"], found["oil_per_l"], found["cash_per_l"]) == (None, None, None)
    assert found["methanol"] == 18.0


def test_a_price_of_zero_that_is_declared_is_zero(tmp_path: Path) -> None:
    found = cost(tmp_path, {**WHOLE, OIL: ("0.40 EUR/L", "0 EUR")})
    assert (found["oil"], found["oil_per_l"]) == (0.0, 0.0)
    assert found["cash_per_l"] == pytest.approx((18 + 3 + 2.5 + 5) / 97, rel=1e-12)


def test_one_lot_of_two_without_a_price_leaves_the_whole_part_unknown(tmp_path: Path) -> None:
    text = "lot: gift\nmaterial: frying-oil\nreceived: 2026-01-02\nquantity: 50 L at 15 °C\n"
    changes: Changes = {
        "lots/gift.yaml": text,
        B1: (
            "  - {lot: oil-1, volume: 100 L at 15 °C}\n",
            "  - {lot: oil-1, volume: 60 L at 15 °C}\n  - {lot: gift, volume: 40 L at 15 °C}\n",
        ),
    }
    assert cost(tmp_path / "a", changes)["oil"] is None
    priced: Changes = {**changes, "lots/gift.yaml": text + "paid: 5.00 EUR\n"}
    assert cost(tmp_path / "b", priced)["oil"] == pytest.approx(60 * 0.4 + 40 * 0.1, rel=1e-12)


def test_a_batch_without_fuel_yet_has_parts_and_no_cost_per_litre(tmp_path: Path) -> None:
    found = cost(tmp_path, {**WHOLE, B1: ("fuel: {volume: 97 L at 15 °C, tank: tank-1}\n", "")})
    assert found["oil"] == 40.0
    assert found["fuel_l"] is None
    assert found["oil_per_l"] is None
    assert found["cash_per_l"] is None


def test_fuel_of_nothing_has_no_cost_per_litre(tmp_path: Path) -> None:
    found = cost(
        tmp_path, {B1: ("fuel: {volume: 97 L at 15 °C, tank: tank-1}", "fuel: {volume: 0 L at 15 °C}")}
    )
    assert found["fuel_l"] == 0.0
    assert found["oil_per_l"] is None


def without_run(more: str = "") -> str:
    """The first batch as if nobody had written its run; with something else in its place."""
    text = (Path(__file__).parents[1] / "gallery" / "_base" / B1).read_text(encoding="utf-8")
    head, _, rest = text.partition("polish:")
    return head + more + "fuel:" + rest.partition("fuel:")[2]


def test_a_batch_whose_run_nobody_wrote_has_an_unknown_cost_of_media(tmp_path: Path) -> None:
    """What was not written is unknown, and never zero; what offers are judged by leaves it out."""
    found = cost(tmp_path, {**WHOLE, B1: without_run("energy: 10 kWh\n")})
    assert found["media"] is None
    assert found["with_media_per_l"] is None
    assert found["cash_per_l"] is not None
    assert "run through the columns (or 'unpolished: true')" in found["missing"]


def test_a_finished_batch_said_to_be_not_polished_has_no_media(tmp_path: Path) -> None:
    found = cost(tmp_path, {B1: without_run("unpolished: true\n")})
    assert found["media"] == 0.0
    assert "columns" not in (found["missing"] or "")


def test_a_batch_said_to_be_not_polished_has_no_media_before_it_is_finished_either(tmp_path: Path) -> None:
    text = without_run("unpolished: true\n").replace("fuel: {volume: 97 L at 15 °C, tank: tank-1}\n", "")
    assert cost(tmp_path, {B1: text})["media"] == 0.0


def test_where_no_column_is_described_there_are_no_media(tmp_path: Path) -> None:
    """A workshop that washes with water has nothing to write."""
    found = cost(tmp_path, {B1: without_run(), "batches/b2.yaml": None, SHED: None})
    assert found["media"] == 0.0
    assert "columns" not in (found["missing"] or "")


def test_a_run_and_its_denial_are_told(tmp_path: Path) -> None:
    problems = told(tmp_path, {B1: ("polish:", "unpolished: true\npolish:")})
    assert [problem.code for problem in problems if problem.is_error] == ["one-of"]


def test_a_medium_without_a_lot_leaves_media_unknown(tmp_path: Path) -> None:
    found = cost(tmp_path, {**WHOLE, SHED: ("lot: chips-1, ", "")})
    assert found["media"] is None
    assert found["with_media_per_l"] is None
    assert found["cash_per_l"] is not None


def test_a_charge_without_any_soap_sample_has_no_cost_per_litre_to_spread(tmp_path: Path) -> None:
    """In service, none of its kind unloaded, nothing expected, nothing of its capacity known to be used."""
    found = results(tmp_path)
    charge = next(row for row in found.rows("charges") if row["vessel"] == "B")
    assert charge["expected_l"] is None
    assert charge["cost_per_l"] is None
    assert charge["cost"] == pytest.approx(80.0)


def test_no_table_holds_a_number_where_a_figure_is_unknown(tmp_path: Path) -> None:
    """A logbook of two bare batches: what was not written comes out as None, nowhere as zero or NaN."""
    changes: Changes = {
        f"batches/b{n}.yaml": f"batch: b{n}\ndate: 2026-01-1{n}\noil: [{{lot: oil-1, volume: 100 L at 15 °C}}]\n"
        for n in (1, 2)
    }
    found = results(tmp_path, {**changes, "tanks/tank-1.yaml": None})
    for row in found.rows("batches"):
        known = {name for name, value in row.items() if value is not None}
        assert known == {
            "batch",
            "date",
            "oil_l",
            "oil_kg",
            "oil_lots",
            "oil_basis",
            "triglyceride_g_per_mol",
            "u_oil_l",
            "u_oil_kg",
            "u_triglyceride_g_per_mol",
        }  # no ester in theory: its acidity is not known
    for name in found.frames:
        for row in found.rows(name):
            assert not any(isinstance(value, float) and math.isnan(value) for value in row.values()), name


WAY = ("paid: 0.40 EUR/L\n", "paid: 0.40 EUR/L\ncollected: {distance: 60 km, time: 3 h}\n")
DRIVEN = ("title:", "labour_rate: 12.00 EUR/h\ncollection_rate: 0.50 EUR/km\ntitle:")
METHODS = [
    "",
    *(
        f"costing: [{{material: frying-oil, from: 2026-01-01, method: {name}}}]\n"
        for name in ("FIFO", "moving average")
    ),
]


@pytest.mark.parametrize("method", METHODS)
def test_kilometres_go_into_the_oil_and_hours_into_labour_alone(tmp_path: Path, method: str) -> None:
    """60 km at 0.50 and 3 h over 300 L, of which the batch took 100: 10 EUR in its oil, 1 h in its labour."""
    found = cost(tmp_path, {**WHOLE, OIL: WAY, "logbook.yaml": (DRIVEN[0], method + DRIVEN[1])})
    assert (found["oil"], found["fetching_hours"]) == (pytest.approx(50.0), pytest.approx(1.0))
    assert (found["fetching"], found["labour"]) == (pytest.approx(12.0), pytest.approx(36.0))
    cash = 50 + 18 + 3 + 2.5 + 5
    assert found["cash_per_l"] == pytest.approx(cash / 97, rel=1e-12)
    assert found["with_labour_per_l"] == pytest.approx((cash + 98 * 87 / 1000 + 36) / 97, rel=1e-12)
    assert found["saving_per_h"] == pytest.approx(found["saving_per_l"] * 97 / 3, rel=1e-12)


def test_hours_of_fetching_without_a_rate_on_their_day_leave_labour_alone_unknown(tmp_path: Path) -> None:
    late = ("title:", "labour_rate: [{from: 2026-01-05, value: 12.00 EUR/h}]\ntitle:")
    found = cost(tmp_path, {**WHOLE, OIL: ("paid:", "collected: {time: 3 h}\npaid:"), "logbook.yaml": late})
    assert (found["labour"], found["with_labour_per_l"]) == (None, None)
    assert found["cash_per_l"] is not None
    assert "labour rate on the day of fetching" in found["missing"]


def test_an_hour_of_work_costs_what_it_did_on_the_day_of_the_batch(tmp_path: Path) -> None:
    dated = "labour_rate: [{value: 10 EUR/h}, {from: 2026-01-10, value: 12 EUR/h}, {from: 2026-02-01, value: 20 EUR/h}]\ntitle:"
    assert cost(tmp_path, {**WHOLE, "logbook.yaml": ("title:", dated)})["labour"] == 24.0


def test_a_return_moves_no_cost_of_a_batch_and_stands_in_the_inventory(tmp_path: Path) -> None:
    """80 L that cost 0.40 a litre went back for 25 EUR: 32 EUR left the stock, 7 of them in no batch."""
    back = "paid: 0.40 EUR/L\nreturns: [{date: 2026-01-20, volume: 80 L at 15 °C, refund: 25.00 EUR, reason: rancid}]\n"
    found = results(tmp_path, {**WHOLE, OIL: ("paid: 0.40 EUR/L\n", back)})
    assert next(row["oil"] for row in found.rows("costs") if row["batch"] == "b1") == 40.0
    oil = next(row for row in found.rows("inventory") if row["material"] == "frying-oil")
    assert (oil["came"], oil["used"], oil["returned"], oil["left"]) == (300.0, 200.0, 80.0, 20.0)
    costs = [oil[name] for name in ("came_cost", "used_cost", "returned_cost", "refunded", "left_cost")]
    assert costs == [120.0, 80.0, 32.0, 25.0, 8.0]
    lot = next(row for row in found.rows("lots") if row["lot"] == "oil-1")
    assert (lot["returned"], lot["refunded"], lot["left"]) == (80.0, 25.0, 20.0)


@pytest.mark.parametrize(
    ("value", "each"), [("0.20 EUR/L", 0.20), ("0.757082357 EUR/US gal", 0.20), ("0 EUR/L", 0.0)]
)
def test_recovered_methanol_is_paid_for_once(tmp_path: Path, value: str, each: float) -> None:
    """5 L of 20 go back into stock and 4 of them into the next batch: both batches and the litre that is left cost what was paid."""
    rows = results(
        tmp_path,
        {
            "lots/meoh-back.yaml": ("recovered: true", f"recovered: true\nvalue: {value}"),
            B1: ("settled:", "methanol_recovered: {volume: 5 L at 15 °C, into: meoh-back}\nsettled:"),
            "batches/b2.yaml": (
                "[{lot: meoh-1, volume: 20 L at 15 °C}]",
                "[{lot: meoh-1, volume: 16 L at 15 °C}, {lot: meoh-back, volume: 4 L at 15 °C}]",
            ),
        },
    ).rows("costs")
    found = {row["batch"]: row["methanol"] for row in rows}
    assert found == {
        "b1": pytest.approx(20 * 0.90 - 5 * each),
        "b2": pytest.approx(16 * 0.90 + 4 * each),
    }
    assert sum(found.values()) + each == pytest.approx(36 * 0.90)
