"""The bridge between two periods: its parts add up to the difference, and each says what it is named for."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.compute.bridge import FAILED, Spent, _days, lost_in, parts, spent
from generator.compute.costs import CASH, WORN
from generator.compute.tally import tally
from generator.ledger.ledgers import Ledgers
from generator.pages import costs
from generator.pages.bridges import chart, moved
from generator.pages.cost_means import lost_per_l
from generator.pages.words import shown
from generator.validate.logbook import checked_folder
from tests.compute import test_offers
from tests.logbook_files import log_of

ROOT = Path(__file__).resolve().parents[2]
AMOUNT, COST = st.floats(1, 5000), st.floats(0, 5000)
BOUGHT = st.tuples(AMOUNT, COST)
PERIODS = st.builds(
    Spent,
    fuel_l=AMOUNT,
    oils=st.dictionaries(st.sampled_from("abc"), BOUGHT, min_size=1),
    bought=st.fixed_dictionaries(
        {"energy": st.tuples(st.just(0.0) | AMOUNT, COST)}, optional={"methanol": BOUGHT, "catalyst": BOUGHT}
    ),
    paid=st.fixed_dictionaries(
        {"media": COST, "other costs": COST}, optional={"overheads": COST, "credits": st.floats(-5000, 0)}
    ),
)
BEFORE = Spent(
    fuel_l=100,
    oils={"a": (100, 40.0)},
    bought={"energy": (20, 5.0), "methanol": (18, 18.0), "catalyst": (1, 3.0)},
    paid={"media": 4.0, "other costs": 0.0},
)


@given(PERIODS, PERIODS)
def test_the_parts_add_up_to_the_difference(before: Spent, after: Spent) -> None:
    whole = after.cost / after.fuel_l - before.cost / before.fuel_l
    size = after.cost / after.fuel_l + before.cost / before.fuel_l
    assert sum(parts(before, after).values()) == pytest.approx(whole, abs=1e-7 * (abs(size) + 1))


@given(PERIODS, PERIODS)
def test_the_way_back_is_the_way_there_with_other_signs(before: Spent, after: Spent) -> None:
    there, back = parts(before, after), parts(after, before)
    assert there.keys() == back.keys()
    assert all(there[name] == pytest.approx(-back[name], rel=1e-9, abs=1e-6) for name in there)


@given(PERIODS)
def test_twice_as_much_of_the_same_moves_nothing(one: Spent) -> None:
    twice = Spent(
        2 * one.fuel_l,
        {name: (2 * amount, 2 * cost) for name, (amount, cost) in one.oils.items()},
        {name: (2 * amount, 2 * cost) for name, (amount, cost) in one.bought.items()},
        {name: 2 * cost for name, cost in one.paid.items()},
    )
    assert all(change == pytest.approx(0, abs=1e-6) for change in parts(one, twice).values())


@pytest.mark.parametrize(
    ("after", "part", "change"),
    [
        (replace(BEFORE, oils={"a": (100, 50.0)}), "price of oil", 0.10),
        (replace(BEFORE, oils={"a": (50, 20.0), "b": (50, 40.0)}), "mix of oils", 0.20),
        (replace(BEFORE, bought={**BEFORE.bought, "methanol": (18, 27.0)}), "price of methanol", 0.09),
        (replace(BEFORE, bought={**BEFORE.bought, "methanol": (20, 20.0)}), "methanol used", 0.02),
        (replace(BEFORE, bought={**BEFORE.bought, "catalyst": (1, 4.0)}), "price of catalyst", 0.01),
        (replace(BEFORE, bought={**BEFORE.bought, "catalyst": (2, 6.0)}), "catalyst used", 0.03),
        (replace(BEFORE, bought={**BEFORE.bought, "energy": (20, 7.0)}), "price of electricity", 0.02),
        (replace(BEFORE, bought={**BEFORE.bought, "energy": (40, 10.0)}), "energy used", 0.05),
        (replace(BEFORE, bought={**BEFORE.bought, "energy": (0, 0.0)}), "energy used", -0.05),
        (replace(BEFORE, paid={"media": 5.0, "other costs": 0.0}), "media", 0.01),
        (replace(BEFORE, paid={"media": 4.0, "other costs": 15.0}), "other costs", 0.15),
        (replace(BEFORE, paid={**BEFORE.paid, "overheads": 20.0}), "overheads", 0.20),
        (replace(BEFORE, paid={**BEFORE.paid, "credits": -6.0}), "credits", -0.06),
    ],
)
def test_one_change_is_told_by_its_name(after: Spent, part: str, change: float) -> None:
    found = parts(BEFORE, after)
    assert found[part] == pytest.approx(change, abs=1e-12)
    assert sum(abs(value) for name, value in found.items() if name != part) == pytest.approx(0, abs=1e-12)


def test_less_fuel_of_the_same_is_yield_and_what_does_not_go_by_the_oil() -> None:
    """80 L instead of 100 L of fuel: oil, methanol and catalyst cost 0.61 a litre before, and a quarter more after."""
    found = parts(BEFORE, replace(BEFORE, fuel_l=80.0))
    assert found["yield"] == pytest.approx(0.61 / 4, abs=1e-12)
    assert found["energy used"] == pytest.approx(0.05 / 4, abs=1e-12)
    assert found["media"] == pytest.approx(0.04 / 4, abs=1e-12)


def test_the_bridges_of_the_demo_lead_from_cost_to_cost() -> None:
    """Each period's cost is reckoned again from the table of costs, and the sentence names the larger parts."""
    _, checked = checked_folder(ROOT / "logbook")
    assert checked.ledgers is not None
    found = tally(checked.ledgers)
    known = [row for row in found.rows("costs") if row["with_media_per_l"] is not None]
    rows = [row for row in found.rows("bridge") if row["bridge"] == "last"]
    for side, batches in (("before", known[-20:-10]), ("after", known[-10:])):
        cost = sum(row["with_media_per_l"] * row["fuel_l"] for row in batches)
        assert rows[0][f"{side}_per_l"] == pytest.approx(cost / sum(row["fuel_l"] for row in batches))
        assert spent(checked.ledgers, batches).cost == pytest.approx(cost)
    view = shown(found)
    largest = max(rows, key=lambda row: abs(row["change_per_l"]))
    assert largest["part"] in moved(rows, view)
    picture = chart(rows, view)
    assert picture is not None
    assert picture.values[-2]["end"] == pytest.approx(picture.values[-1]["end"], abs=1e-3)


