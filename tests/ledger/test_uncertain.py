"""Figures carry what the instruments can show: the same numbers, honest correlations, and a budget that adds up."""

from __future__ import annotations

import random
from pathlib import Path
from statistics import fmean, stdev

import pytest

from generator.ledger import uncertain
from generator.ledger.batch_facts import Facts
from generator.ledger.facts import facts_of
from generator.ledger.readings import plain
from generator.ledger.uncertain import Uncertain, spread, standard_uncertainty
from generator.log import Log
from generator.records import Instruments
from generator.units import quantity
from generator.validate.logbook import checked_folder
from tests.logbook_files import log_of

DEMO = Path(__file__).parents[2] / "logbook"
FIGURES = (
    "oil_l",
    "oil_kg",
    "dose_neutralising_g",
    "dose_base_g",
    "methanol_molar_ratio",
    "ester_theory_kg",
    "yield_volume_pct",
    "yield_theory_pct",
    "closure_pct",
)


@pytest.fixture(scope="module")
def demo() -> Log:
    log = checked_folder(DEMO)[1].log
    assert log is not None
    return log


def measured(log: Log, batch: str = "b1") -> Facts:
    return facts_of(log, log.batches[batch], Uncertain(log.settings.instruments))


def names(number: float | None) -> set[str]:
    assert number is not None
    return set(spread(number).budget)


def test_the_numbers_are_the_same_with_and_without(demo: Log) -> None:
    compared = 0
    for entry in demo.batches.values():
        exact, carried = facts_of(demo, entry), measured(demo, entry.id)
        for name in FIGURES:
            value = getattr(exact, name)
            if value is None:
                assert getattr(carried, name) is None
                continue
            assert plain(getattr(carried, name)) == pytest.approx(value, rel=1e-12)
            assert standard_uncertainty(getattr(carried, name)) > 0
            compared += 1
    assert compared > 500


def test_purity_does_not_matter_to_a_titrant_made_from_the_same_lot(tmp_path: Path) -> None:
    """The titration counts the lot's impurity already, so what is weighed to neutralise does not depend on the label."""
    own = measured(log_of(tmp_path))
    assert "purity of the catalyst" not in names(own.dose_neutralising_g)
    assert "purity of the catalyst" in names(own.dose_base_g)
    pure = log_of(
        tmp_path / "pure",
        {"batches/b1.yaml": ("of: KOH, lot: koh-1}", "of: KOH, pure: true}")},
    )
    assert "purity of the catalyst" in names(measured(pure).dose_neutralising_g)


def test_a_density_that_stands_on_both_sides_cancels(tmp_path: Path) -> None:
    """Fed and finished fuel have one density: the yield by volume at one temperature does not depend on it."""
    facts = measured(log_of(tmp_path))
    assert "density of the fuel" not in names(facts.yield_volume_pct)
    assert "density of the fuel" in names(facts.yield_mass_pct)


def test_a_budget_adds_up_to_the_whole(demo: Log) -> None:
    for entry in demo.batches.values():
        closure = measured(demo, entry.id).closure_pct
        if closure is not None:
            assert spread(closure).u == pytest.approx(standard_uncertainty(closure), rel=1e-9)
            assert sum(spread(closure).budget.values()) == pytest.approx(100, abs=4)


def test_first_order_agrees_with_random_readings(demo: Log, monkeypatch: pytest.MonkeyPatch) -> None:
    """Monte Carlo through the plain formulas, as in GUM supplement 1: an independent route to the same spread."""
    carried = measured(demo, "2026-023")
    random.seed(20260101)
    monkeypatch.setattr(uncertain, "_number", lambda value, u, name: random.gauss(value, u))
    draws = [measured(demo, "2026-023") for _ in range(3000)]
    for name in FIGURES:
        values = [getattr(draw, name) for draw in draws]
        expected = getattr(carried, name)
        assert fmean(values) == pytest.approx(plain(expected), rel=2e-3)
        assert stdev(values) == pytest.approx(standard_uncertainty(expected), rel=0.06), name


