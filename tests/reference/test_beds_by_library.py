"""Beds against other people's code: correlations of a drop, the fit of a curve and the robust slope."""

from __future__ import annotations

import fluids
import pytest
from scipy import stats
from scipy.optimize import curve_fit

from generator.formulas.breakthrough import passing_share
from generator.formulas.hydraulics import ergun_kpa
from generator.formulas.statistics import theil_sen_slope
from generator.ledger.breakthrough import fit


@pytest.mark.parametrize(
    ("name", "pa"),
    [
        ("Harrison_Brunner_Hecker", 10313),
        ("Tallmadge", 12730),
        ("KTA", 13525),
        ("Idelchik", 14447),
        ("Carman", 15201),
        ("Montillet_Akkari_Comiti", 15829),
    ],
)
def test_other_correlations_are_a_quarter_away_at_most(name: str, pa: float) -> None:
    """C15: case B at 5 m/h, fluids 1.3.1 (library): the honest precision of a drop is ±25 %, here 26 at the most."""
    vessel = {"Dt": 0.10} if name == "Harrison_Brunner_Hecker" else {}  # the one that counts the wall
    theirs = getattr(fluids.packed_bed, name)(
        dp=6e-4, voidage=0.40, vs=5 / 3600, rho=860, mu=3.87e-3, L=1.0, **vessel
    )
    assert theirs == pytest.approx(pa, abs=1)
    assert 0.80 < theirs / (1000 * ergun_kpa(5 / 3600, 1.0, 0.6, 0.40, 860, 3.87)) < 1.26


@pytest.mark.parametrize(
    "points",
    [
        [(100, 0.02), (200, 0.05), (300, 0.14), (400, 0.41), (500, 0.68), (600, 0.9)],
        [(60, 0.0), (90, 0.03), (120, 0.2), (150, 0.31), (180, 0.62), (210, 0.71), (240, 0.97)],
        [(400, 0.1), (800, 0.15), (1200, 0.3), (1600, 0.35), (2000, 0.55)],
    ],
)
def test_the_curve_of_a_charge_is_that_of_scipy(points: list[tuple[float, float]]) -> None:
    """Least squares of scipy.optimize.curve_fit (library), started elsewhere: 1e-5 relative."""
    loads, shares = zip(*points, strict=True)

    def curve(x: object, half: float, steep: float) -> object:
        return [passing_share(float(load), half, steep) for load in x]  # type: ignore[attr-defined]

    start = [loads[len(loads) // 2], 10 / loads[-1]]
    (half, steep), _ = curve_fit(curve, loads, shares, p0=start, xtol=1e-12, ftol=1e-12)
    assert fit(points) == (pytest.approx(half, rel=1e-5), pytest.approx(steep, rel=1e-5))


@pytest.mark.parametrize(
    ("xs", "ys"),
    [
        ([0, 200, 400, 600, 800], [11, 12, 13.5, 40, 15.2]),
        ([0, 200, 400, 600], [20, 19, 23, 22]),
        ([0, 0, 100, 100, 300, 500], [5, 6, 6, 7, 9, 8]),
    ],
)
def test_the_robust_slope_is_that_of_scipy(xs: list[float], ys: list[float]) -> None:
    """scipy.stats.theilslopes (library)."""
    assert theil_sen_slope(xs, ys) == pytest.approx(stats.theilslopes(ys, xs)[0], rel=1e-12)
