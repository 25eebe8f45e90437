"""The tables of the tool are read as the library reads them."""

from __future__ import annotations

from importlib import resources
from typing import Any

import pytest
from ruamel.yaml import YAML

from generator.data import rows, text


def _tables(folder: Any, above: str = "") -> list[str]:
    found = []
    for child in folder.iterdir():
        if child.is_dir():
            found += _tables(child, f"{above}{child.name}/")
        elif child.name.endswith(".yaml"):
            found.append(f"{above}{child.name.removesuffix('.yaml')}")
    return sorted(found)


TABLES = _tables(resources.files("generator.data"))


def _with_types(value: Any) -> Any:
    """1 and 1.0 and True are equal and not alike."""
    if isinstance(value, dict):
        return [(_with_types(key), _with_types(inner)) for key, inner in value.items()]
    if isinstance(value, list):
        return [_with_types(inner) for inner in value]
    return type(value), value


@pytest.mark.parametrize("name", TABLES)
def test_a_table_is_what_the_library_reads(name: str) -> None:
    """library: ruamel.yaml, its safe reader."""
    assert _with_types(rows(name)) == _with_types(YAML(typ="safe").load(text(f"{name}.yaml")))


def test_there_are_tables() -> None:
    assert len(TABLES) > 40