def test_soap_by_relative_variances(tmp_path: Path) -> None:
    """Worked by hand from the defaults: 1.2 mL of 0.01 N on 10 g; derived (QUAM, products add relative variances)."""
    found = measured(log_of(tmp_path)).soap_feed
    assert found is not None
    volume = (2 * 0.05**2) ** 0.5 / 1.2
    normality = 0.02 / 3**0.5
    sample = 0.1 / 6**0.5 / 10
    relative = (volume**2 + normality**2 + sample**2) ** 0.5
    assert standard_uncertainty(found.mg_per_kg) / plain(found.mg_per_kg) == pytest.approx(relative, rel=1e-9)


def test_the_scatter_of_readings_counts_where_it_is_larger_than_a_drop() -> None:
    readings = Uncertain(Instruments())
    alike = readings.burette_ml([quantity(text, ("volume",)) for text in ("2.4 mL", "2.4 mL")], "alike")
    apart = readings.burette_ml([quantity(text, ("volume",)) for text in ("2.0 mL", "2.8 mL")], "apart")
    assert standard_uncertainty(alike) == pytest.approx(0.05 / 2**0.5)
    assert standard_uncertainty(apart) == pytest.approx(0.4, rel=1e-9)


@pytest.mark.parametrize(
    ("written", "u_kg"),
    [
        ("34 kg", (1 / 6) ** 0.5),  # the last digit written is coarser than the scale
        ("34.000 kg", 0.005 / 6**0.5),  # the scale is coarser than the digit
        ("75 lb", 0.45359237 / 6**0.5),
    ],
)
def test_the_last_digit_written_counts_where_it_is_coarser(written: str, u_kg: float) -> None:
    mass = Uncertain(Instruments()).mass_kg(quantity(written, ("mass",)), "layer")
    assert standard_uncertainty(mass) == pytest.approx(u_kg, rel=1e-9)


def test_an_assumed_temperature_is_less_sure_than_a_written_one() -> None:
    readings = Uncertain(Instruments())
    assumed = readings.temperature_c(quantity("180 L", ("volume",)), 15.0, "oil")
    written = readings.temperature_c(quantity("180 L at 15 °C", ("volume",)), 15.0, "oil")
    assert standard_uncertainty(assumed) == pytest.approx(10 / 3**0.5)
    assert standard_uncertainty(written) == pytest.approx(2 / 3**0.5)


def test_better_instruments_make_surer_figures(tmp_path: Path) -> None:
    usual = measured(log_of(tmp_path)).closure_pct
    better = log_of(
        tmp_path / "better",
        {"logbook.yaml": ("title:", "instruments: {volume: 0.2 %, scale: 1 g, thermometer: 0.5 K}\ntitle:")},
    )
    finer = measured(better).closure_pct
    assert usual is not None and finer is not None
    assert plain(usual) == plain(finer)
    assert standard_uncertainty(finer) < standard_uncertainty(usual) * 0.8  # densities stay


def test_an_instrument_without_error_is_no_part_of_a_budget(tmp_path: Path) -> None:
    log = log_of(tmp_path, {"logbook.yaml": ("title:", "instruments: {strength: 0 %}\ntitle:")})
    acid = measured(log).acidity
    assert acid is not None
    assert "strength of the titrant" not in names(acid.acid_value_mg_koh_per_g)


@pytest.mark.parametrize(("typical", "limits_pct"), [(False, 1), (True, 2)])
@pytest.mark.parametrize("g_per_mol", [870.0, 290.0])
def test_a_molar_mass_is_known_to_a_share_of_itself(
    g_per_mol: float, typical: bool, limits_pct: float
) -> None:
    """Limits of 1 % by a profile, of 2 % without, anything between as likely; derived."""
    found = Uncertain(Instruments()).oil_g_per_mol(g_per_mol, "oil", typical=typical)
    assert plain(found) == g_per_mol
    assert standard_uncertainty(found) == pytest.approx(g_per_mol * limits_pct / 100 / 3**0.5, rel=1e-9)
