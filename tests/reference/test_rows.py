"""The data rows themselves: each names a source that exists and a word for how sure it is."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

import pytest

from generator.data import folder, rows
from generator.formulas.constants import default_density, molar_mass
from generator.properties import properties
from generator.records import FATTY_ACIDS
from generator.units import units

from .case import WORDS

SOURCED = ["substances", "oils", *folder("specs")]


def sourced(table: Any) -> Iterator[Mapping[str, Any]]:
    """Every group of keys, at any depth, that names a source."""
    if isinstance(table, Mapping):
        if "source" in table:
            yield table
        for inner in table.values():
            yield from sourced(inner)


@pytest.mark.parametrize("name", SOURCED)
def test_every_source_is_on_the_list_and_every_word_is_known(name: str) -> None:
    found = list(sourced(rows(name)))
    assert found
    for row in found:
        assert row["source"] in rows("sources"), row
        assert row["confidence"] in WORDS, row


@pytest.mark.parametrize("group", ["molar_masses", "fatty_acids", "densities", "energy"])
def test_no_substance_goes_without_source(group: str) -> None:
    for name, row in rows("substances")[group].items():
        assert {"source", "confidence"} <= set(row), name


def test_every_source_has_a_title_and_only_known_keys() -> None:
    for key, source in rows("sources").items():
        assert source["title"], key
        assert set(source) <= {"title", "place", "identifier"}, key


@pytest.mark.parametrize("oil", rows("oils"))
def test_profile_adds_up_to_a_hundred_of_known_acids(oil: str) -> None:
    profile = rows("oils")[oil]["profile"]
    assert sum(profile.values()) == pytest.approx(100, abs=1e-9)
    assert set(profile) <= set(FATTY_ACIDS)


def test_every_fatty_acid_of_the_grammar_has_a_molar_mass() -> None:
    """Longer chains weigh more, a double bond takes two hydrogen atoms off (2.016 g/mol)."""
    for acid in FATTY_ACIDS:
        assert 190 < molar_mass(acid) < 350
    assert molar_mass("18:0") - molar_mass("18:1") == pytest.approx(2.016, abs=0.001)
    assert molar_mass("22:0") - molar_mass("22:1") == pytest.approx(2.016, abs=0.002)


def test_every_catalyst_of_the_grammar_has_a_molar_mass() -> None:
    assert [round(molar_mass(name)) for name in ("KOH", "NaOH", "KOCH3", "NaOCH3")] == [56, 40, 70, 54]


@pytest.mark.parametrize("liquid", ["oil", "fuel", "methanol", "glycerol"])
def test_default_density_lies_in_its_band(liquid: str) -> None:
    row, line = rows("substances")["densities"][liquid], default_density(liquid)
    assert row["low"] <= line.kg_per_m3 <= row["high"]
    assert line.source and line.confidence in WORDS
    assert 0.5 < line.slope_kg_per_m3_k < 1.0


@pytest.mark.parametrize("name", properties())
def test_property_has_either_a_unit_or_words(name: str) -> None:
    row = properties()[name]
    assert bool(row.kinds) != bool(row.words)
    assert row.meaning.endswith(".")
    assert row.methods
    assert row.lowest < row.highest
    for kind in row.kinds:
        assert units(kind)


@pytest.mark.parametrize("table", folder("properties"))
def test_file_of_a_property_is_named_after_it(table: str) -> None:
    assert table == f"properties/{rows(table)['property'].replace(' ', '-')}"
