"""One published breakdown of what a gallon of home-made fuel costs, laid into a logbook and read off the tool's parts and tiers.

University of Tennessee, Municipal Technical Advisory Service, *Feasibility Model (2011)*, MTAS-738, read in a stored copy; the
confidence is `published`. It prints what a US gallon costs: potassium hydroxide 0.05, waste oil 0.00, resin 0.04, electricity
0.35, all that varies 0.99, fixed cost 0.60 (60,000 USD over five years of 20,000 gallons), 1.59 in all; and the prices: methanol
2.75 USD a gallon, potassium hydroxide 0.50 USD and resin 10.7 USD a pound, electricity 0.14 USD/kWh, diesel 3.63 USD a gallon.

It prints no amounts. Here they are the printed cost over the printed price, so a part of its own shows only that price, unit and
amount are put together rightly; methanol, whose cost is not printed, is what the 0.99 leaves. The tiers, the fixed cost and
what is left of it after a year are sums that the source makes and this test does not. It counts no labour, and its saving of 2.04
is gallon for gallon, where this tool compares heat: that one is checked against the net heat of the California table (`derived`).
"""

from __future__ import annotations

from typing import Any

import pytest

from generator.compute.results import Results
from generator.compute.tally import tally
from generator.ledger.ledgers import Ledgers
from generator.ledger.overheads import borne
from tests.logbook_files import in_memory

GALLON_L = 3.785411784
PRINTED = 0.005  # rounding of the printed cents
METHANOL = 0.99 - 0.05 - 0.04 - 0.35  # USD a gallon of fuel
FUEL_GAL, BATCHES = 50, 8
FILES = {
    "logbook.yaml": """format: 1
title: A breakdown in print
currency: USD
timezone: America/Chicago
reference_temperature: 60 °F
assumed_temperature: 60 °F
overheads: [{for: processor and tanks, from: 2011-01-01, until: 2015-12-31, paid: 60000 USD, over: 100000 US gal}]
""",
    "materials/all.yaml": """materials:
  oil: {kind: oil}
  koh: {kind: catalyst, of: KOH, purity: 90 %}
  methanol: {kind: alcohol, of: methanol, purity: 99.8 %}
  resin: {kind: medium, type: resin, void: 0.38, ledgers: [{of: soap, by: exchange, capacity: 550 g/L}]}
""",
    "lots/oil.yaml": "{lot: oil-1, material: oil, received: 2011-01-02, quantity: 1000 US gal, paid: 0.00 USD/US gal}\n",
    "lots/koh.yaml": "{lot: koh-1, material: koh, received: 2011-01-02, quantity: 100 lb, paid: 0.50 USD/lb}\n",
    "lots/methanol.yaml": "{lot: meoh-1, material: methanol, received: 2011-01-02, quantity: 200 US gal, paid: 2.75 USD/US gal}\n",
    "lots/resin.yaml": "{lot: resin-1, material: resin, received: 2011-01-02, quantity: 10 lb, paid: 10.7 USD/lb}\n",
    "columns/one.yaml": f"""purifier: one
vessels: [{{vessel: A, volume: 5 US gal}}]
history: [{{date: 2011-01-03, event: pack, vessel: A, medium: resin, lot: resin-1, mass: 10 lb, basis: as supplied, bed: 2 US gal, expected: {10 * 10.7 / 0.04} US gal}}]
""",
    "prices/electricity.yaml": "price: electricity\nseries: [{date: 2011-01-01, value: 0.14 USD/kWh}]\n",
    "prices/diesel.yaml": "price: diesel\nseries: [{date: 2011-01-01, value: 3.63 USD/US gal}]\n",
}


def batch(day: int) -> str:
    """One batch of 50 gallons with the amounts that the printed costs and prices give."""
    return f"""batch: b{day}
date: 2011-11-{day:02}
oil: [{{lot: oil-1, volume: {FUEL_GAL} US gal}}]
reaction:
  - catalyst: [{{lot: koh-1, mass: {FUEL_GAL * 0.05 / 0.50:.6f} lb}}]
    methanol: [{{lot: meoh-1, volume: {FUEL_GAL * METHANOL / 2.75:.6f} US gal}}]
polish:
  purifier: one
  start: 2011-11-{day:02}T10:00
  end: 2011-11-{day:02}T12:00
  volume: {FUEL_GAL} US gal
fuel: {{volume: {FUEL_GAL} US gal}}
energy: {FUEL_GAL * 0.35 / 0.14:.6f} kWh
"""


@pytest.fixture(scope="module")
def results() -> Results:
    checked = in_memory(FILES | {f"batches/b{day}.yaml": batch(day) for day in range(1, BATCHES + 1)})
    assert checked.ledgers is not None and checked.fit, [one.message for one in checked.problems]
    return tally(checked.ledgers)


def gallon(row: dict[str, Any], column: str) -> float:
    """A cost by the litre as one by the US gallon."""
    return float(row[column]) * GALLON_L


@pytest.mark.parametrize(
    ("column", "usd"),
    [("oil_per_l", 0.00), ("catalyst_per_l", 0.05), ("energy_per_l", 0.35), ("media_per_l", 0.04),
     ("overheads_per_l", 0.60), ("with_media_per_l", 1.59)],
)  # fmt: skip
def test_parts_and_tiers_of_a_gallon(results: Results, column: str, usd: float) -> None:
    for row in results.rows("costs"):
        assert gallon(row, column) == pytest.approx(usd, abs=PRINTED)


def test_what_varies_is_the_cash_and_the_media(results: Results) -> None:
    row = results.rows("costs")[0]
    assert gallon(row, "cash_per_l") + gallon(row, "media_per_l") == pytest.approx(0.99, abs=PRINTED)


def test_twenty_thousand_gallons_a_year_bear_the_fixed_cost_in_five(results: Results) -> None:
    """The printed year bears 12,000 of the 60,000; after five the source counts only the 0.99."""
    (row,) = results.rows("overheads")
    assert row["borne"] == pytest.approx(BATCHES * FUEL_GAL * 0.60, abs=BATCHES * FUEL_GAL * PRINTED)
    assert row["over_l"] == pytest.approx(5 * 20_000 * GALLON_L)
    late = {f"batches/b{day}.yaml": batch(day).replace("2011", "2016") for day in (1, 2)}
    checked = in_memory({**FILES, **late})
    assert checked.log is not None
    assert borne(checked.log, Ledgers(checked.log).facts)[0].by_batch == {}


def test_the_saving_is_by_heat_and_so_below_the_printed_one(results: Results) -> None:
    """3.63 less 1.59 is the printed 2.04, gallon for gallon; by net heat, 117,100 of 127,500 Btu, it is 1.74."""
    row = results.rows("costs")[0]
    assert gallon(row, "diesel_per_l") - gallon(row, "with_media_per_l") == pytest.approx(
        2.04, abs=2 * PRINTED
    )
    assert gallon(row, "saving_per_l") == pytest.approx(3.63 * 117_100 / 127_500 - 1.59, abs=2 * PRINTED)
