"""How much a batch tells of an oil: weights by how like their acid values are, every way of working as often as lately."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import numpy.typing as npt

from generator.ledger.routes import Route

LEAST_BATCHES = 5
NARROWEST_MG_KOH_PER_G, WIDEST_MG_KOH_PER_G, HALVINGS = 0.5, 100.0, 30
Floats = npt.NDArray[np.float64]


def weights_of(far: Floats, ways: Sequence[Route], lately: int) -> Floats:
    """Gaussian weights by distance in acid value, as wide as it takes for so many batches to count.

    Within every way of working they add up to its share of the last ones, `lately` of them.
    """
    last = ways[-lately:]
    groups = [
        (np.array([way == one for one in ways]), last.count(way) / len(last)) for way in sorted(set(last))
    ]

    def laid(width: float) -> Floats:
        found = np.zeros_like(far)
        for of_way, share in groups:
            bell = _bell(far[of_way], width)
            found[of_way] = bell / bell.sum() * share
        return found

    low, high = NARROWEST_MG_KOH_PER_G, WIDEST_MG_KOH_PER_G
    if effective(laid(low)) >= LEAST_BATCHES:
        return laid(low)
    for _ in range(HALVINGS):
        middle = (low + high) / 2
        low, high = (low, middle) if effective(laid(middle)) >= LEAST_BATCHES else (middle, high)
    return laid(high)


def _bell(far: Floats, width: float) -> Floats:
    return np.asarray(np.exp(-0.5 * ((far - far.min()) / width) * ((far + far.min()) / width)))


def weighted_quantile(values: Floats, weights: Floats, share: float) -> float:
    """The quantile of weighted values: as `statistics.quantiles` has it where all weigh the same, without a jump where they change.

    Akinshin 2023, weighted quantile estimators, type 6 (published formula, from memory): the step function of the quantiles, in
    the middle over one effective value.
    """
    order = np.argsort(values, kind="stable")
    counted = effective(weights)
    place = min(max(share * (counted + 1), 1.0), counted)
    ends = np.concatenate([[0.0], np.cumsum(weights[order]) / weights.sum()])
    parts = np.diff(np.clip(counted * ends - (place - 1), 0.0, 1.0))
    return float(parts @ values[order] / parts.sum())


def effective(weights: Floats) -> float:
    """How many batches of equal weight would tell as much (Kish)."""
    return float(weights.sum() ** 2 / (weights**2).sum())
