"""What a page moves through is what would be reckoned: planes against reckonings, the step of the offer against its row."""

from __future__ import annotations

import itertools
import math
from collections.abc import Mapping
from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from generator.compute.audience import shared
from generator.compute.moves import Moves, Plane, Step, moves_of
from generator.compute.offers import Judged
from generator.compute.results import Results
from generator.compute.tally import tally
from generator.compute.worth import Worth
from generator.ledger.ledgers import Ledgers
from generator.validate.logbook import checked_folder
from tests.compute.test_offers import LOG, OFFER, offer, offer_text
from tests.logbook_files import log_of

ROOT = Path(__file__).resolve().parents[2]
PRICES = st.floats(0, 5)


@cache
def demo() -> tuple[Results, Mapping[str, Judged], dict[str, Moves]]:
    ledgers = checked_folder(ROOT / "logbook")[1].ledgers
    assert ledgers is not None
    results = tally(ledgers)
    return results, results.judged, {name: moves_of(one) for name, one in results.judged.items()}


def at(plane: Plane | None, asked: float, diesel: float) -> float | None:
    return None if plane is None else plane.at_zero + plane.per_asked * asked + plane.per_diesel * diesel


def money(one: Judged, worth: Worth) -> dict[str, float | None]:
    """The amounts of a reckoning by the names of the planes."""
    highest = one.on_offer.as_asked(worth.highest_per_l)
    asked = worth.terms.asked
    low, middle, high = worth.cost_per_l
    return {
        "cost_low": low,
        "cost": middle,
        "cost_high": high,
        "saving": worth.saving_per_l,
        "highest": highest,
        "highest_at_pump": one.on_offer.as_asked(worth.highest_at_pump_per_l),
        "room": None if highest is None or asked is None else highest - asked,
    }


@settings(max_examples=200, deadline=None)
@given(data=st.data(), asked=PRICES, diesel=PRICES)
def test_a_plane_says_what_a_reckoning_says(data: st.DataObject, asked: float, diesel: float) -> None:
    """For every offer of the demo, any step of it and any two prices, to 1e-9."""
    _, found, moved = demo()
    name = data.draw(st.sampled_from(sorted(found)))
    one, moves = found[name], moved[name]
    acid = data.draw(st.integers(0, len(moves.acids) - 1))
    water = data.draw(st.integers(0, len(moves.waters) - 1))
    step = moves.steps[moves.at[acid * len(moves.waters) + water]]
    terms = replace(
        moves.terms,
        acid_value_mg_koh_per_g=moves.acids[acid],
        water_mg_per_kg=moves.waters[water],
        asked=asked,
        diesel_per_l=diesel,
    )
    worth = one.on_offer.worth(terms)
    for plane, told in money(one, worth).items():
        assert at(getattr(step, plane), asked, diesel) == (
            None if told is None else pytest.approx(told, abs=1e-9)
        ), plane
    assert (step.dose_g_per_l, step.fuel_l, step.yield_basis, step.advice, step.unknown) == (
        worth.dose_g_per_l,
        worth.fuel_l,
        worth.yield_basis,
        worth.advice,
        worth.unknown,
    )


def test_every_offer_starts_where_it_stands() -> None:
    results, _, moved = demo()
    for row in results.rows("offers"):
        moves = moved[row["offer"]]
        step = own_step(moves)
        terms = moves.terms
        assert terms.asked is not None and terms.diesel_per_l is not None
        assert step.dose_g_per_l == row["dose_g_per_l"]
        assert step.advice == row["advice"]
        for plane, column in (
            ("cost_low", "cost_low_per_l"),
            ("cost", "cost_per_l"),
            ("saving", "saving_per_l"),
        ):
            told = at(getattr(step, plane), terms.asked, terms.diesel_per_l)
            assert told == (None if row[column] is None else pytest.approx(row[column], abs=1e-9))


def own_step(moves: Moves) -> Step:
    return moves.steps[moves.at[moves.start[0] * len(moves.waters) + moves.start[1]]]


