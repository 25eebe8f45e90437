"""How a sum over several beds is split, and what counts as one reading; worked by hand, derived."""

from __future__ import annotations

from pathlib import Path

import pytest

from generator.ledger.charges import Run
from generator.ledger.usual import Feeds, Usual
from tests.ledger.test_columns import BETWEEN, FEED, PRODUCT, batch, folded, near
from tests.ledger.test_runs import TWO, part, runs

FEED_MG, WEAK_MG = 641.12, 64.112


class Known(Usual):
    """Shares that are given, one a bed, with no runs behind them."""

    def __init__(self, *found: float | None) -> None:
        super().__init__([])
        self.given = iter(found)

    def of(self, run: Run, beds: int) -> float | None:
        return next(self.given)


def test_parts_of_one_batch_count_as_one_feed(tmp_path: Path) -> None:
    """60 L at 641.12 mg/kg and 40 L at 64.112: the mean of both, at the start of the first."""
    weak = BETWEEN.replace("after A", "feed")
    written = {"b1": runs("b1", 11, part(60, FEED, PRODUCT), part(40, weak, PRODUCT))}
    passes = folded(tmp_path, TWO, written).passes
    feeds = Feeds(passes)
    assert feeds.starts == [passes[0].start]
    assert [feed.middle for feed in feeds.found] == [pytest.approx((FEED_MG + WEAK_MG) / 2, rel=1e-4)]


@pytest.mark.parametrize(
    ("found", "split"),
    [
        ((0.6, 0.5), [0.75, 0.25]),  # the second gets half of what 0.6 leaves: 0.2 beside 0.6
        ((0.0, 0.0), [1.0, 0.0]),  # measured runs in which neither bed took anything
        ((None, 0.5), [1.0, 0.0]),
        ((0.5, None), [1.0, 0.0]),
    ],
)
def test_a_sum_is_split_as_the_beds_usually_share_it(
    tmp_path: Path, found: tuple[float | None, ...], split: list[float]
) -> None:
    (one,) = folded(tmp_path, TWO, {"b1": batch("b1", 11, FEED, PRODUCT)}).passes
    assert Known(*found).shares(one.runs, 2) == pytest.approx(split)


def test_the_last_measured_runs_before_it_speak_for_a_run_and_at_the_start_those_after(
    tmp_path: Path,
) -> None:
    """Nine tenths stayed in the first three runs, six tenths in the three after; 56.4 g came in each."""
    open_end = {"b0": batch("b0", 4, FEED), "b9": batch("b9", 20, FEED)}
    first = {f"b{n}": batch(f"b{n}", 4 + n, FEED, BETWEEN, PRODUCT) for n in (1, 2, 3)}
    worse = BETWEEN.replace("1.0 mL", "4.0 mL")
    second = {f"b{n}": batch(f"b{n}", 4 + n, FEED, worse, PRODUCT) for n in (4, 5, 6)}
    lead = folded(tmp_path, TWO, open_end | first | second).charges[0]
    came_g = FEED_MG * 0.088
    assert [lead.runs[place].estimate_g for place in (0, -1)] == [near(0.9 * came_g), near(0.6 * came_g)]


def test_a_feed_in_which_nothing_was_found_teaches_no_share(tmp_path: Path) -> None:
    none = FEED.replace("2.0 mL", "0.0 mL"), BETWEEN.replace("1.0 mL", "0.0 mL")
    found = folded(tmp_path, TWO, {"b1": batch("b1", 11, *none), "b2": batch("b2", 12, FEED)})
    assert [charge.runs[-1].estimate_g for charge in found.charges] == [near(FEED_MG * 0.088), 0.0]


def test_an_unknown_feed_is_like_the_last_ones_and_only_at_the_start_like_the_next(tmp_path: Path) -> None:
    """Five feeds of 1 to 5 mL: the fifth has four before it; the second has one, and the two from it on make three."""
    mls = range(1, 6)
    written = {f"b{ml}": batch(f"b{ml}", 4 + ml, FEED.replace("2.0", f"{ml}.0"), PRODUCT) for ml in mls}
    passes = folded(tmp_path, TWO, written).passes
    feeds = Feeds(passes)
    found = [[round(feed.middle / 320.56) for feed in feeds.around(one.start)] for one in passes]
    assert (found[4], found[1]) == ([1, 2, 3, 4], [1, 2, 3])
