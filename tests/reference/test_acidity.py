"""Titration, acid value and free fatty acid against the methods' own forms and tables."""

from __future__ import annotations

from generator.formulas.acidity import (
    acid_value_mg_koh_per_g,
    base_demand_from_acid_value_mol_per_kg,
    base_demand_mol_per_kg,
    ffa_pct,
    spread_pct,
    titrant_at_standard_temperature_ml,
    titrant_mol_per_l,
)
from generator.formulas.constants import molar_mass

from .case import Case, each

EN_14104 = ("EN 14104 (2003 text)", "clause 10, inputs ours")
CA_5A_40 = ("AOCS Ca 5a-40", "table 1, sample sizes")
WORKSHOP = ("EN 14104 and AOCS Ca 5a-40 with exact molar masses", "titrant of 1 g/L, sample of 1 mL oil")


def acid_value(v_ml: float, b_ml: float, c_mol_per_l: float, m_g: float) -> float:
    return acid_value_mg_koh_per_g(base_demand_mol_per_kg(v_ml, b_ml, c_mol_per_l, m_g))


def ffa(v_ml: float, b_ml: float, c_mol_per_l: float, m_g: float) -> float:
    return ffa_pct(base_demand_mol_per_kg(v_ml, b_ml, c_mol_per_l, m_g))


def workshop_ffa(base: str, titration_ml: float, g_per_ml: float) -> float:
    return ffa(titration_ml, 0, titrant_mol_per_l(1, molar_mass(base), 100), g_per_ml)


def workshop_acid_value(base: str, titration_ml: float, g_per_ml: float) -> float:
    return acid_value(titration_ml, 0, titrant_mol_per_l(1, molar_mass(base), 100), g_per_ml)


def ffa_to_acid_value(ffa_percent: float) -> float:
    return acid_value_mg_koh_per_g(ffa_percent / 28.2)


def _form(v: float, c: float, m: float) -> dict[str, float]:
    return {"v_ml": v, "b_ml": 0, "c_mol_per_l": c, "m_g": m}


def _oil(base: str, t: float, density: float) -> dict[str, float | str]:
    return {"base": base, "titration_ml": t, "g_per_ml": density}


CASES = [
    Case("A1", acid_value, _form(1.75, 0.1, 20), 0.490875, 1e-6, "F", *EN_14104, "secondary copy"),
    Case(
        "A2",
        titrant_at_standard_temperature_ml,
        {"titrant_ml": 10, "temperature_c": 30, "standard_c": 20},
        9.890,
        1e-9,
        "F",
        "EN 14104 (2003 text)",
        "clause 10, note",
        "secondary copy",
    ),
    Case("A4 0-0.2 %", ffa, _form(1, 0.1, 56.4), 0.05, 1e-12, "F", *CA_5A_40, "from memory"),
    Case("A4 0.2-1 %", ffa, _form(1, 0.1, 28.2), 0.10, 1e-12, "F", *CA_5A_40, "from memory"),
    Case("A4 1-30 %", ffa, _form(1, 0.25, 7.05), 1.00, 1e-12, "F", *CA_5A_40, "from memory"),
    Case("A4 30-50 %", ffa, _form(1, 1.0, 7.05), 4.00, 1e-12, "F", *CA_5A_40, "from memory"),
    Case("A4 50-100 %", ffa, _form(1, 1.0, 3.525), 8.00, 1e-12, "F", *CA_5A_40, "from memory"),
    Case(
        "A7 rounded factor 1.99",
        ffa_to_acid_value,
        {"ffa_percent": 2.0},
        3.98,
        0.005,
        "R",
        "AOCS Ca 5a-40",
        "note",
        "from memory",
    ),
    Case(
        "A7 56.1/28.2",
        ffa_to_acid_value,
        {"ffa_percent": 2.0},
        3.9787,
        1e-4,
        "R",
        "AOCS Ca 5a-40",
        "ratio of its constants",
        "derived",
    ),
    Case("A8 FFA", workshop_ffa, _oil("KOH", 2.5, 0.92), 1.366, 0.002, "K", *WORKSHOP, "derived"),
    Case("A8 AV", workshop_acid_value, _oil("KOH", 2.5, 0.92), 2.717, 0.002, "K", *WORKSHOP, "derived"),
    Case("A9 FFA", workshop_ffa, _oil("NaOH", 3.0, 0.92), 2.299, 0.002, "K", *WORKSHOP, "derived"),
    Case("A9 AV", workshop_acid_value, _oil("NaOH", 3.0, 0.92), 4.574, 0.002, "K", *WORKSHOP, "derived"),
    Case("A10 NaOH 0.92", workshop_ffa, _oil("NaOH", 1, 0.92), 0.766, 0.001, "R", *WORKSHOP, "derived"),
    Case("A10 NaOH 0.91", workshop_ffa, _oil("NaOH", 1, 0.91), 0.775, 0.001, "R", *WORKSHOP, "derived"),
    Case("A10 KOH 0.92", workshop_ffa, _oil("KOH", 1, 0.92), 0.546, 0.001, "R", *WORKSHOP, "derived"),
    Case("A10 KOH 0.91", workshop_ffa, _oil("KOH", 1, 0.91), 0.552, 0.001, "R", *WORKSHOP, "derived"),
    Case("A10 AV NaOH", workshop_acid_value, _oil("NaOH", 1, 0.92), 1.525, 0.001, "R", *WORKSHOP, "derived"),
    Case("A10 AV KOH", workshop_acid_value, _oil("KOH", 1, 0.92), 1.087, 0.001, "R", *WORKSHOP, "derived"),
    Case(
        "N10 AV",
        acid_value,
        {"v_ml": 1.10, "b_ml": 0.10, "c_mol_per_l": 0.1, "m_g": 10},
        0.56106,
        1e-4,
        "K",
        "uncertainties 3.2.3",
        "value with 56.106 for our 56.1",
        "library",
    ),
    Case(
        "A26 as demand",
        base_demand_from_acid_value_mol_per_kg,
        {"acid_value_mg_koh_per_g": 1.0},
        0.5 / 28.2,
        2e-4,
        "R",
        "Freedman, Pryde and Mounts (1984), as quoted",
        "acid value below about 1, free acid below 0.5 %",
        "secondary copy",
    ),
    Case(
        "spread",
        spread_pct,
        {"readings": [2.4, 2.5, 2.4]},
        100 * 0.1 / (7.3 / 3),
        1e-9,
        "F",
        "range over mean",
        "by hand",
        "derived",
    ),
]


@each(CASES)
def test_acidity(case: Case) -> None:
    case.check()
