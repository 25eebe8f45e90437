"""A soap titration whose readings are bounds gives bounds, worked by hand: 0.1 mL of 0.01 N on 10 g is 32.056 mg/kg; derived."""

from __future__ import annotations

from pathlib import Path

import pytest

from generator.compute.batches import batches
from generator.ledger.facts import facts_of
from generator.ledger.ledgers import Ledgers
from generator.ledger.soap import Soap
from tests.logbook_files import codes, log_of, told

ML = 320.56  # mg/kg of potassium soap by one mL
KOH_ML = 56.10564
LIMIT_3 = 3 * 3**0.5 * 0.05 * ML
LIMIT_2 = 3 * 2**0.5 * 0.05 * ML


def changed(acid: str, first: str = "") -> dict[str, tuple[str, str]]:
    catalyst = f"catalyst: {{acid: {first}}}, " if first else ""
    return {"batches/b1.yaml": ("sample: 10 g, acid: 1.2 mL", f'sample: 10 g, {catalyst}acid: "{acid}"')}


def agrees(found: Soap | None, wanted: tuple[str, float, float | None] | None) -> bool:
    """A ten-thousandth leaves room for the molar mass of the base as it is written above."""
    if found is None or wanted is None:
        return found is wanted
    known, low, high = wanted
    if high is None or found.high_mg_per_kg is None:
        return found.high_mg_per_kg is high and (found.known, found.low_mg_per_kg) == (
            known,
            pytest.approx(low, rel=1e-4),
        )
    return (found.known, found.low_mg_per_kg, found.high_mg_per_kg) == (
        known,
        pytest.approx(low, rel=1e-4),
        pytest.approx(high, rel=1e-4),
    )


@pytest.mark.parametrize(
    ("acid", "first", "soap"),
    [
        ("1.2 mL", "", ("yes", 1.2 * ML, 1.2 * ML)),
        ("< 1.2 mL", "", ("no", 0.0, 1.2 * ML)),
        ("> 1.2 mL", "", ("at least", 1.2 * ML, None)),
        ("> 0.1 mL", "", None),  # below what can be told from none, and nothing above it
        ("1.2 mL", "0.4 mL", ("yes", 0.8 * ML, 0.8 * ML)),
        ("1.2 mL", "< 0.4 mL", ("between", 0.8 * ML, 1.2 * ML)),
        ("1.2 mL", "< 1.1 mL", ("at most", 0.0, 1.2 * ML)),
        ("1.2 mL", "> 0.4 mL", ("at most", 0.0, 0.8 * ML)),
        ("1.2 mL", "> 1.1 mL", ("at most", 0.0, LIMIT_3)),
        ("< 1.2 mL", "0.4 mL", ("no", 0.0, 0.8 * ML)),
        ("< 1.2 mL", "< 0.4 mL", ("no", 0.0, 1.2 * ML)),
        ("> 1.2 mL", "0.4 mL", ("at least", 0.8 * ML, None)),
        ("> 1.2 mL", "< 0.4 mL", ("at least", 0.8 * ML, None)),
        ("> 1.2 mL", "> 0.4 mL", None),
    ],
)
def test_soap_of_bounds(
    acid: str, first: str, soap: tuple[str, float, float | None] | None, tmp_path: Path
) -> None:
    log = log_of(tmp_path, changed(acid, f'"{first}"' if first else ""))
    assert agrees(facts_of(log, log.batches["b1"]).soap_feed, soap)


@pytest.mark.parametrize(
    ("first", "catalyst"),
    [
        ("0.4 mL", ("yes", 0.4 * KOH_ML, 0.4 * KOH_ML)),
        ("< 0.4 mL", ("no", 0.0, 0.4 * KOH_ML)),
        ("< 0.1 mL", ("no", 0.0, LIMIT_2 / ML * KOH_ML)),
        ("> 0.4 mL", ("at least", 0.4 * KOH_ML, None)),
        ("> 0.1 mL", None),
    ],
)
def test_catalyst_of_bounds(
    first: str, catalyst: tuple[str, float, float | None] | None, tmp_path: Path
) -> None:
    log = log_of(tmp_path, changed("1.2 mL", f'"{first}"'))
    assert agrees(facts_of(log, log.batches["b1"]).catalyst_feed, catalyst)


