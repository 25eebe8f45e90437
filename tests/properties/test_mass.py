"""Laws of a whole batch: no mass is made or lost in the chemistry, and no figure hangs on the units of its readings."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import fields, is_dataclass
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.formulas.constants import molar_mass
from generator.formulas.dose import neutralising_g
from generator.formulas.stoichiometry import (
    ester_ceiling_kg,
    glycerol_in_theory_kg,
    mean_fatty_acid_g_per_mol,
    methanol_consumed_kg,
    soap_from_ffa_kg,
    triglyceride_g_per_mol,
    water_from_ffa_kg,
)
from generator.ledger.batch_facts import Facts
from generator.ledger.facts import facts_of
from generator.ledger.readings import EXACT, Readings
from generator.ledger.uncertain import Uncertain
from generator.log import Log
from generator.units import MAX_DIGITS
from tests.logbook_files import base_files, in_memory

from .law import LAW, OIL_KG, PROFILES, between

NEAR = 1e-9
SOAPS = {"KOH": "potassium oleate", "NaOH": "sodium oleate"}
RATIO = between(3, 12)


def plain(value: Decimal) -> str:
    """Fifteen digits, written plainly: the most the grammar takes."""
    before_the_point = len(str(int(abs(value))))
    return f"{value:.{MAX_DIGITS - before_the_point}f}"


def log_with(batch: str, **files: str) -> Log:
    """The log of a logbook with one batch, and with other files in place of its own."""
    kept = base_files("batches/", "tanks/", "offers/", "pages/")
    found = in_memory(
        {
            **kept,
            **{name.replace("_", "/") + ".yaml": text for name, text in files.items()},
            "batches/b1.yaml": batch,
        }
    )
    assert found.log is not None
    assert found.fit, [f"{problem.place}: {problem.message}" for problem in found.problems]
    return found.log


# --- mass in = mass out -------------------------------------------------------------------------------------------------


def sides_kg(
    oil: float, ffa: float, ratio: float, base: str, profile: dict[str, float]
) -> tuple[dict[str, float], dict[str, float]]:
    """All that goes into a batch and all that comes out of it at full conversion, kg; the base beyond the acid stays."""
    molar = triglyceride_g_per_mol(mean_fatty_acid_g_per_mol(profile))
    consumed = methanol_consumed_kg(oil, ffa, molar)
    acid_mol_per_kg = ffa / 100 * 1000 / molar_mass("18:1")
    catalyst = 0.007 * oil
    neutralising = neutralising_g(acid_mol_per_kg, oil, molar_mass(base), 100) / 1000
    goes_in = {"oil": oil, "methanol": consumed * ratio / 3, "base": neutralising + catalyst}
    layer = (
        glycerol_in_theory_kg(oil, ffa, molar)
        + soap_from_ffa_kg(oil, ffa, molar_mass(SOAPS[base]))
        + water_from_ffa_kg(oil, ffa)
        + catalyst
    )
    excess = goes_in["methanol"] - consumed
    return goes_in, {"fuel": ester_ceiling_kg(oil, ffa, molar), "layer": layer, "excess": excess}


@LAW
@given(OIL_KG, between(0, 20), RATIO, st.sampled_from(sorted(SOAPS)), PROFILES)
def test_what_goes_into_a_batch_comes_out_of_it(
    oil: float, ffa: float, ratio: float, base: str, profile: dict[str, float]
) -> None:
    goes_in, comes_out = sides_kg(oil, ffa, ratio, base, profile)
    assert sum(comes_out.values()) == pytest.approx(sum(goes_in.values()), rel=NEAR)


@LAW
@given(between(20, 200), between(0, 5), between(4, 9), between(0, 1))
def test_the_balance_of_such_a_batch_closes(oil: float, ffa: float, ratio: float, back: float) -> None:
    """Written in kilograms, half of the excess or whatever share in the layer: the ledger finds 100 %."""
    goes_in, comes_out = sides_kg(oil, ffa, ratio, "KOH", {"18:1": 60, "18:2": 40})
    taken_kg = back * comes_out["excess"]
    mass = {name: plain(Decimal(kg)) for name, kg in (goes_in | comes_out).items()}
    layer = plain(Decimal(comes_out["layer"] + comes_out["excess"] - taken_kg))
    taken = plain(Decimal(taken_kg / 0.795691))  # 795.691 kg/m³ at 15 °C is the row of methanol
    batch = f"""
