"""Soap in all of a batch's fuel, and what an unsampled bed is taken to have held; figures as in `test_columns`, derived."""

from __future__ import annotations

from pathlib import Path

from generator.ledger.passes import Columns
from generator.ledger.whole import Whole, wholes
from tests.ledger.test_columns import BETWEEN, FEED, LEAD_G, PRODUCT, batch, folded, near
from tests.ledger.test_runs import TWO, part, runs

CLEAN = "{point: product, sample: 100 g, acid: 2.0 mL, normality: 0.01 N, blank: 0.0 mL}"  # 64.112 mg/kg
FEED_MG, CLEAN_MG = 641.12, 64.112
ROUND = "    bypassed: 25 L at 15 °C\n"
AGAIN = "    again: true\n"


def whole(parent: Path, *written: str) -> Whole:
    return wholes(folded(parent, TWO, {"b1": runs("b1", 11, *written)}).passes)["b1"]


def middle(found: Whole) -> float:
    assert found.soap is not None
    return found.soap.middle


def test_fuel_that_went_round_brings_its_soap_into_the_tank(tmp_path: Path) -> None:
    """A quarter at 641.12 mg/kg, three quarters at 64.112."""
    found = whole(tmp_path, part(100, FEED, BETWEEN, CLEAN, more=ROUND))
    assert (found.kg, found.round_kg) == (near(88), near(22))
    assert middle(found) == near((25 * FEED_MG + 75 * CLEAN_MG) / 100)


def test_sent_through_after_all_it_is_as_clean_as_the_rest(tmp_path: Path) -> None:
    found = whole(tmp_path, part(100, FEED, BETWEEN, CLEAN, more=ROUND), part(25, FEED, CLEAN, more=AGAIN))
    assert (found.round_kg, middle(found)) == (0.0, near(CLEAN_MG))


def test_two_readings_of_one_fuel_may_differ_by_a_fiftieth(tmp_path: Path) -> None:
    """25 L went round, and what was read as 25.4 L is all of them."""
    again = part(25, FEED, CLEAN, more=AGAIN).replace("25 L", "25.4 L")
    found = whole(tmp_path, part(100, FEED, BETWEEN, CLEAN, more=ROUND), again)
    assert (found.round_kg, middle(found)) == (0.0, near(CLEAN_MG))


def test_a_part_of_it_sent_round_again_leaves_the_rest_as_it_was(tmp_path: Path) -> None:
    """Of 100 L at 208.364 mg/kg, 40 L come back at 64.112."""
    mixed = (25 * FEED_MG + 75 * CLEAN_MG) / 100
    found = whole(tmp_path, part(100, FEED, BETWEEN, CLEAN, more=ROUND), part(40, CLEAN, more=AGAIN))
    assert middle(found) == near(mixed - 0.4 * (mixed - CLEAN_MG))


def test_all_of_it_sent_round_again_is_what_came_out_then(tmp_path: Path) -> None:
    found = whole(tmp_path, part(100, FEED, BETWEEN, more=ROUND), part(100, CLEAN, more=AGAIN))
    assert (found.round_kg, middle(found)) == (0.0, near(CLEAN_MG))


def test_two_parts_are_put_together_by_mass(tmp_path: Path) -> None:
    found = whole(tmp_path, part(60, FEED, BETWEEN, CLEAN), part(40, FEED, BETWEEN, PRODUCT))
    assert middle(found) == near(0.6 * CLEAN_MG + 0.4 * CLEAN_MG / 5)


def test_a_part_without_its_sample_leaves_all_of_it_unknown(tmp_path: Path) -> None:
    assert whole(tmp_path / "a", part(60, FEED, BETWEEN, CLEAN), part(40, FEED)).soap is None
    assert (
        whole(tmp_path / "b", part(100, BETWEEN, CLEAN, more=ROUND)).soap is None
    )  # what went round, untitrated


def lead_estimates(found: Columns) -> list[float]:
    return [run.estimate_g or 0.0 for run in found.charges[0].runs]


def test_half_a_batch_without_samples_is_taken_to_hold_half(tmp_path: Path) -> None:
    """The share of what came, no grams: 577 of 641 mg/kg stayed in the runs that were sampled."""
    batches = {f"b{n}": batch(f"b{n}", 4 + n, FEED, BETWEEN, PRODUCT) for n in range(3)}
    found = folded(tmp_path, TWO, batches | {"b9": runs("b9", 11, part(50, FEED), part(50, FEED))})
    assert lead_estimates(found)[3:] == [near(LEAD_G / 2), near(LEAD_G / 2)]


def test_a_later_sample_leaves_what_was_estimated_before(tmp_path: Path) -> None:
    early = {f"b{n}": batch(f"b{n}", 4 + n, FEED, BETWEEN, PRODUCT) for n in range(3)}
    early["b3"] = batch("b3", 7, FEED)
    worse = BETWEEN.replace("1.0 mL", "6.0 mL")
    late = {f"b{n}": batch(f"b{n}", 4 + n, FEED, worse, PRODUCT) for n in range(4, 9)}
    before, after = folded(tmp_path / "a", TWO, early), folded(tmp_path / "b", TWO, early | late)
    assert lead_estimates(after)[:4] == lead_estimates(before)


def test_a_cleaner_feed_is_not_what_went_round(tmp_path: Path) -> None:
    """25 L are fed again, but at 64.112 mg/kg where 641.12 went round: some of the whole, which stays as soapy as it was."""
    weak = CLEAN.replace("product", "feed")
    mixed = (25 * FEED_MG + 75 * CLEAN_MG) / 100
    found = whole(tmp_path, part(100, FEED, BETWEEN, CLEAN, more=ROUND), part(25, weak, CLEAN, more=AGAIN))
    assert (found.round_kg, middle(found)) == (0.0, near(mixed))
