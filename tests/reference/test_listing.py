"""The listing of checks on the methods page is the one that the cases give."""

from __future__ import annotations

from generator.formulas.acidity import acid_value_mg_koh_per_g, base_demand_mol_per_kg
from generator.formulas.constants import molar_mass

from .case import Case
from .listing import COMMAND, LISTING, cases, held_by, known, text

OURS = ("a source", "a place", "derived")


def adapter(v_ml: float) -> float:
    return acid_value_mg_koh_per_g(base_demand_mol_per_kg(v_ml, 0, 0.1, 10)) * molar_mass("KOH") * 0


def test_the_listing_is_that_of_the_cases() -> None:
    stands = LISTING.read_text(encoding="utf-8")
    assert stands == text(), f"the cases have changed: run `{COMMAND}` and look at the difference"


def test_an_adapter_holds_the_formulas_it_calls() -> None:
    case = Case("x", adapter, {"v_ml": 1}, 0, 1e-9, "F", *OURS)
    wanted = {"acidity.acid_value_mg_koh_per_g", "acidity.base_demand_mol_per_kg", "constants.molar_mass"}
    assert held_by(case) == wanted
    assert held_by(case) == wanted, "what was asked before is asked again"


def test_every_case_is_counted_once_for_a_formula() -> None:
    listed = list(cases())
    assert len(listed) > 100
    assert len({id(case) for case in listed}) == len(listed)
    most = max(sum(row["count"] for row in held) for held in known().values())
    assert 0 < most <= len(listed)