batch: b1
date: 2026-01-10
oil: [{{lot: oil-1, mass: {mass["oil"]} kg}}]
reaction: [{{catalyst: [{{lot: koh-1, mass: {mass["base"]} kg}}], methanol: [{{lot: meoh-1, mass: {mass["methanol"]} kg}}]}}]
settled: {{glycerol: {{mass: {layer} kg}}}}
methanol_recovered: {{volume: {taken} L at 15 °C, into: meoh-back}}
fuel: {{mass: {mass["fuel"]} kg}}
"""
    log = log_with(batch)
    facts = facts_of(log, log.batches["b1"])
    assert facts.closure_pct == pytest.approx(100, rel=NEAR)
    assert facts.unaccounted_kg == pytest.approx(0, abs=1e-7)


# --- one batch in two systems of units ----------------------------------------------------------------------------------


class Metric:
    """Readings as a metric workshop writes them."""

    def volume(self, litres: Decimal, at_c: Decimal | None = None) -> str:
        return f"{plain(litres)} L" + (f" at {self.temperature(at_c)}" if at_c is not None else "")

    def mass(self, kg: Decimal) -> str:
        return f"{plain(kg)} kg"

    def temperature(self, at_c: Decimal) -> str:
        return f"{at_c} °C"

    def bench(self, ml: Decimal) -> str:
        return f"{plain(ml)} mL"

    def sample(self, g: Decimal) -> str:
        return f"{plain(g)} g"

    def strength(self, g_per_l: Decimal) -> str:
        return f"{plain(g_per_l)} g/L"

    def density(self, kg_per_m3: Decimal, at_c: Decimal) -> str:
        return f"{plain(kg_per_m3)} kg/m³ at {self.temperature(at_c)}"


class American(Metric):
    """The same readings in gallons, pounds, ounces and degrees Fahrenheit."""

    GALLON, POUND = Decimal("3.785411784"), Decimal("0.45359237")
    OUNCE, FLUID_OUNCE = POUND / 16, GALLON / 128

    def volume(self, litres: Decimal, at_c: Decimal | None = None) -> str:
        return f"{plain(litres / self.GALLON)} US gal" + (
            f" at {self.temperature(at_c)}" if at_c is not None else ""
        )

    def mass(self, kg: Decimal) -> str:
        return f"{plain(kg / self.POUND)} lb"

    def temperature(self, at_c: Decimal) -> str:
        return f"{plain(at_c * Decimal('1.8') + 32)} °F"

    def bench(self, ml: Decimal) -> str:
        return f"{plain(ml / 1000 / self.FLUID_OUNCE)} US fl oz"

    def sample(self, g: Decimal) -> str:
        return f"{plain(g / 1000 / self.OUNCE)} oz"

    def strength(self, g_per_l: Decimal) -> str:
        return f"{plain(g_per_l / 1000 * self.GALLON / self.OUNCE)} oz/US gal"

    def density(self, kg_per_m3: Decimal, at_c: Decimal) -> str:
        return f"{plain(kg_per_m3 / 1000 * self.GALLON / self.POUND)} lb/US gal at {self.temperature(at_c)}"


def read(
    by: Metric, oil_l: Decimal, at_c: Decimal, methanol_pct: Decimal, layer_pct: Decimal, by_volume: bool
) -> Log:
    """The log of one batch with all that figures are made of, written by one of the two."""
    d = Decimal
    methanol_l, layer_kg = oil_l * methanol_pct / 100, oil_l * layer_pct / 100
    acid = f"{by.bench(d('1.35'))}, normality: 0.01 N, blank: {by.bench(d('0.05'))}"
    layer = f"volume: {by.volume(layer_kg / d('1.1'), at_c)}" if by_volume else f"mass: {by.mass(layer_kg)}"
    batch = f"""
batch: b1
date: 2026-01-10
oil:
  - {{lot: oil-1, volume: {by.volume(oil_l, at_c)}}}
  - {{lot: oil-2, mass: {by.mass(oil_l / 3)}}}
titration:
  titrant: {{strength: {by.strength(d("1.02"))}, of: KOH, lot: koh-1, solvent: alcohol, at: {by.temperature(d(20))}}}
  temperature: {by.temperature(d(12))}
  sample: {by.bench(d("1.1")) if by_volume else by.sample(d("0.95"))}
  blank: {by.bench(d("0.12"))}
  readings: ["{by.bench(d("2.4"))}", "{by.bench(d("2.5"))}"]
reaction:
  - catalyst: [{{lot: koh-1, mass: {by.mass(oil_l / 110)}}}]
    methanol: [{{lot: meoh-1, volume: {by.volume(methanol_l)}}}]
  - catalyst: [{{lot: koh-1, mass: {by.sample(oil_l)}}}]
    methanol: [{{lot: meoh-1, volume: {by.volume(methanol_l / 5, at_c)}}}]
