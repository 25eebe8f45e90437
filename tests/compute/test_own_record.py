"""What the own record says of an oil: weights by likeness, and no jump where the acid value moves."""

from __future__ import annotations

from itertools import pairwise
from random import Random
from statistics import quantiles

import numpy as np
import pytest

from generator.compute.likeness import weighted_quantile
from generator.compute.own_record import Made, OwnRecord, Yields
from generator.ledger.routes import Route


def record(*made: tuple[float | None, float]) -> OwnRecord:
    """A record of acid values and yields."""
    return OwnRecord(tuple(Made(*one) for one in made), {}, 0.0)


def ends(found: Yields) -> tuple[float, float, float]:
    assert found.low is not None and found.middle is not None and found.high is not None
    return found.low, found.middle, found.high


@pytest.mark.parametrize("size", [5, 6, 7, 24])
def test_equal_weights_give_plain_quartiles(size: int) -> None:
    """Python's own, by the exclusive method (library)."""
    values = [Random(size).uniform(0.8, 1.0) for _ in range(size)]
    found = [weighted_quantile(np.array(values), np.full(size, 3.0), share) for share in (0.25, 0.5, 0.75)]
    assert found == pytest.approx(quantiles(values, n=4), rel=1e-12)


def test_what_weighs_nothing_tells_nothing() -> None:
    """Left out and of no weight are the same (law)."""
    values, weights = np.array([0.9, 0.5, 0.92, 0.97, 0.99, 0.95]), np.array([1.0, 0.0, 1.0, 1.0, 1.0, 1.0])
    for share in (0.25, 0.5, 0.75):
        assert weighted_quantile(values, weights, share) == pytest.approx(
            weighted_quantile(np.delete(values, 1), np.delete(weights, 1), share), rel=1e-12
        )


def test_nothing_jumps_where_the_acid_value_moves() -> None:
    """A window of 1 mg KOH/g had edges: one more batch of good yield and the sour oil was worth more."""
    draw = Random(7)
    acids = [draw.uniform(0.5, 4.0) for _ in range(40)]
    own = record(*((acid, 0.97 - 0.02 * acid + draw.uniform(-0.02, 0.02)) for acid in acids))
    steps = [ends(own.yields_of(place / 1000)) for place in range(500, 4001)]
    assert max(abs(b - a) for one, other in pairwise(steps) for a, b in zip(one, other, strict=True)) < 5e-4
    assert steps[0][1] > steps[-1][1]


def test_like_batches_tell_more_than_others() -> None:
    own = record(*[(1.0, 0.95)] * 8, *[(3.0, 0.85)] * 8)
    assert ends(own.yields_of(1.0)) == pytest.approx((0.95,) * 3, abs=1e-3)
    assert ends(own.yields_of(3.0)) == pytest.approx((0.85,) * 3, abs=1e-3)


def test_beyond_the_record_only_chemistry_speaks() -> None:
    found = record(*[(1.0, 0.95)] * 8).yields_of(2.1)
    assert (found.low, found.middle, found.high) == (None, None, None)
    assert found.basis == "chemistry: the ceiling only; own batches had acid values of 1.0 to 1.0"


def test_a_way_of_working_that_gets_the_sweeter_oil_does_not_make_sour_oil_worth_more() -> None:
    """The barn loses more at settling and gets the sweeter oil: all together the sour oil seemed to yield 6 % more."""
    barn, shed = Route("barn", "KOH", 1, pretreated=False), Route("shed", "KOH", 1, pretreated=False)
    draw, made = Random(5), []
    for _ in range(30):
        for route, acid, share in ((barn, 1.5, 0.90), (shed, 4.0, 1.00)):
            found = acid + draw.uniform(-0.5, 0.5)
            made.append(Made(found, share - 0.01 * found + draw.uniform(-0.003, 0.003), route))
    own = OwnRecord(tuple(made), {}, 0.0)
    sweet, sour = (ends(own.yields_of(acid))[1] for acid in (1.5, 4.0))
    assert sour < sweet
    assert "every way of working as often as lately" in own.yields_of(1.5).basis


def test_pre_treated_batches_do_not_tell_of_sweet_oil() -> None:
    """Which oil is pre-treated its acid decides: of an oil at 1 only the others tell, at 20 only the pre-treated."""
    plain, treated = Route("shed", "KOH", 1, pretreated=False), Route("shed", "KOH", 1, pretreated=True)
    made = [Made(1.0, 0.95, plain)] * 8 + [Made(20.0, 0.85, treated)] * 8
    own = OwnRecord(tuple(made), {}, 0.0)
    assert ends(own.yields_of(1.0)) == pytest.approx((0.95,) * 3)
    assert ends(own.yields_of(20.0)) == pytest.approx((0.85,) * 3)


def test_untitrated_oil_is_told_by_all_batches() -> None:
    own = record(*[(1.0, 0.95)] * 3, *[(None, 0.9)] * 3)
    assert own.yields_of(None).basis == "own record, 6 batches"
    assert own.yields_of(1.0).basis == "own record, 6 batches"
