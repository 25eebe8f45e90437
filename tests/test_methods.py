"""The methods page: every figure of the tables has an entry, every entry its functions, every function its docstring read."""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path

import pytest

from generator import tables
from generator.data import rows
from generator.methods import Check, NotADocstring, described, methods, name_of, public_formulas
from generator.pages.methods import held_by

PACKAGE = Path(tables.__file__).parent
# Entries no column of a table points to: they stand behind the weigh sheet.
WITHOUT_COLUMN = {"pre-treatment"}
# Formulas no page shows a figure of; each is held by its own tests and waits for its place.
WITHOUT_ENTRY = {
    "breakthrough.break_time_h",
    "breakthrough.critical_depth_m",
    "breakthrough.depth_service_time_h",
    "breakthrough.gain_of_two",
    "breakthrough.load_at_content_g",
    "breakthrough.unused_length",
    "columns.interstitial_velocity_m_per_h",
    "columns.void_share",
    "profile.double_bonds",
    "profile.iodine_value_g_per_100_g",
    "profile.saponification_value_mg_koh_per_g",
    "soap.soap_for_acid_value_mg_per_kg",
}


def pointed_to() -> set[str]:
    """The entries that columns name."""
    declared = [table for table in vars(tables).values() if isinstance(table, tables.Table)]
    return {column.method for table in declared for column in table.columns if column.method}


def test_every_method_of_a_column_has_an_entry() -> None:
    assert pointed_to() - set(rows("methods")) == set()


def test_every_entry_is_pointed_to_or_known_to_stand_alone() -> None:
    assert set(rows("methods")) - pointed_to() == WITHOUT_COLUMN - pointed_to()


def test_an_entry_has_a_title_a_text_and_functions_and_nothing_else() -> None:
    for name, row in rows("methods").items():
        assert {"title", "text"} <= set(row) <= {"title", "text", "functions"}, name
        assert row["text"].endswith("."), name
        assert re.fullmatch(r"[a-z]+(-[a-z]+)*", name)


def test_every_formula_stands_in_one_entry() -> None:
    listed = [name for row in rows("methods").values() for name in row.get("functions", ())]
    assert len(listed) == len(set(listed))
    every = {name_of(formula) for formula in public_formulas()}
    assert set(listed) == every - WITHOUT_ENTRY, "name it in data/methods.yaml, in the entry of its figure"
    assert every >= WITHOUT_ENTRY


def test_a_formula_without_an_entry_makes_no_figure_of_the_site() -> None:
    """What is called outside `formulas/` makes a figure."""
    texts = {
        path: path.read_text(encoding="utf-8")
        for path in PACKAGE.rglob("*.py")
        if path.parent.name != "formulas"
    }
    for name in WITHOUT_ENTRY:
        word = re.compile(rf"\b{name.partition('.')[2]}\b")
        assert [path.name for path, text in texts.items() if word.search(text)] == []


def test_entries_carry_what_the_docstrings_say_and_the_checks() -> None:
    found = {each.name: each for entry in methods() for each in entry.functions}
    soap = found["soap.soap_mg_per_kg"]
    assert soap.formulas == ("w = (S - B) * c * F * 1000 / m",)
    assert [(one.name, one.unit) for one in soap.symbols][:2] == [("w", "mg/kg"), ("S", "mL")]
    assert soap.confidence == "formula from memory"
    assert sum(check.count for check in soap.checks) > 0


def documented(text: str) -> Callable[..., float]:
    def function(x: float) -> float:
        return 2 * x

    function.__doc__ = text
    return function


GOOD = """Twice.

One free line
and another.

Formula: y = 2 * x
Where:
    y: the double, kg
    x (f(x, "a) b: c")): the single, of
        its kind, kg
Range: any,
    really.
Source: a sum; another: here; derived.
"""


def test_a_docstring_is_read() -> None:
    found = described(documented(GOOD))
    assert (found.summary, found.text) == ("Twice.", "One free line and another.")
    assert found.formulas == ("y = 2 * x",)
    assert [(one.name, one.meaning, one.unit, one.bound) for one in found.symbols] == [
        ("y", "the double", "kg", ""),
        ("x", "the single, of its kind", "kg", 'f(x, "a) b: c")'),
    ]
    assert (found.range, found.source, found.confidence) == (
        "any, really.",
        "a sum; another: here",
        "derived",
    )


@pytest.mark.parametrize(
    ("part", "instead"),
    [
        ("Formula: y = 2 * x\n", ""),
        ("Where:\n", ""),
        ("Formula: y = 2 * x\n", "Formula: y = 2 * x\nUnits: kg\n"),
        ("Range: any,\n    really.\n", ""),
        ("Source: a sum; another: here; derived.\n", ""),
        ("Range: any,\n", "Range: any.\nRange: any,\n"),
        ("y: the double, kg", "y: the double"),
        ("y: the double, kg", "y the double, kg"),
        ("y: the double, kg", ": the double, kg"),
        ('"a) b: c")):', '"a) b: c"):'),
    ],
)
def test_a_docstring_that_says_too_little_is_refused(part: str, instead: str) -> None:
    assert part in GOOD
    with pytest.raises(NotADocstring):
        described(documented(GOOD.replace(part, instead, 1)))


def test_what_holds_a_figure_is_told_by_how_sure_it_is() -> None:
    checks = [Check("a", "b", "derived", 3), Check("c", "d", "published", 1), Check("e", "f", "derived", 1)]
    assert held_by(checks) == "Held by 5 checks: 1 published, 4 derived"
    assert held_by(checks[1:2]) == "Held by 1 check: 1 published"
    assert "no check" in held_by([])
