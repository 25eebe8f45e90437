"""The one logistic: found again in exact points, refused where samples do not allow it."""

from __future__ import annotations

import random
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path
from statistics import quantiles

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.formulas.breakthrough import passing_share
from generator.ledger.breakthrough import Curve, curve_of, fit
from generator.ledger.charges import Charge
from generator.ledger.interval import Interval
from tests.ledger.test_columns import PACK_A, PACK_B, batch, folded
from tests.properties.law import LAW

HISTORY = PACK_A.format(day="2026-01-03", medium="chips") + PACK_B.format(day="2026-01-03", medium="beads")


@LAW
@given(half=st.floats(50, 500), steps=st.floats(2, 20))
def test_exact_points_give_their_curve(half: float, steps: float) -> None:
    steep = steps / half
    points = [
        (half * share, passing_share(half * share, half, steep)) for share in (0.3, 0.6, 0.8, 1.0, 1.2, 1.5)
    ]
    found = fit(points)
    assert found == (pytest.approx(half, rel=1e-6), pytest.approx(steep, rel=1e-5))


def sampled(*mls: float, feed: float = 4.0) -> dict[str, str]:
    """A run a day; `mls` of 0.01 N acid on 10 g behind A."""
    out = {}
    for number, ml in enumerate(mls):
        soap = [
            f"{{point: feed, sample: 10 g, acid: {feed if number % 2 or feed < 9 else 4.0} mL, normality: 0.01 N, blank: 0.0 mL}}",
            f"{{point: after A, sample: 10 g, acid: {ml} mL, normality: 0.01 N, blank: 0.0 mL}}",
        ]
        out[f"b{number}"] = batch(f"b{number}", 5 + number, *soap)
    return out


def curve(parent: Path, batches: dict[str, str], history: str = HISTORY) -> Curve | str:
    return curve_of(folded(parent, history, batches).charges[0])


def test_a_charge_that_breaks_through_has_a_curve_with_a_range(tmp_path: Path) -> None:
    """The share falls to a half between the fourth and the fifth run; loads of some 110 g a run before that."""
    found = curve(tmp_path, sampled(0.3, 0.4, 0.8, 1.6, 2.6, 3.4, 3.7))
    assert isinstance(found, Curve)
    assert found.points == 7
    assert found.half_g.low < found.half_g.middle < found.half_g.high
    loads = [
        run.load_g
        for run in folded(tmp_path / "x", HISTORY, sampled(0.3, 0.4, 0.8, 1.6, 2.6)).charges[0].runs
    ]
    assert loads[3] is not None and loads[4] is not None
    assert loads[3] * 0.9 < found.half_g.middle < loads[4] * 1.1
    again = curve(tmp_path / "again", sampled(0.3, 0.4, 0.8, 1.6, 2.6, 3.4, 3.7))
    assert again == found  # the same files, the same range


@pytest.mark.parametrize(
    ("batches", "words"),
    [
        (sampled(0.3, 0.8, 1.6, 2.6), "a curve takes 5 measured runs, and it has 4"),
        (sampled(0.0, 0.0, 0.0, 0.0, 1.6), "runs that let between 5 and 95 % through, and it has 1"),
        (sampled(0.3, 0.4, 0.8, 1.6, 2.6, feed=12.0), "its feeds differ by more than a factor of two"),
        (sampled(2.6, 1.6, 0.8, 0.5, 0.4), "what passes does not rise"),
        (sampled(1.6, 1.6, 1.6, 1.6, 1.6), "what passes does not rise"),
    ],
)
def test_where_samples_allow_none_the_reason_is_told(
    tmp_path: Path, batches: dict[str, str], words: str
) -> None:
    found = curve(tmp_path, batches)
    assert isinstance(found, str)
    assert words in found


def test_only_the_place_it_stands_in_last_counts(tmp_path: Path) -> None:
    """Two runs as lag before it led: they belong to another curve, and their load does not."""
    like = PACK_A.format(day="2026-01-03", medium="beads") + PACK_B.format(day="2026-01-03", medium="beads")
    history = like + "  - {date: 2026-01-06, event: rotate, vessel: A, with: B}\n"
    turned = {
        name: text.replace("after A", "after B") if name not in ("b0", "b1") else text
        for name, text in sampled(0.3, 0.4, 0.5, 0.8, 1.6, 2.6, 3.4).items()
    }
    charge = folded(tmp_path, history, turned).charges[1]
    assert [run.place for run in charge.runs] == [1, 0, 0, 0, 0, 0, 0]
    found = curve_of(charge)
    measured = sum(run.is_measured and run.place == 0 for run in charge.runs)
    assert isinstance(found, Curve)
    assert found.points == measured < len(charge.runs)


def charge_of(parent: Path, points: Sequence[tuple[float, float]]) -> Charge:
    """A charge whose runs, each with the same feed, left it with such loads and let such shares through."""
    charge = folded(parent, HISTORY, sampled(0.4)).charges[0]
    (run,) = charge.runs
    feed, written = Interval(1000, 1000), []
    for load, share in points:
        behind = Interval(1000 * share, 1000 * share)
        written.append(replace(run, load_g=load, soap_in=feed, soap_out=behind))
    return replace(charge, runs=written)


def test_a_range_is_of_nine_in_ten_resamples(tmp_path: Path) -> None:
    """Resamples of another chance have the same twentieth and nineteen twentieths; one of 400 may lie far beyond."""
    points = [(100, 0.08), (200, 0.1), (290, 0.2), (360, 0.4), (400, 0.65), (420, 0.85), (430, 0.92)]
    found = curve_of(charge_of(tmp_path, points))
    assert isinstance(found, Curve)
    chance, halves = random.Random(7), []
    for _ in range(400):
        again = [chance.choice(points) for _ in points]
        if len(set(again)) > 2 and (fitted := fit(again)) is not None:
            halves.append(fitted[0])
    *_, high = twentieths = quantiles(halves, n=20)
    assert (found.half_g.low, found.half_g.high) == (
        pytest.approx(twentieths[0], rel=0.05),
        pytest.approx(high, rel=0.02),
    )
    assert max(halves) > 1.2 * high


def test_a_curve_that_hangs_on_two_runs_is_none(tmp_path: Path) -> None:
    """Without the first or the last run two different points are left; 3 resamples in 5 lack one of them; derived."""
    found = curve_of(charge_of(tmp_path, [(50, 0.1), *[(100, 0.5)] * 3, (150, 0.9)]))
    assert found == "its runs leave the curve open: most resamples of them have none"


@pytest.mark.parametrize(("most", "is_curve"), [(2000, True), (2001, False)])
def test_a_feed_of_twice_another_is_steady_enough(most: float, is_curve: bool, tmp_path: Path) -> None:
    """The others have 1000 mg/kg; the same share passes of each. A factor of two: common practice, no source."""
    points = [(100, 0.08), (200, 0.1), (290, 0.2), (360, 0.4), (400, 0.65), (420, 0.85), (430, 0.92)]
    charge = charge_of(tmp_path, points)
    strong = replace(charge.runs[2], soap_in=Interval(most, most), soap_out=Interval(most / 5, most / 5))
    found = curve_of(replace(charge, runs=[*charge.runs[:2], strong, *charge.runs[3:]]))
    assert isinstance(found, Curve) is is_curve