def test_steps_are_even_and_hold_what_was_tested() -> None:
    _, _, moved = demo()
    hospital, farm = moved["2026-10-hospital"], moved["2026-09-farm-shop"]
    assert hospital.acids[hospital.start[0]] == hospital.terms.acid_value_mg_koh_per_g
    even = [acid for place, acid in enumerate(hospital.acids) if place != hospital.start[0]]
    assert even == [round(place * 0.2, 1) for place in range(51)]  # up to twice the line of 5 mg KOH/g
    assert (farm.acids[0], farm.waters[0], farm.start) == (None, None, (0, 0))
    assert all(len(moves.at) == len(moves.acids) * len(moves.waters) for moves in moved.values())


def test_more_acid_takes_more_base_and_never_a_higher_price_within_one_record() -> None:
    """A law: with the same batches to go by, the dose is all that acid moves."""
    _, _, moved = demo()
    for moves in moved.values():
        columns = [moves.steps[moves.at[place * len(moves.waters)]] for place in range(len(moves.acids))]
        for less, more in itertools.pairwise(columns):
            if less.dose_g_per_l is None or more.dose_g_per_l is None:
                continue
            assert more.dose_g_per_l > less.dose_g_per_l
            if less.fuel_l == more.fuel_l and less.highest and more.highest:
                assert more.highest.at_zero < less.highest.at_zero


def test_the_shared_site_has_no_offer_to_move() -> None:
    ledgers = checked_folder(ROOT / "logbook")[1].ledgers
    assert ledgers is not None and tally(ledgers).judged
    assert not shared(ledgers.log).judged


def test_the_catalyst_is_that_of_the_offer_s_own_dose(tmp_path: Path) -> None:
    """2.1 mL less 0.1 of 1 g/L on 1 mL; 7 g/L and the neutralising 2 g/L: 9 g/L of pure base, at 3 EUR/kg over 90 %.

    A millilitre of titrant holds 1 mg, so a litre of oil takes 2 g. 200 L of oil take 1.8 kg of pure base: 6 EUR on
    190 L of fuel. What was spent beside oil and catalyst is 5.4 + 1 + 30 x 87 / 1000 a batch, over 28.5 L in the middle.
    """
    tested = (
        "asked:",
        "tests: [{titration: {titrant: {strength: 1.00 g/L, of: KOH, pure: true}, sample: 1.0 mL, blank: 0.1 mL, readings: [2.1 mL]}}]\nasked:",
    )
    found = offer(tmp_path, tested)
    assert found["dose_g_per_l"] == pytest.approx(9.0, rel=1e-3)
    beside = (5.4 + 1 + 30 * 87 / 1000) / 28.5
    base = found["dose_g_per_l"] / 1000 * 200 * 3.00 / 0.9 / found["fuel_l"]
    assert found["other_cost_per_l"] == pytest.approx(beside + base, rel=1e-9)


def test_much_water_leaves_less_oil_than_the_usual_loss(tmp_path: Path) -> None:
    """A tenth of water in an oil whose workshop never noted a loss: 180 of 200 L are left."""
    wet = ("asked:", "tests: [{property: water, value: 10 %}]\nasked:")
    assert offer(tmp_path, wet)["usable_l"] == pytest.approx(180.0, rel=1e-12)


def test_nothing_but_water_and_solids_leaves_costs_unknown(tmp_path: Path) -> None:
    tests = "tests: [{property: water, value: 60 %}, {property: solids, value: 70 %}]"
    found = offer(tmp_path, ("asked:", f"{tests}\nasked:"))
    assert (found["usable_l"], found["fuel_l"], found["cost_per_l"]) == (0.0, None, None)


def test_the_highest_price_at_the_pump_saves_nothing(tmp_path: Path) -> None:
    """Put back as the price that is asked, fuel from it costs what diesel of the same net heat does: to 1e-9."""
    diesel = "price: diesel\nseries: [{date: 2026-01-01, value: 1.60 EUR/L}]\n"
    first = offer(tmp_path / "a", prices__diesel=diesel)
    assert first["highest_at_pump_per_l"] is not None and first["saving_per_l"] > 0.1
    text = offer_text(("0.50 EUR/L", f"{first['highest_at_pump_per_l']:.12f} EUR/L"))
    files = {**LOG, OFFER: text, "prices/diesel.yaml": diesel}
    (again,) = tally(Ledgers(log_of(tmp_path / "b", files))).rows("offers")
    assert math.isclose(again["saving_per_l"], 0.0, abs_tol=1e-9)
