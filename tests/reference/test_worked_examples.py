"""Worked examples of an open chemistry textbook and others: units, density, yield, dose, glycerol."""

from __future__ import annotations

from generator.formulas.balance import yield_theory_pct
from generator.formulas.columns import share_pct
from generator.formulas.constants import default_density
from generator.formulas.density import mass_kg, volume_of_mass_l
from generator.formulas.stoichiometry import glycerol_in_theory_kg
from generator.units import quantity

from .case import Case, each

OPENSTAX = "OpenStax, Chemistry 2e"
TREATMENT = "1.6, module m68683"
YIELDS = "4.4, module m68714"
USP = "United States Pharmacopeia, reproduced"


def read(text: str, kind: str) -> float:
    """A reading in the base unit of its kind: L, kg, °C, cm, km."""
    return quantity(text, (kind,)).value


def _unit(text: str, kind: str, expected: float, tolerance: float, where: str) -> Case:
    inputs = {"text": text, "kind": kind}
    place = f"{TREATMENT}, {where}"
    return Case(f"{text}", read, inputs, expected, tolerance, "R", OPENSTAX, place, "published")


def mass_of_reading_kg(text: str, kg_per_m3: float) -> float:
    return mass_kg(read(text, "volume"), kg_per_m3)


def methanol_kg(volume_l: float, temperature_c: float) -> float:
    return mass_kg(volume_l, default_density("methanol").at(temperature_c))


END = "end of chapter"
CASES = [
    _unit("9.345 US qt", "volume", 8.844, 5e-4, "check your learning"),
    _unit("1.000 US fl oz", "volume", 0.02957, 5e-6, "check your learning"),
    _unit("12.0 US fl oz", "volume", 0.355, 5e-4, END),
    _unit("12.0 US gal", "volume", 45.4, 0.05, END),
    _unit("56.3 US gal", "volume", 213, 0.5, "example of the roadster"),
    _unit("1 ft³", "volume", 28.317, 5e-4, "table of factors"),
    _unit("197 lb", "mass", 89.4, 0.05, END),
    _unit("2240 lb", "mass", 1016.0, 0.05, END),
    _unit("32.0 lb", "mass", 14.5, 0.05, END),
    _unit("34 in", "length", 86, 0.5, "example of the jump"),
    _unit("777 mi", "distance", 1250, 0.9, "example of the roadster"),
    _unit("98.6 °F", "temperature", 37.0, 0.05, "conversion from Celsius"),
    _unit("450 °F", "temperature", 232, 0.5, "conversion from Fahrenheit"),
    _unit("-28.1 °F", "temperature", -33.4, 0.05, END),
    Case(
        "density of antifreeze",
        mass_of_reading_kg,
        {"text": "4.00 US qt", "kg_per_m3": 1110},
        9.26 * 0.45359237,
        0.005 * 3.79,
        "R",
        OPENSTAX,
        f"{TREATMENT}, example: 4.00 qt weigh 9.26 lb, 1.11 g/mL",
        "published",
    ),
    Case(
        "mass of mercury",
        mass_of_reading_kg,
        {"text": "6.00 cm³", "kg_per_m3": 13593.9},
        0.0816,
        5e-5,
        "R",
        OPENSTAX,
        f"{TREATMENT}, {END}",
        "published",
    ),
    Case(
        "mass of octane",
        mass_of_reading_kg,
        {"text": "25.0 mL", "kg_per_m3": 702},
        0.0176,
        5.001e-5,
        "R",
        OPENSTAX,
        f"{TREATMENT}, {END}",
        "published",
    ),
    Case(
        "volume of phosphoric acid",
        volume_of_mass_l,
        {"mass_kg": 0.225, "density_kg_per_m3": 1830},
        0.123,
        5e-4,
        "R",
        OPENSTAX,
        f"{TREATMENT}, {END}",
        "published",
    ),
    Case(
        "volume of iodine",
        volume_of_mass_l,
        {"mass_kg": 0.025, "density_kg_per_m3": 4930},
        0.0051,
        5e-5,
        "R",
        OPENSTAX,
        f"{TREATMENT}, {END}",
        "published",
    ),
    Case(
        "yield of copper",
        yield_theory_pct,
        {"made_kg": 0.392, "theory_kg": 0.5072},
        77.3,
        0.05,
        "R",
        OPENSTAX,
        f"{YIELDS}, calculation of percent yield",
        "published",
    ),
    Case(
        "yield of a compound",
        yield_theory_pct,
        {"made_kg": 25, "theory_kg": 81},
        31,
        0.5,
        "R",
        OPENSTAX,
        f"{YIELDS}, {END}",
        "published",
    ),
    Case(
        "share of a salt in a mixture",
        share_pct,
        {"part": 0.3181, "whole": 0.4550},
        69.91,
        0.005,
        "R",
        OPENSTAX,
        "4.5, module m68716, example 4.11",
        "published",
    ),
    Case(
        "glycerol of tallow",
        glycerol_in_theory_kg,
        {"oil_kg": 100, "ffa_pct": 0, "triglyceride_g_per_mol": 890},
        100 * 92 / 890,
        0.012,
        "K",
        "Bhatt and Vora, Stoichiometry (attribution from memory), in the FOSSEE textbook companion",
        "example 4.7: 92 kg per 890 kg, rounded masses; result worked out here",
        "published formula",
    ),
    Case(
        "methanol, 19 mL",
        methanol_kg,
        {"volume_l": 0.019, "temperature_c": 20},
        0.015,
        5e-4,
        "R",
        USP,
        "methyl alcohol (USP 29), acidity: 19 mL (15 g)",
        "secondary copy",
    ),
    Case(
        "methanol, 28.6 mL",
        methanol_kg,
        {"volume_l": 0.0286, "temperature_c": 20},
        0.0226,
        1.5e-4,
        "P",
        USP,
        "methyl alcohol (USP 29), alkalinity: 28.6 mL (22.6 g), at 20 or 25 °C",
        "secondary copy",
    ),
]


@each(CASES)
def test_worked_example(case: Case) -> None:
    case.check()