def test_what_a_bed_took_up_follows_the_bounds(tmp_path: Path) -> None:
    """98 L of fuel are fed; the bed took from 256 to 385 mg/kg of it, less what passed."""
    log = log_of(tmp_path / "a", changed("1.2 mL", '"< 0.4 mL"'))
    run = next(charge for charge in Ledgers(log).columns.charges if charge.vessel.vessel == "A").runs[0]
    assert run.soap_in is not None and run.is_measured
    assert (run.soap_in.low, run.soap_in.high) == (pytest.approx(0.8 * ML), pytest.approx(1.2 * ML))
    log = log_of(tmp_path / "b", changed("> 1.2 mL"))
    run = next(charge for charge in Ledgers(log).columns.charges if charge.vessel.vessel == "A").runs[0]
    assert run.soap_in is None and not run.is_measured


def test_a_bound_is_no_number_of_the_table(tmp_path: Path) -> None:
    log = log_of(tmp_path, changed("> 1.2 mL"))
    ledgers = Ledgers(log)
    row = batches(log, ledgers.facts, ledgers.columns, ledgers.media).frame.iloc[0]
    assert row["soap_feed_detected"] == "at least"
    assert row["soap_feed_mg_per_kg"] != row["soap_feed_mg_per_kg"]  # NaN
    assert row["u_soap_feed_mg_per_kg"] != row["u_soap_feed_mg_per_kg"]
    assert row["soap_feed_low_mg_per_kg"] == pytest.approx(1.2 * ML)
    assert row["soap_feed_high_mg_per_kg"] != row["soap_feed_high_mg_per_kg"]


@pytest.mark.parametrize(
    ("acid", "first", "told_codes"),
    [
        ("1.2 mL", '"< 1.4 mL"', []),
        ("> 1.2 mL", "1.4 mL", []),
        ("1.2 mL", '"> 1.4 mL"', ["end-points-swapped"]),
        ("< 1.2 mL", "1.4 mL", ["end-points-swapped"]),
        ("1.2 mL", '"< 0.1 mL", blank: 0.5 mL', ["blank-above-reading"]),
        ("1.2 mL", '"> 0.1 mL", blank: 0.5 mL', []),
    ],
)
def test_bounds_contradict_each_other_only_where_they_do(
    acid: str, first: str, told_codes: list[str], tmp_path: Path
) -> None:
    assert codes(told(tmp_path, changed(acid, first))) == told_codes


def test_the_first_end_point_has_a_blank_of_its_own(tmp_path: Path) -> None:
    """0.4 mL less 0.1 mL are the catalyst's, and the soap took the rest of 1.2 mL."""
    log = log_of(tmp_path, changed("1.2 mL", "0.4 mL, blank: 0.1 mL"))
    found = facts_of(log, log.batches["b1"])
    assert agrees(found.catalyst_feed, ("yes", 0.3 * KOH_ML, 0.3 * KOH_ML))
    assert agrees(found.soap_feed, ("yes", 0.9 * ML, 0.9 * ML))


def test_soap_between_two_vessels_is_that_behind_the_first(tmp_path: Path) -> None:
    """1.0 mL on 50 g."""
    log = log_of(tmp_path)
    assert agrees(facts_of(log, log.batches["b1"]).soap_between, ("yes", ML / 5, ML / 5))


def test_a_blank_a_drop_above_the_first_end_point_leaves_all_of_the_acid_to_the_soap(tmp_path: Path) -> None:
    """0.40 mL less 0.45 mL: no catalyst was found, and never less than none."""
    log = log_of(tmp_path, changed("1.2 mL", "0.40 mL, blank: 0.45 mL"))
    found = facts_of(log, log.batches["b1"])
    assert agrees(found.catalyst_feed, ("no", 0.0, LIMIT_2 / ML * KOH_ML))
    assert agrees(found.soap_feed, ("yes", 1.2 * ML, 1.2 * ML))