def _failed(number: int) -> str:
    """A batch of the record that gave no fuel."""
    return test_offers.batch(number, 285).replace("28.5 L at 15 °C", "0 L at 15 °C")


def test_the_money_of_a_batch_without_fuel_is_borne_by_its_period(tmp_path: Path) -> None:
    """Money in is money out: what all batches cost is what their litres bear and what the one without fuel cost."""
    files = {**test_offers.LOG, "batches/b3.yaml": _failed(3)}
    found = tally(Ledgers(log_of(tmp_path, files)))
    rows, (failed,) = found.rows("costs"), [row for row in found.rows("costs") if row["failed"]]
    assert (failed["batch"], failed["fuel_l"], failed["with_media_per_l"]) == ("b3", 0.0, None)
    whole = sum(row[part] for row in rows for part in (*CASH, *WORN) if row[part] is not None)
    borne = sum(
        row["with_media_per_l"] * row["fuel_l"] for row in rows if row["with_media_per_l"] is not None
    )
    assert failed["known_cost"] > 0
    assert borne + failed["known_cost"] == pytest.approx(whole, rel=1e-12)
    recent = [row for row in rows if row["with_media_per_l"] is not None]
    litres = sum(row["fuel_l"] for row in recent)
    assert lost_per_l(rows) * litres == pytest.approx(failed["known_cost"], rel=1e-12)
    view = shown(found)
    assert f"{view.per_volume(lost_per_l(rows), 2)} more with what batches without fuel cost" in (
        costs.finding(rows, [], view)
    )


def test_a_batch_without_fuel_is_a_part_of_the_change() -> None:
    """10 EUR more for the same 100 L of fuel: 0.10 a litre, and no other part."""
    found = parts(BEFORE, replace(BEFORE, paid={**BEFORE.paid, FAILED: 10.0}))
    assert found[FAILED] == pytest.approx(0.10, abs=1e-12)
    assert sum(abs(value) for name, value in found.items() if name != FAILED) == pytest.approx(0, abs=1e-12)
    assert FAILED not in parts(BEFORE, BEFORE)


def test_only_what_falls_into_the_period_is_borne_by_it() -> None:
    """Days of a period begin after the last of the one before; what comes between two batches falls into neither gap."""
    failed = [{"date": "2026-02-03", "known_cost": 10.0}, {"date": "2026-05-01", "known_cost": 7.0}]
    assert [lost_in(failed, *days) for days in (("2026-02-02", "2026-02-03"), ("2026-02-03",), ("",))] == [
        10,
        7,
        17,
    ]
    before, after = [{"date": "2025-12-30"}, {"date": "2026-02-03"}], [{"date": "2026-03-01"}]
    assert _days("last", before, after) == (("2025-12-29", "2026-02-03"), ("2026-02-03", "9999-12-31"))
    assert _days("year", before, after) == (("2025", "2025-12-31"), ("2026", "2026-12-31"))