settled: {{glycerol: {{{layer}}}}}
methanol_recovered: {{volume: {by.volume(methanol_l / 6, d(18))}, into: meoh-back}}
polish:
  purifier: shed
  start: 2026-01-11T09:00
  end: 2026-01-11T12:00
  volume: {by.volume(oil_l * d("1.3"), d(22))}
  acid_value: {{value: 0.3 mg KOH/g, method: bench titration}}
  soap:
    - {{point: feed, sample: {by.sample(d(10))}, catalyst: {{acid: {by.bench(d("0.4"))}}}, acid: {acid}}}
    - {{point: after A, sample: {by.bench(d(25))}, acid: {acid}}}
    - {{point: product, sample: {by.sample(d(90))}, catalyst: {{acid: {by.bench(d("0.1"))}}}, acid: {acid}}}
fuel: {{volume: {by.volume(oil_l * d("1.29"))}}}
"""
    workshop = f"""
format: 1
title: Garden shed
currency: EUR
timezone: Europe/Lisbon
reference_temperature: {by.temperature(d(15))}
assumed_temperature: {by.temperature(d("11.5"))}
dose: {{base: {by.strength(d(7))}, of: KOH}}
instruments: {{burette: {by.bench(d("0.05"))}, scale: {by.sample(d(5))}, balance: {by.sample(d("0.1"))}}}
"""
    materials = base_files()["materials/all.yaml"] + (
        f"  old-oil: {{kind: oil, saponification value: 192 mg KOH/g, density: {by.density(d('918.5'), d(20))}}}\n"
    )
    lot = "{}\nmaterial: {}\nreceived: 2026-01-02\nquantity: {}\n".format
    oils = {
        f"lots_oil-{n}": "lot: oil-" + lot(n, material, by.volume(d(5000), d(15)))
        for n, material in ((1, "frying-oil"), (2, "old-oil"))
    }
    koh = "lot: " + lot("koh-1", "flakes", by.mass(d(100)))
    meoh = "lot: " + lot("meoh-1", "methanol", by.volume(d(5000), d(15)))
    return log_with(
        batch, logbook=workshop, materials_all=materials, **oils, **{"lots_koh-1": koh, "lots_meoh-1": meoh}
    )


def numbers(of: object, name: str = "") -> Iterator[tuple[str, float]]:
    """Every number of the figures of a batch, and of what they hold, by name; unknown ones are left out."""
    own = [each.name for each in fields(of)] if is_dataclass(of) else []
    made = [each for each, value in vars(type(of)).items() if isinstance(value, property)]
    for each in (*own, *made):
        value = getattr(of, each)
        if is_dataclass(value):
            yield from numbers(value, f"{name}{each}.")
        elif isinstance(value, int | float) and not isinstance(value, bool):
            yield f"{name}{each}", float(value)
        elif hasattr(value, "nominal_value"):
            yield f"{name}{each}", value.nominal_value
            yield f"{name}{each} ±", value.std_dev


def figures(log: Log, readings: Readings = EXACT) -> dict[str, float]:
    return dict(numbers(facts_of(log, log.batches["b1"], readings)))


BATCHES = (
    st.decimals(20, 200, places=1),
    st.decimals(-5, 60, places=1),
    st.decimals(25, 60, places=1),
    st.decimals(5, 40, places=1),
    st.booleans(),
)
"""Litres of oil, °C, methanol and layer in % of the oil, and whether sample and layer are taken by volume."""


@LAW
@given(*BATCHES)
def test_a_batch_in_gallons_pounds_and_fahrenheit_gives_the_same_figures(
    oil_l: Decimal, at_c: Decimal, methanol_pct: Decimal, layer_pct: Decimal, by_volume: bool
) -> None:
    metric = figures(read(Metric(), oil_l, at_c, methanol_pct, layer_pct, by_volume))
    american = figures(read(American(), oil_l, at_c, methanol_pct, layer_pct, by_volume))
    assert american == pytest.approx(metric, rel=NEAR)


def test_the_figures_of_that_batch_are_all_known() -> None:
    """Else the law above would compare nothing."""
    log = read(Metric(), Decimal(90), Decimal(20), Decimal(25), Decimal(20), True)
    facts = facts_of(log, log.batches["b1"])
    unknown = [each.name for each in fields(Facts) if getattr(facts, each.name) is None]
    assert unknown == ["treated_acid_value_mg_koh_per_g"]  # it had no pre-treatment
    assert [
        name
        for name, value in vars(Facts).items()
        if isinstance(value, property) and getattr(facts, name) is None
    ] == []
    assert len(figures(log)) > 50


def test_how_sure_a_figure_is_does_not_hang_on_the_units_either() -> None:
    given_as = (Decimal(90), Decimal(20), Decimal(25), Decimal(20), False)
    logs = [read(by, *given_as) for by in (Metric(), American())]
    metric, american = (figures(log, Uncertain(log.settings.instruments)) for log in logs)
    assert american == pytest.approx(metric, rel=NEAR)
    assert sum(name.endswith("±") and value > 0 for name, value in metric.items()) > 25
