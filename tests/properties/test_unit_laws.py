"""Laws of the units: there and back, and one batch in two systems."""

from __future__ import annotations

from dataclasses import astuple, dataclass
from decimal import Decimal, getcontext

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.data import rows
from generator.formulas.acidity import base_demand_mol_per_kg, ffa_pct, titrant_mol_per_l
from generator.formulas.columns import bed_volumes_per_h, superficial_velocity_m_per_h
from generator.formulas.constants import molar_mass
from generator.formulas.density import density_kg_per_m3, mass_kg, volume_at_reference_l
from generator.formulas.dose import base_rate_g, methanol_molar_ratio, methanol_pct_v_v, neutralising_g
from generator.units import MAX_DIGITS, convert, quantity

from .law import LAW

NUMBERS = st.decimals("0.01", "9999", places=4, allow_nan=False, allow_infinity=False)
UNITS = [(kind, symbol) for kind, table in rows("units").items() for symbol in table["units"]]
# a factor such as 1/60 of a minute has no end as a decimal, and is written with all digits that a number is reckoned with
ENDS = [
    (kind, symbol)
    for kind, symbol in UNITS
    if kind != "temperature"
    and len(Decimal(rows("units")[kind]["units"][symbol]["factor"]).as_tuple().digits) < getcontext().prec
]


@LAW
@given(NUMBERS, st.sampled_from(UNITS))
def test_to_the_base_unit_and_back(number: Decimal, unit: tuple[str, str]) -> None:
    kind, symbol = unit
    base = quantity(f"{number} {symbol}", (kind,)).value
    assert convert(base, kind, symbol) == pytest.approx(float(number), rel=1e-9, abs=1e-9)


@LAW
@given(NUMBERS, st.sampled_from(UNITS))
def test_an_alias_means_what_its_unit_means(number: Decimal, unit: tuple[str, str]) -> None:
    kind, symbol = unit
    for alias in rows("units")[kind]["units"][symbol].get("aliases", ()):
        assert quantity(f"{number} {alias}", (kind,)).exact == quantity(f"{number} {symbol}", (kind,)).exact


@LAW
@given(NUMBERS, NUMBERS, st.sampled_from(ENDS))
def test_amounts_in_one_unit_add_up_exactly(a: Decimal, b: Decimal, unit: tuple[str, str]) -> None:
    kind, symbol = unit
    apart = quantity(f"{a} {symbol}", (kind,)).exact + quantity(f"{b} {symbol}", (kind,)).exact
    assert apart == quantity(f"{a + b} {symbol}", (kind,)).exact


def test_only_units_without_an_end_are_left_out() -> None:
    left = {symbol for kind, symbol in UNITS if kind != "temperature"} - {symbol for _, symbol in ENDS}
    assert left == {"Δ°F", "min", "s", "MJ"}


@LAW
@given(NUMBERS)
def test_a_price_of_the_whole_does_not_hang_on_the_gallon(number: Decimal) -> None:
    for choice, litres in (("US", "3.785411784"), ("imperial", "4.54609")):
        assert quantity(f"{number} gal", ("volume",), choice).exact == number * Decimal(litres)


@dataclass(frozen=True, slots=True)
class Bench:
    """What was read at the bench, each with its unit."""

    oil: str
    density: str
    methanol: str
    catalyst_rule: str
    flow_in_an_hour: str
    bed: str
    diameter: str
    sample: str


def figures(bench: Bench) -> tuple[float, ...]:
    """The figures of a batch, from the text of its readings."""
    oil = quantity(bench.oil, ("volume",))
    assert oil.at_c is not None
    at_15_c = quantity(bench.density, ("density",)).value
    now = density_kg_per_m3(at_15_c, 0.64, oil.at_c, 15)
    oil_kg, methanol_l = mass_kg(oil.value, now), quantity(bench.methanol, ("volume",)).value
    rule, bed_l = (
        quantity(bench.catalyst_rule, ("mass concentration",)).value,
        quantity(bench.bed, ("volume",)).value,
    )
    flow_l_per_h, koh = quantity(bench.flow_in_an_hour, ("volume",)).value, molar_mass("KOH")
    sample_g = 1000 * quantity(bench.sample, ("mass",)).value
    demand = base_demand_mol_per_kg(2.4, 0.1, titrant_mol_per_l(1, koh, 90), sample_g)
    return (
        oil_kg,
        volume_at_reference_l(oil.value, now, at_15_c),
        ffa_pct(demand),
        neutralising_g(demand, oil_kg, koh, 90),
        base_rate_g(rule, koh, oil.value, koh, 90),
        methanol_pct_v_v(methanol_l, oil.value),
        methanol_molar_ratio(mass_kg(methanol_l, 792), 99, oil_kg, 870),
        bed_volumes_per_h(flow_l_per_h, bed_l),
        superficial_velocity_m_per_h(flow_l_per_h, quantity(bench.diameter, ("length",)).value),
    )


def plain(value: Decimal) -> str:
    """Fifteen digits, written plainly: the most the grammar takes."""
    before_the_point = len(str(int(abs(value))))
    return f"{value:.{MAX_DIGITS - before_the_point}f}"


@LAW
@given(
    st.decimals(20, 900, places=1),
    st.decimals(-5, 60, places=1),
    st.decimals(4, 200, places=1),
    st.decimals(3, 9, places=2),
)
def test_one_batch_in_gallons_pounds_and_fahrenheit(
    oil_l: Decimal, at_c: Decimal, methanol_l: Decimal, rule: Decimal
) -> None:
    gallon, pound, inch = Decimal("3.785411784"), Decimal("0.45359237"), Decimal("2.54")
    metric = Bench(
        oil=f"{oil_l} L at {at_c} °C",
        density="921.5 kg/m³",
        methanol=f"{methanol_l} L",
        catalyst_rule=f"{rule} g/L",
        flow_in_an_hour="40 L",
        bed="55 L",
        diameter="30 cm",
        sample="5 g",
    )
    american = Bench(
        oil=f"{plain(oil_l / gallon)} US gal at {plain(at_c * Decimal('1.8') + 32)} °F",
        density=f"{plain(Decimal('921.5') / 1000 * gallon / pound)} lb/US gal",
        methanol=f"{plain(methanol_l / gallon)} US gal",
        catalyst_rule=f"{plain(rule * gallon / (pound * 1000 / 16))} oz/US gal",
        flow_in_an_hour=f"{plain(40 / gallon)} US gal",
        bed=f"{plain(55 / gallon)} US gal",
        diameter=f"{plain(30 / inch)} in",
        sample=f"{plain(Decimal('0.005') / pound)} lb",
    )
    assert len(astuple(metric)) == len(astuple(american))
    for ours, theirs in zip(figures(metric), figures(american), strict=True):
        assert theirs == pytest.approx(ours, rel=1e-9)
