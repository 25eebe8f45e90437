"""From limits, steps and parts to a standard uncertainty, against the guides and their worked examples."""

from __future__ import annotations

from generator.formulas.uncertainty import combined, expanded, from_limits, from_step, of_mean

from .case import Case, each

QUAM = "Eurachem/CITAC, Quantifying uncertainty in analytical measurement, 3rd ed."
GUM = "JCGM 100:2008, Guide to the expression of uncertainty in measurement"
MODERN = "Harvey, Modern Analytical Chemistry"
TARTU = "University of Tartu, budget of a 10 mL pipette (2004)"


def end_gauge_u_nm() -> float:
    return combined(combined(25, 9.7), combined(2.9, 16.6))


def pipette_u_ml() -> float:
    """Tolerance of the mark, repeatability, and a liquid within 4 K of 20 °C."""
    tolerance_and_reading = combined(from_limits(0.03), 0.04)
    return combined(tolerance_and_reading, 10 * 0.00021 * from_limits(4))


CASES = [
    Case("N4", end_gauge_u_nm, {}, 32, 0.5, "R", GUM, "H.1, table H.1", "published"),
    Case("N4 unrounded", end_gauge_u_nm, {}, 31.67, 0.01, "R", GUM, "H.1, parts of the table", "derived"),
    Case(
        "two deliveries of a pipette",
        combined,
        {"first": 0.006, "second": 0.006},
        0.0085,
        5e-5,
        "R",
        MODERN,
        "pages 65 and 66, two deliveries",
        "published",
    ),
    Case("pipette", pipette_u_ml, {}, 0.0438579525285894, 1e-12, "F", TARTU, "combined result", "published"),
    Case(
        "purity of phthalate",
        from_limits,
        {"limit": 0.0005},
        0.00029,
        5e-6,
        "R",
        QUAM,
        "example A2, purity",
        "published",
    ),
    Case(
        "weighing by difference, mg",
        combined,
        {"first": from_limits(0.15), "second": from_limits(0.15)},
        0.13,
        0.01,
        "R",
        QUAM,
        "example A2, mass; each weighing rounded to 0.09 first",
        "published",
    ),
    Case(
        "titrant, mL",
        combined,
        {"first": 0.012, "second": 0.006},
        0.013,
        5e-4,
        "R",
        QUAM,
        "example A2, volume, from its rounded parts",
        "published",
    ),
    Case("96 to 104 °C", from_limits, {"limit": 4}, 2.3, 0.05, "R", GUM, "4.4.5, figure 2a", "published"),
    Case("copper", from_limits, {"limit": 0.40}, 0.23, 0.005, "R", GUM, "4.3.7, example 1", "from memory"),
    Case("step of a display", from_step, {"step": 1}, 0.29, 0.005, "R", GUM, "F.2.2.1", "from memory"),
    Case(
        "mean of 20 readings",
        of_mean,
        {"reading_u": 0, "scatter": 1.489, "readings": 20},
        0.333,
        5e-4,
        "R",
        GUM,
        "4.4.3",
        "from memory",
    ),
    Case(
        "voltage, µV",
        combined,
        {"first": 12, "second": 8.7},
        15,
        0.5,
        "R",
        GUM,
        "5.1.5, example",
        "from memory",
    ),
    Case("about 95 %", expanded, {"standard": 0.25}, 0.5, 1e-12, "F", GUM, "6.2.1 with k = 2", "derived"),
]


@each(CASES)
def test_uncertainty(case: Case) -> None:
    case.check()
