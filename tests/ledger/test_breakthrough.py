"""The one logistic: found again in exact points, refused where samples do not allow it."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.formulas.breakthrough import passing_share
from generator.ledger.breakthrough import Curve, curve_of, fit
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
